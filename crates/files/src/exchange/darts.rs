//! Darts read back: two straight legs from the outline to a point inside.

use super::loops::MEET;
use hangtrue_geometry::{Chain, PathSeg, Point};
use hangtrue_pattern::{Dart, Fold, Seam};

/// Legs that differ by more are no dart, mm: a piece is checked to the same.
const LEG_TOLERANCE: f64 = 0.05;

/// Two legs: mouth, point, mouth.
pub(crate) fn legs_of(chain: &Chain) -> Option<(Point, Point, Point)> {
    match chain.segments() {
        [PathSeg::Line(a), PathSeg::Line(b)] => Some((a.p0, a.p1, b.p1)),
        _ => None,
    }
}

/// Cuts the dart into the seam both of its legs end on. The stretch of the edge
/// between the legs is the cap, which is drawn anew.
pub(crate) fn set_dart(seams: &mut [Seam], legs: &Chain, name: &str) -> bool {
    let Some((a, apex, b)) = legs_of(legs) else { return false };
    if (a.distance(apex) - b.distance(apex)).abs() > LEG_TOLERANCE {
        return false;
    }
    seams.iter_mut().any(|seam| cut_in(seam, a, b, apex, name).is_some())
}

fn cut_in(seam: &mut Seam, a: Point, b: Point, apex: Point, name: &str) -> Option<()> {
    let on = |p: Point| {
        let (place, distance) = seam.nearest(p);
        (distance <= 5.0 * MEET).then_some((place.part, place.within))
    };
    let (mut first, mut second) = (on(a)?, on(b)?);
    if first > second {
        std::mem::swap(&mut first, &mut second);
    }
    if first.0 != second.0 {
        return None;
    }
    let part = &seam.parts[first.0];
    let before = part.part(0.0, first.1).ok()?;
    let after = part.part(second.1, part.length()).ok()?;
    let dart = Dart { name: name.to_owned(), apex, fold: Fold::ToEnd };
    seam.parts.splice(first.0..=first.0, [before, after]);
    seam.darts.insert(first.0, dart);
    Some(())
}
