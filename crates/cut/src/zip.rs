//! A zip in a side seam or the centre back: the shield behind it, its foot marked on both
//! edges, and where it is asked for a wide allowance as far as the seam is open.

use crate::beside::{Foot, beside};
use crate::closure::{Sizes, care, marked};
use crate::fly::shield;
use crate::grown::Growth;
use crate::making::Makings;
use crate::opened::Opened;
use crate::{CutError, names as made};
use hangtrue_adjust::Document;
use hangtrue_pattern::{Leg, Pattern, PatternError, words};

/// Adds the pieces and marks of a zip: the seam, the pieces it opens, the leg if it is of
/// one, and the sizes. The shield lies behind the first piece.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
    (seam, pieces, leg, sizes): (&'static str, &[&str], Option<Leg>, &Sizes),
) -> Result<(), CutError> {
    let first = pattern.piece(pieces[0])?;
    makings.pieces.push(shield(first, seam, made::ZIP_SHIELD, (sizes, document))?);
    for name in pieces {
        if document.cutting.opening.cut_on && makings.is_hung(name) {
            return Err(CutError::Piece {
                piece: "wide allowance for the zip".to_owned(),
                why: format!("the yoke’s seam of the {name} would cross it; choose it separate"),
            });
        }
        if document.cutting.opening.cut_on {
            let piece = pattern.piece(name)?;
            widened(makings, name, (seam, &Opened::of(piece, seam)?), sizes)?;
            let serves_both = piece.leg().is_none();
            if let (Some(leg), true, Some(making)) = (leg, serves_both, makings.named(name)) {
                let words = "wide allowance for the zip: only on the ";
                making.hints.push(words![words, leg.word(), " leg; cut it off on the other"]);
            }
        }
        marked(makings, name, seam, "zip", sizes.length);
    }
    makings.notes.push(care());
    Ok(())
}

/// The allowance of a piece made wide as far as its seam is open.
fn widened(
    makings: &mut Makings,
    name: &str,
    (seam, opened): (&'static str, &Opened),
    sizes: &Sizes,
) -> Result<(), CutError> {
    let edge = beside(&opened.seam, -opened.inside * sizes.width, sizes.reach(), Foot::Slanted);
    let edge = edge.map_err(|source| PatternError::Geometry {
        what: format!("drawing the allowance of the zip on the {name}"),
        source,
    })?;
    if let Some(making) = makings.named(name) {
        let runs = sizes.reach() - sizes.width;
        making.growths.push(Growth { seam, edge, width: sizes.width, runs });
    }
    Ok(())
}
