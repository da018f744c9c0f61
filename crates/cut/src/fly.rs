//! A fly at the centre front: the facing behind the edge that lies on top, cut separately or
//! in one with the front; the shield behind the zip, on the edge that lies below; the line
//! of topstitching that holds the facing. The shapes are common practice, no published
//! source.

use crate::beside::{Foot, beside};
use crate::closure::{Sizes, care, marked};
use crate::grown::Growth;
use crate::making::{Making, Makings, Wide};
use crate::opened::Opened;
use crate::{CutError, Quantity, names as made};
use hangtrue_adjust::Document;
use hangtrue_geometry::units::round_in;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Chain, GeometryError};
use hangtrue_pattern::{End, InnerLine, Leg, Pattern, PatternError, Piece, Seam, names, words};

/// The topstitching runs so far inside the facing's edge, in round numbers of mm and of
/// inches. Common practice, no published source.
const INSIDE_EDGE: (f64, f64) = (5.0, 1.0 / 4.0);

/// A facing is cut in one with its front only where the centre front leaves the straight by
/// no more than this, mm: it is folded there, and a curve cannot be folded.
pub(crate) const STRAIGHT: f64 = 2.0;

/// Adds the pieces and marks of a fly: which leg lies on top, the fronts of that leg and of
/// the other, where the first is opened, and the sizes.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
    (over, fronts, on_top, sizes): (Leg, [&str; 2], &Opened, &Sizes),
) -> Result<(), CutError> {
    let front = pattern.piece(fronts[0])?;
    let both = fronts[0] == fronts[1];
    if document.cutting.opening.cut_on {
        cut_on(makings, front, (over, both), (on_top, sizes))?;
    } else {
        let made = facing(front, (over, both), (on_top, sizes), document)?;
        makings.pieces.push(made);
    }
    let under = pattern.piece(fronts[1])?;
    let shield = shield(under, names::CROTCH, made::FLY_SHIELD, (sizes, document))?;
    makings.pieces.push(shield);
    for name in if both { &fronts[..1] } else { &fronts[..] } {
        marked(makings, name, names::CROTCH, "fly", sizes.length);
    }
    topstitched(makings, front, (over, both), (on_top, sizes, document))?;
    makings.notes.push(care());
    Ok(())
}

fn wrong(what: &str) -> impl Fn(GeometryError) -> CutError {
    let what = format!("drawing the {what}");
    move |source| PatternError::Geometry { what: what.clone(), source }.into()
}

/// The facing: the part of the front beside its centre, as it lies when it is turned in.
fn facing(
    front: &Piece,
    (over, both): (Leg, bool),
    (opened, sizes): (&Opened, &Sizes),
    document: &Document,
) -> Result<Making, CutError> {
    let wrong = wrong(made::FLY_FACING);
    let reach = sizes.reach();
    let away = opened.inside * sizes.width;
    let line = beside(&opened.seam, away, reach, Foot::Round).map_err(&wrong)?;
    let met = line.crossings(&opened.waist).into_iter().next();
    let met = met.ok_or_else(|| CutError::Piece {
        piece: made::FLY_FACING.to_owned(),
        why: "its edge does not meet the waist; make it narrower".to_owned(),
    })?;
    let top = opened.waist.part(0.0, met.there).map_err(&wrong)?.reversed();
    let centre = opened.seam.part(0.0, reach).map_err(&wrong)?;
    let free = line.part(met.here, line.length()).map_err(&wrong)?.reversed();
    let free = free.with_ends(centre.end(), top.start());
    let seams = vec![
        Seam::plain(names::WAIST, "waist inside", top),
        Seam::plain(made::CENTRE, names::WAIST_CENTRE, centre),
        Seam::plain(made::FREE_EDGE, "foot", free),
    ];
    // Beside the edge, so that there is room for the words.
    let grain = opened.grain(front, 0.2 * away, sizes.length);
    let how = (Quantity::One, &document.cutting);
    let mut making = Making::made(made::FLY_FACING.to_owned(), seams, grain, how);
    // Right side up it is seen from inside the trousers. A front that serves both legs is
    // drawn for the right one, and the left one's is its mirror image.
    let is_mirrored = !both || over == Leg::Right;
    if is_mirrored {
        making.piece = making.piece.mirrored();
    }
    let wide = |seam: &str| Wide::AsSeam {
        piece: front.name.clone(),
        seam: seam.to_owned(),
        at: opened.waist_end,
    };
    making.wide(made::CENTRE, wide(names::CROTCH));
    making.wide(made::FREE_EDGE, Wide::Nothing);
    making.notch("fly", made::CENTRE, End::Start, sizes.length);
    making.hints.push(words!["for the ", over.word(), " leg, which lies on top"]);
    making.of = Some(front.name.clone());
    Ok(making)
}

/// A shield stands beyond the edge that lies below, behind the zip; it is sewn double.
pub(crate) fn shield(
    piece: &Piece,
    seam: &str,
    name: &str,
    (sizes, document): (&Sizes, &Document),
) -> Result<Making, CutError> {
    let wrong = wrong(name);
    let opened = Opened::of(piece, seam)?;
    let (reach, wide) = (sizes.reach(), sizes.width + sizes.wider);
    let away = -opened.inside * wide;
    let line = beside(&opened.seam, away, reach, Foot::Round).map_err(&wrong)?;
    // Above it the waist runs on straight.
    let corner = opened.corner();
    let run_on = Chain::line(corner, corner - opened.waist.start_direction() * (4.0 * wide));
    let met = line.crossings(&run_on).into_iter().next();
    let met = met.ok_or_else(|| CutError::Piece {
        piece: name.to_owned(),
        why: "its edge does not meet the waist; make it narrower".to_owned(),
    })?;
    let top = run_on.part(0.0, met.there).map_err(&wrong)?.reversed();
    let edge = opened.seam.part(0.0, reach).map_err(&wrong)?;
    let free = line.part(met.here, line.length()).map_err(&wrong)?.reversed();
    let free = free.with_ends(edge.end(), top.start());
    let seams = vec![
        Seam::plain(names::WAIST, "waist outside", top),
        Seam::plain(made::SEWN_EDGE, "waist at seam", edge),
        Seam::plain(made::FREE_EDGE, "foot", free),
    ];
    let grain = opened.grain(piece, 0.2 * away, sizes.length);
    let how = (Quantity::Pair, &document.cutting);
    let mut making = Making::made(name.to_owned(), seams, grain, how);
    let as_seam = |seam: &str| Wide::AsSeam {
        piece: piece.name.clone(),
        seam: seam.to_owned(),
        at: opened.waist_end,
    };
    making.wide(made::SEWN_EDGE, as_seam(seam));
    making.wide(made::FREE_EDGE, as_seam(names::INSEAM));
    let notch = if name == made::FLY_SHIELD { "fly" } else { "zip" };
    making.notch(notch, made::SEWN_EDGE, End::Start, sizes.length);
    making.hints.push(words!["outside and inside"]);
    making.of = Some(piece.name.clone());
    Ok(making)
}

/// The facing cut in one with the front: the front runs on beyond its centre.
fn cut_on(
    makings: &mut Makings,
    front: &Piece,
    (over, both): (Leg, bool),
    (opened, sizes): (&Opened, &Sizes),
) -> Result<(), CutError> {
    let bow = opened.bow(sizes.length);
    if bow > STRAIGHT {
        return Err(CutError::BowedFold { bow: Length(bow), most: Length(STRAIGHT) });
    }
    let wrong = wrong(made::FLY_FACING);
    let away = -opened.inside * sizes.width;
    let edge = beside(&opened.seam, away, sizes.reach(), Foot::Round).map_err(&wrong)?;
    let Some(making) = makings.named(&front.name) else { return Ok(()) };
    making.growths.push(Growth {
        seam: names::CROTCH,
        edge,
        width: sizes.width,
        runs: sizes.reach() - sizes.width,
    });
    let chain = opened.seam.part(0.0, sizes.reach()).map_err(&wrong)?;
    making.folds.push(InnerLine { name: "fly fold".to_owned(), chain });
    if both {
        making.hints.push(words![
            "fly facing cut on: for the ",
            over.word(),
            " leg; on the ",
            over.other().word(),
            " leg cut it off at the allowance of the crotch seam"
        ]);
    }
    Ok(())
}

/// The line of topstitching on the leg that lies on top.
fn topstitched(
    makings: &mut Makings,
    front: &Piece,
    (over, both): (Leg, bool),
    (opened, sizes, document): (&Opened, &Sizes, &Document),
) -> Result<(), CutError> {
    let wrong = wrong("topstitching");
    let (mm, inches) = INSIDE_EDGE;
    let inside = round_in(document.unit, (mm, inches));
    let away = opened.inside * (sizes.width - inside);
    let line = beside(&opened.seam, away, sizes.length, Foot::Round).map_err(&wrong)?;
    let from = line.crossings(&opened.waist).first().map_or(0.0, |met| met.here);
    let chain = line.part(from, line.length()).map_err(&wrong)?;
    let Some(making) = makings.named(&front.name) else { return Ok(()) };
    let name =
        if both { format!("topstitching, {} leg", over.word()) } else { "topstitching".to_owned() };
    making.piece.inner.push(InnerLine { name, chain });
    Ok(())
}
