//! Whether a pattern is drawn as it once was: what a project came to when it was saved,
//! beside what it comes to now.

use hangtrue_geometry::{Chain, Point};
use hangtrue_pattern::words::{Length, Words};
use hangtrue_pattern::{Pattern, Piece, Seam, words};

/// Lines nearer than this are the same, mm: what other machines round otherwise is far less.
pub const DRAWN_ALIKE: f64 = 0.01;

/// Where a pattern is drawn most otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnOtherwise {
    /// The piece.
    pub piece: String,
    /// Its seam, or notch; none where the piece itself is not there any more, or was not.
    pub seam: Option<String>,
    /// No line of it lies further off than this, mm; none where it is made of other parts.
    pub apart: Option<f64>,
}

impl DrawnOtherwise {
    /// Where, and how far.
    pub fn words(&self) -> Words {
        match (&self.seam, self.apart) {
            (Some(seam), Some(apart)) => {
                words![format!("{} of the {}, by up to ", seam, self.piece), Length(apart)]
            }
            (Some(seam), None) => {
                words![format!("{} of the {}, which is put together otherwise", seam, self.piece)]
            }
            (None, _) => words![format!("{}, which only one of the two has", self.piece)],
        }
    }

    /// The worse first: what cannot be compared, then what lies furthest off.
    fn weight(&self) -> f64 {
        self.apart.unwrap_or(f64::INFINITY)
    }
}

/// Where a pattern is drawn most otherwise than it was; none where it is drawn alike.
pub fn drawn_otherwise(then: &Pattern, now: &Pattern) -> Option<DrawnOtherwise> {
    let gone = |piece: &str| DrawnOtherwise { piece: piece.to_owned(), seam: None, apart: None };
    let has = |pattern: &Pattern, name: &str| pattern.pieces.iter().any(|p| p.name == name);
    let mut found: Vec<DrawnOtherwise> =
        now.pieces.iter().filter(|p| !has(then, &p.name)).map(|p| gone(&p.name)).collect();
    for before in &then.pieces {
        match now.pieces.iter().find(|p| p.name == before.name) {
            None => found.push(gone(&before.name)),
            Some(after) => {
                found.extend(seams_otherwise(before, after));
                found.extend(notches_otherwise(before, after));
            }
        }
    }
    found.into_iter().max_by(|a, b| a.weight().total_cmp(&b.weight()))
}

fn seams_otherwise(before: &Piece, after: &Piece) -> Vec<DrawnOtherwise> {
    let named = |piece: &'_ Piece, name: &str| piece.seams.iter().find(|s| s.name == name).cloned();
    let names = before.seams.iter().map(|s| s.name.clone());
    let new = after.seams.iter().map(|s| s.name.clone()).filter(|n| named(before, n).is_none());
    let mut found = Vec::new();
    for name in names.chain(new) {
        let apart = match (named(before, &name), named(after, &name)) {
            (Some(before), Some(after)) => seam_apart(&before, &after),
            _ => None,
        };
        if apart.is_none_or(|mm| mm > DRAWN_ALIKE) {
            found.push(DrawnOtherwise { piece: before.name.clone(), seam: Some(name), apart });
        }
    }
    found
}

/// Notches that lie elsewhere, or are on one of the two alone.
fn notches_otherwise(before: &Piece, after: &Piece) -> Vec<DrawnOtherwise> {
    let at = |piece: &Piece, name: &str, seam: &str| -> Option<Point> {
        let notch = piece.notches.iter().find(|n| n.name == name && n.seam == seam)?;
        Some(piece.seam(seam).ok()?.place(notch.from, notch.distance).point)
    };
    let mut found: Vec<DrawnOtherwise> = Vec::new();
    for notch in before.notches.iter().chain(&after.notches) {
        let places = at(before, &notch.name, &notch.seam).zip(at(after, &notch.name, &notch.seam));
        let apart = places.map(|(before, after)| before.distance(after));
        let what = format!("notch “{}” at the {}", notch.name, notch.seam);
        let is_told = found.iter().any(|f| f.seam.as_ref() == Some(&what));
        if !is_told && apart.is_none_or(|mm| mm > DRAWN_ALIKE) {
            found.push(DrawnOtherwise { piece: before.name.clone(), seam: Some(what), apart });
        }
    }
    found
}

/// How far one seam lies from the other at the most, its darts' points with it, mm.
fn seam_apart(before: &Seam, after: &Seam) -> Option<f64> {
    if before.parts.len() != after.parts.len() || before.darts.len() != after.darts.len() {
        return None;
    }
    let mut most = 0.0_f64;
    for (before, after) in before.parts.iter().zip(&after.parts) {
        most = most.max(chain_apart(before, after)?);
    }
    let points = before.darts.iter().zip(&after.darts);
    Some(points.map(|(b, a)| b.apex.distance(a.apex)).fold(most, f64::max))
}

/// The most that two chains of as many segments lie apart, segment by segment: two cubic
/// Bézier curves are nowhere further apart than their control points are, since each place is
/// a mean of those with the same weights (from memory; every handbook of curves has it).
fn chain_apart(before: &Chain, after: &Chain) -> Option<f64> {
    let (before, after) = (before.segments(), after.segments());
    if before.len() != after.len() {
        return None;
    }
    let points = |segment: &hangtrue_geometry::PathSeg| -> [Point; 4] {
        let cubic = segment.to_cubic();
        [cubic.p0, cubic.p1, cubic.p2, cubic.p3]
    };
    let pairs = before.iter().zip(after).flat_map(|(b, a)| points(b).into_iter().zip(points(a)));
    Some(pairs.map(|(b, a)| b.distance(a)).fold(0.0, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_geometry::{Affine, Vec2};
    use hangtrue_pattern::names;

    #[test]
    fn what_is_drawn_alike_is_not_told_and_what_is_not_is_told_with_its_place() {
        let then = sample::pattern();
        assert_eq!(drawn_otherwise(&then, &then), None);
        let mut now = then.clone();
        let seam = &mut now.piece_mut(names::BACK).unwrap().seams[0];
        let name = seam.name.clone();
        seam.parts[0] = seam.parts[0].moved(Affine::translate(Vec2::new(0.6, 0.8)));
        let found = drawn_otherwise(&then, &now).unwrap();
        assert_eq!((found.piece.as_str(), found.seam.as_deref()), (names::BACK, Some(&*name)));
        assert!((found.apart.unwrap() - 1.0).abs() < 1e-9, "{found:?}");
        // A thousandth is another machine's rounding.
        let mut near = then.clone();
        let seam = &mut near.piece_mut(names::BACK).unwrap().seams[0];
        seam.parts[0] = seam.parts[0].moved(Affine::translate(Vec2::new(0.001, 0.0)));
        assert_eq!(drawn_otherwise(&then, &near), None);
    }

    #[test]
    fn a_notch_that_lies_elsewhere_is_told() {
        let mut then = sample::pattern();
        let (name, seam) = ("knee".to_owned(), names::SIDE.to_owned());
        let (from, kind) = (hangtrue_pattern::End::End, hangtrue_pattern::NotchKind::Single);
        let notch = hangtrue_pattern::Notch { name, seam, from, distance: 500.0, kind };
        then.piece_mut(names::BACK).unwrap().notches.push(notch);
        let mut now = then.clone();
        let moved = now.piece_mut(names::BACK).unwrap().notches.last_mut().unwrap();
        moved.distance += 9.0;
        let found = drawn_otherwise(&then, &now).unwrap();
        assert!((found.apart.unwrap() - 9.0).abs() < 0.5, "{found:?}");
        assert_eq!(found.seam.as_deref(), Some("notch “knee” at the side"));
    }

    #[test]
    fn what_cannot_be_compared_comes_first() {
        let then = sample::pattern();
        let mut now = then.clone();
        now.pieces.pop();
        let found = drawn_otherwise(&then, &now).unwrap();
        assert_eq!((found.seam, found.apart), (None, None));
        assert_eq!(drawn_otherwise(&now, &then).map(|f| f.piece), Some(found.piece));
    }
}
