//! Ends of seams moved, and the seams beside them that follow.

use super::super::shape::ends_moved;
use crate::ChangeError;
use hangtrue_geometry::{Chain, Vec2, bracketed_root};
use hangtrue_pattern::names::{CROTCH, HEM, INSEAM, SIDE, WAIST};
use hangtrue_pattern::{End, Piece};

/// The chain with its first knot moved, and that knot's handle with it.
pub(super) fn first_knot_moved(chain: &Chain, by: Vec2) -> Result<Chain, ChangeError> {
    let what = || ChangeError::geometry("moving the end of a seam");
    let (first, rest) = chain.segments().split_at(1);
    let first = Chain::new(first.to_vec()).map_err(what())?;
    let moved = ends_moved(&first, by, Vec2::ZERO)?;
    if rest.is_empty() {
        return Ok(moved);
    }
    moved.then(&Chain::new(rest.to_vec()).map_err(what())?).map_err(what())
}

pub(super) fn last_knot_moved(chain: &Chain, by: Vec2) -> Result<Chain, ChangeError> {
    Ok(first_knot_moved(&chain.reversed(), by)?.reversed())
}

/// Slides one end of a seam along its own direction until the seam has the sewn
/// length; the edge beside it follows.
pub(crate) fn slide_end(
    piece: &mut Piece,
    name: &str,
    end: End,
    wanted: f64,
) -> Result<(), ChangeError> {
    let seam = piece.seam(name)?;
    let missing = wanted - seam.sewn_length();
    if missing.abs() < 1e-9 {
        return Ok(());
    }
    let index = if end == End::Start { 0 } else { seam.parts.len() - 1 };
    let part = seam.parts[index].clone();
    let slid = |by: f64| match end {
        End::Start => first_knot_moved(&part, -part.start_direction() * by),
        End::End => last_knot_moved(&part, part.end_direction() * by),
    };
    let target = part.length() + missing;
    let miss = |by: f64| slid(by).map_or(f64::NAN, |c| c.length() - target);
    let (a, b) = (missing * 0.3, missing * 3.0);
    let what = || ChangeError::geometry(format!("bringing the {name} to its length"));
    let brought = match bracketed_root(miss, a.min(b), a.max(b), 1e-12) {
        Ok(by) => slid(by)?,
        // Where the knots lie close, as on a child, sliding the last one does not take so much
        // off: the seam is then cut where it runs.
        Err(_) if missing < 0.0 && target > 0.0 => match end {
            End::Start => part.part(-missing, part.length()),
            End::End => part.part(0.0, target),
        }
        .map_err(what())?,
        Err(why) => return Err(what()(why)),
    };
    piece.seam_mut(name)?.parts[index] = brought;
    tie(piece)
}

/// Lets waist, inseam and hem follow the corners that the side seam and the
/// crotch seam give: the waist and the inseam keep their directions, the hem is
/// drawn anew from corner to corner.
pub(crate) fn tie(piece: &mut Piece) -> Result<(), ChangeError> {
    let (hem_side, waist_side) = (piece.seam(SIDE)?.start(), piece.seam(SIDE)?.end());
    let (centre, point) = (piece.seam(CROTCH)?.start(), piece.seam(CROTCH)?.end());
    let inseam = piece.seam_mut(INSEAM)?;
    let off = point - inseam.start();
    if off != Vec2::ZERO {
        inseam.parts[0] = first_knot_moved(&inseam.parts[0], off)?;
    }
    let hem_inseam = inseam.end();
    let waist = piece.seam_mut(WAIST)?;
    let off = waist_side - waist.start();
    if off != Vec2::ZERO {
        waist.parts[0] = ends_moved(&waist.parts[0], off, Vec2::ZERO)?;
    }
    let last = waist.parts.len() - 1;
    let off = centre - waist.end();
    if off != Vec2::ZERO {
        waist.parts[last] = ends_moved(&waist.parts[last], Vec2::ZERO, off)?;
    }
    let hem = piece.seam_mut(HEM)?;
    let last = hem.parts.len() - 1;
    if last == 0 {
        hem.parts[0] = hem.parts[0].with_ends(hem_inseam, hem_side);
    } else {
        let (a, b) = (hem.parts[0].end(), hem.parts[last].start());
        hem.parts[0] = hem.parts[0].with_ends(hem_inseam, a);
        hem.parts[last] = hem.parts[last].with_ends(b, hem_side);
    }
    Ok(())
}
