//! Front pockets: slant, jeans, and in the side seam.

use super::away::Away;
use super::bag::Bag;
use super::{for_each_leg, named, of_piece};
use crate::beside::{Foot, beside};
use crate::making::{Making, Makings, Wide};
use crate::opened::Opened;
use crate::waist::within;
use crate::{Cloth, CutError, Drill, Quantity, names as made};
use hangtrue_adjust::{Document, FrontPocket};
use hangtrue_geometry::units::round_in;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Chain, GeometryError, Point};
use hangtrue_pattern::{End, Grain, PatternError, Piece, Seam, names, words};

/// A facing reaches so far beyond the opening, and the bag is sewn into the side seam so far
/// below it, in round numbers of mm and of inches. Common practice, no published source.
const BEYOND: (f64, f64) = (40.0, 1.5);
/// An opening ends this far from a dart or from the bag's edge at the least, mm.
const CLEAR: f64 = 12.0;
/// What is left of the front's waist beside a bag, mm.
const WAIST_LEFT: f64 = 20.0;
/// The shortest opening along waist or side, mm.
const SHORTEST: f64 = 25.0;
/// The longest, mm.
const LONGEST: f64 = 260.0;

/// What is asked for of one front, mm.
struct Asked {
    along: f64,
    down: f64,
    beyond: f64,
    wide: f64,
    deep: f64,
}

/// Adds the pieces and marks of the pocket of one front.
pub(super) fn add(
    makings: &mut Makings,
    front: &Piece,
    document: &Document,
) -> Result<(), CutError> {
    let side = Opened::of(front, names::SIDE)?;
    let kind = document.cutting.pockets.front;
    let asked = asked(makings, (front, &side), (kind, document))?;
    match kind {
        FrontPocket::None => Ok(()),
        FrontPocket::SideSeam => in_side_seam(makings, front, &side, &asked),
        FrontPocket::Slant => cut_away(makings, front, &side, (&asked, false)),
        FrontPocket::Jeans => cut_away(makings, front, &side, (&asked, true)),
    }
}

fn asked(
    makings: &mut Makings,
    (front, side): (&Piece, &Opened),
    (kind, document): (FrontPocket, &Document),
) -> Result<Asked, CutError> {
    let (own, usual) = (document.cutting.pockets, kind.usual(document.unit));
    let beyond = round_in(document.unit, BEYOND);
    let (waist, seam) = (side.waist.length(), side.seam.length());
    let mut along = own.front_along.unwrap_or(usual.along);
    let down = own.front_down.unwrap_or(usual.down);
    let wide = usual.bag_wide.min(waist - WAIST_LEFT);
    if kind == FrontPocket::SideSeam {
        along = within("the way down to a pocket", along, (0.0, 0.3 * seam))?;
    } else {
        // The waist is cut through between the side seam and the first dart.
        let most = first_part(front, side)?.min(wide) - CLEAR;
        if own.front_along.is_none() && along > most {
            along = most;
            makings.notes.push(words![
                "The pocket opens ",
                Length(along),
                " from the side seam: farther in a dart or the edge of the bag is in its way."
            ]);
        }
        along = within("the opening of a pocket along the waist", along, (SHORTEST, most))?;
    }
    let most = LONGEST.min(0.5 * seam);
    let down = within("the opening of a pocket along the side", down, (SHORTEST, most))?;
    let ends = if kind == FrontPocket::SideSeam { along + down } else { down };
    Ok(Asked { along, down, beyond, wide, deep: usual.bag_deep.max(ends + 2.0 * beyond) })
}

/// How long the waist is from the side seam to its first dart, mm.
fn first_part(front: &Piece, side: &Opened) -> Result<f64, CutError> {
    let parts = &front.seam(names::WAIST)?.parts;
    let first = if side.waist_end == End::End { parts.first() } else { parts.last() };
    Ok(first.map_or(0.0, Chain::length))
}

fn wrong(front: &Piece) -> impl Fn(GeometryError) -> CutError {
    let what = format!("drawing the pocket of the {}", front.name);
    move |source| PatternError::Geometry { what: what.clone(), source }.into()
}

/// Slant and jeans: the front is cut away, and a facing and two bags are made.
fn cut_away(
    makings: &mut Makings,
    front: &Piece,
    side: &Opened,
    (asked, curved): (&Asked, bool),
) -> Result<(), CutError> {
    let wrong = wrong(front);
    let away = Away { along: asked.along, down: asked.down, curved };
    let opening = away.opening(side);
    let bag = Bag { wide: asked.wide, deep: asked.deep, sewn: asked.down + asked.beyond };
    let (own, over) = (for_each_leg(front), (asked.along, asked.down));
    let name = |name: &str| named(name, front);
    let mut facing = facing(front, side, (&away, asked)).map_err(&wrong)?;
    let seams = bag.without((front, side), &opening, over).map_err(&wrong)?;
    let grain = bag.grain(front, side);
    let mut upper = Making::of_cloth(name(made::POCKET_BAG), seams, grain, (own, Cloth::Pocketing));
    let seams = bag.whole(front, side).map_err(&wrong)?;
    let mut under =
        Making::of_cloth(name(made::POCKET_UNDER_BAG), seams, grain, (own, Cloth::Pocketing));
    upper.wide(made::POCKET_OPENING, as_side(front, side));
    for piece in [&mut facing, &mut under] {
        // The waist of a facing and of a bag runs from the side, the side seam from below.
        piece.notch("pocket", names::WAIST, End::Start, asked.along);
        piece.notch("pocket", names::SIDE, End::End, asked.down);
    }
    reshaped(makings, (front, side), &away.cut(front, side)?, &opening);
    marked_on_backs(makings, front, asked.down, "pocket");
    makings.pieces.extend([facing, upper, under].map(|made| of_piece(made, front)));
    Ok(())
}

/// The facing that shows in the opening: it reaches beyond it under the front.
fn facing(
    front: &Piece,
    side: &Opened,
    (away, asked): (&Away, &Asked),
) -> Result<Making, GeometryError> {
    let beyond = asked.beyond.min(asked.wide - asked.along);
    let far = away.farther(beyond);
    let free = far.opening(side);
    let waist = side.waist.part(0.0, far.along)?;
    let seams = vec![
        Seam::plain(names::WAIST, names::WAIST_SIDE, waist),
        Seam::plain(made::FREE_EDGE, "waist inside", free),
        Seam::plain(names::SIDE, "side below", side.seam.part(0.0, far.down)?.reversed()),
    ];
    let up = front.grain.direction();
    let at = side.corner() + (side.waist.point_at(far.along) - side.corner()) * 0.2;
    let grain = Grain { from: at - up * (0.45 * far.down), to: at - up * (0.1 * far.down) };
    let how = (for_each_leg(front), Cloth::Main);
    let mut making = Making::of_cloth(named(made::POCKET_FACING, front), seams, grain, how);
    making.wide(made::FREE_EDGE, Wide::Nothing);
    Ok(making)
}

/// The front cut away, with its opening marked, and without the joins that no longer go all
/// along.
fn reshaped(makings: &mut Makings, (front, side): (&Piece, &Opened), cut: &Piece, opening: &Chain) {
    let is_cut = |seam: &str| [names::SIDE, names::WAIST].contains(&seam);
    makings.joins.retain(|join| !join.sides().any(|s| s.piece == front.name && is_cut(&s.seam)));
    makings.cut_away.push(front.name.clone());
    let Some(making) = makings.named(&front.name) else { return };
    // What was marked on it for an opening at the centre stays.
    let marked = making.piece.notches.iter().filter(|n| !front.notches.contains(n)).cloned();
    let notches: Vec<_> = cut.notches.iter().cloned().chain(marked).collect();
    making.piece.seams.clone_from(&cut.seams);
    making.piece.notches = notches;
    making.wide(made::POCKET_OPENING, as_side(front, side));
    reinforced(making, [opening.start(), opening.end()]);
}

/// The opening goes on from the side seam almost straight, with the same allowance.
fn as_side(front: &Piece, side: &Opened) -> Wide {
    let (piece, seam) = (front.name.clone(), names::SIDE.to_owned());
    Wide::AsSeam { piece, seam, at: side.waist_end }
}

/// The ends of an opening are marked, to be sewn over.
fn reinforced(making: &mut Making, ends: [Point; 2]) {
    let mark = |at| Drill { name: "end of the pocket's opening".to_owned(), at };
    making.marks.extend(ends.map(mark));
}

/// The place where the pocket ends, on the side seam of the back of the same leg.
fn marked_on_backs(makings: &mut Makings, front: &Piece, down: f64, name: &str) {
    let leg = front.leg();
    for back in makings.backs_hung(leg) {
        makings.notch_on_hung(name, (&back, names::SIDE), down);
    }
    let backs = makings.pieces.iter_mut().filter(|making| {
        crate::widths::base_name(&making.piece) == names::BACK
            && making.piece.leg() == leg
            && making.piece.seam(names::WAIST).is_ok()
    });
    for back in backs {
        if let Ok(side) = Opened::of(&back.piece, names::SIDE) {
            back.notch(name, names::SIDE, side.waist_end, down);
        }
    }
}

/// A pocket in the side seam: nothing is cut away.
fn in_side_seam(
    makings: &mut Makings,
    front: &Piece,
    side: &Opened,
    asked: &Asked,
) -> Result<(), CutError> {
    let wrong = wrong(front);
    let ends = asked.along + asked.down;
    let sewn = ends + asked.beyond;
    let bag = Bag { wide: asked.wide, deep: asked.deep, sewn };
    // For the front's edge and for the back's.
    let doubled = if front.leg().is_some() { Quantity::Pair } else { Quantity::TwoPairs };
    let seams = bag.whole(front, side).map_err(&wrong)?;
    let grain = bag.grain(front, side);
    let how = (doubled, Cloth::Pocketing);
    let mut bag = Making::of_cloth(named(made::POCKET_BAG, front), seams, grain, how);
    let mut facing = strip(front, side, (asked.beyond, sewn, doubled)).map_err(&wrong)?;
    for piece in [&mut bag, &mut facing] {
        piece.notch("pocket begins", names::SIDE, End::End, asked.along);
        piece.notch("pocket ends", names::SIDE, End::End, ends);
    }
    for (name, at) in [("pocket begins", asked.along), ("pocket ends", ends)] {
        marked_on_backs(makings, front, at, name);
        if let Some(making) = makings.named(&front.name) {
            making.notch(name, names::SIDE, side.waist_end, at);
        }
    }
    if let Some(making) = makings.named(&front.name) {
        reinforced(making, [side.seam.point_at(asked.along), side.seam.point_at(ends)]);
    }
    makings.pieces.extend([facing, bag].map(|made| of_piece(made, front)));
    Ok(())
}

/// The strip that faces an opening in the side seam.
fn strip(
    front: &Piece,
    side: &Opened,
    (wide, sewn, quantity): (f64, f64, Quantity),
) -> Result<Making, GeometryError> {
    let line = beside(&side.seam, side.inside * wide, sewn, Foot::Slanted)?;
    let at = line.crossings(&side.waist).first().map_or((0.0, wide), |met| (met.here, met.there));
    let free = line.part(at.0, line.length())?;
    let waist = side.waist.part(0.0, at.1)?;
    let seams = vec![
        Seam::plain(names::WAIST, names::WAIST_SIDE, waist.with_ends(waist.start(), free.start())),
        Seam::plain(made::FREE_EDGE, "waist inside", free),
        Seam::plain(names::SIDE, "side below", side.seam.part(0.0, sewn)?.reversed()),
    ];
    let grain = side.grain(front, 0.2 * side.inside * wide, sewn);
    let name = named(made::POCKET_FACING, front);
    let mut making = Making::of_cloth(name, seams, grain, (quantity, Cloth::Main));
    making.wide(made::FREE_EDGE, Wide::Nothing);
    Ok(making)
}
