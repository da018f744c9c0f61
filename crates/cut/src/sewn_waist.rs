//! The waist of a piece as it is sewn: its darts closed by rigid moves.

use crate::CutError;
use hangtrue_geometry::{Affine, Chain, Line};
use hangtrue_pattern::{PatternError, Piece, Seam, names};

/// The waist of one piece with its darts closed, from the side to the centre, in the place
/// where the part at the side lies flat. Mm.
#[derive(Debug, Clone)]
pub struct SewnEdge {
    /// The edge.
    pub edge: Chain,
    /// The closed darts: name and distance from the side.
    pub darts: Vec<(String, f64)>,
    /// The side seam from the waist down, where it lies flat.
    pub side: Chain,
    /// The centre seam from the waist down, where it lies with the darts closed.
    pub centre: Chain,
    /// The waist runs from side to centre round the outline.
    pub from_side: bool,
    /// The move that brought the centre from where it lies flat to where it lies here.
    pub at_centre: Affine,
}

impl SewnEdge {
    /// Its length, mm.
    pub fn length(&self) -> f64 {
        self.edge.length()
    }
}

/// The sewn waist of a piece.
///
/// # Errors
/// [`CutError::Pattern`] for a piece without a waist seam, and what geometry refuses.
pub fn sewn_edge(piece: &Piece) -> Result<SewnEdge, CutError> {
    let index = piece.seam_index(names::WAIST)?;
    let waist = &piece.seams[index];
    let count = piece.seams.len();
    let (before, after) =
        (&piece.seams[(index + count - 1) % count], &piece.seams[(index + 1) % count]);
    let from_side = waist.starts_at != names::WAIST_CENTRE;
    let what = || format!("closing the darts of the {}", piece.name);
    let geometry = |source| PatternError::Geometry { what: what(), source };
    let moves = waist.closing_moves();
    let last = moves[moves.len() - 1];
    // Held at the side, at whichever end of the seam that is.
    let hold = if from_side { Affine::IDENTITY } else { last.inverse() };
    let mut edge: Option<Chain> = None;
    for (part, closing) in waist.parts.iter().zip(&moves) {
        let part = part.moved(hold * *closing);
        edge = Some(match edge {
            None => part,
            // Legs are equal only to a tolerance.
            Some(sewn) => {
                let part = part.with_ends(sewn.end(), part.end());
                sewn.then(&part).map_err(geometry)?
            }
        });
    }
    let edge = edge.ok_or_else(|| no_parts(piece))?;
    let darts = dart_places(waist);
    let whole = waist.sewn_length();
    let down = |seam: &Seam, from_end: bool| -> Result<Chain, CutError> {
        let edge = seam.edge().map_err(geometry)?;
        Ok(if from_end { edge.reversed() } else { edge })
    };
    Ok(if from_side {
        SewnEdge {
            edge,
            darts,
            side: down(before, true)?,
            centre: down(after, false)?.moved(last),
            from_side,
            at_centre: last,
        }
    } else {
        SewnEdge {
            edge: edge.reversed(),
            darts: darts.into_iter().rev().map(|(name, at)| (name, whole - at)).collect(),
            side: down(after, false)?,
            centre: down(before, true)?.moved(hold),
            from_side,
            at_centre: hold,
        }
    })
}

fn no_parts(piece: &Piece) -> CutError {
    CutError::Piece { piece: piece.name.clone(), why: "its waist has no part that is sewn".into() }
}

/// The darts of a seam: name and sewn distance from its start.
fn dart_places(seam: &Seam) -> Vec<(String, f64)> {
    let mut at = 0.0;
    let closed = seam.darts.iter().zip(&seam.parts).map(|(dart, part)| {
        at += part.length();
        (dart.name.clone(), at)
    });
    closed.collect()
}

/// A dart of the waist as it lies sewn, where the part at the side lies flat. Mm.
pub(crate) struct ClosedDart {
    /// Sewn distance from the side.
    pub from_side: f64,
    /// From the waist to the dart's point.
    pub fold: Line,
    /// The move that brought what lies beyond it, seen from the side, to where it is sewn.
    pub beyond: Affine,
}

/// The darts of a piece's waist from the side on.
///
/// # Errors
/// [`CutError::Pattern`] for a piece without a waist seam.
pub(crate) fn closed_darts(piece: &Piece) -> Result<Vec<ClosedDart>, CutError> {
    let waist = piece.seam(names::WAIST)?;
    let from_side = waist.starts_at != names::WAIST_CENTRE;
    let moves = waist.closing_moves();
    let hold = if from_side { Affine::IDENTITY } else { moves[moves.len() - 1].inverse() };
    let whole = waist.sewn_length();
    let places = dart_places(waist);
    let closed = waist.darts.iter().enumerate().map(|(index, dart)| {
        let (near, far, mouth, at) = if from_side {
            (index, index + 1, waist.parts[index].end(), places[index].1)
        } else {
            (index + 1, index, waist.parts[index + 1].start(), whole - places[index].1)
        };
        let laid = hold * moves[near];
        ClosedDart {
            from_side: at,
            fold: Line::new(laid * mouth, laid * dart.apex),
            beyond: hold * moves[far],
        }
    });
    let mut closed: Vec<ClosedDart> = closed.collect();
    closed.sort_by(|a, b| a.from_side.total_cmp(&b.from_side));
    Ok(closed)
}
