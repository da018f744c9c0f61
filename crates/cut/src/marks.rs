//! What is cut into the edge and marked through the paper: notches where the shears are,
//! dart ends.

use crate::Allowance;
use hangtrue_geometry::units::{INCH, Unit};
use hangtrue_geometry::{Chain, Line, Point, Vec2};
use hangtrue_pattern::{Markings, Pattern, Piece, names};

/// A cut into the edge, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Snip {
    /// What it marks.
    pub name: String,
    /// Where it starts, on the cut line.
    pub at: Point,
    /// Its unit direction into the piece.
    pub inward: Vec2,
    /// The place on the sew line it marks.
    pub marks: Point,
}

impl Snip {
    /// The allowance it may be cut into, mm.
    pub fn room(&self) -> f64 {
        self.at.distance(self.marks)
    }
}

/// A place marked through to the cloth, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Drill {
    /// What it marks.
    pub name: String,
    /// The place.
    pub at: Point,
}

/// A dart's end is marked so far inside its point, so that the stitches cover the mark, in
/// round numbers of mm and of inches. Common practice, no published source.
pub const DRILL_INSIDE: (f64, f64) = (10.0, 3.0 / 8.0 * INCH);

/// The marks of dart ends.
pub(crate) fn drills(piece: &Piece, unit: Unit) -> Vec<Drill> {
    let inside = if unit.denominator().is_none() { DRILL_INSIDE.0 } else { DRILL_INSIDE.1 };
    hangtrue_pattern::markings::darts_of(piece)
        // A pleat is not sewn to its point.
        .filter(|dart| !names::is_pleat(dart.name))
        .map(|dart| {
            let along = dart.mouth() - dart.legs[1];
            let by = inside.min(along.hypot() / 2.0);
            Drill { name: dart.name.to_owned(), at: dart.legs[1] + along.normalize() * by }
        })
        .collect()
}

/// Every cut into the edge of a piece: its notches, both legs of each dart, and the hem's
/// fold at both edges beside it.
pub(crate) fn snips(piece: &Piece, cut: &Chain, allowance: &Allowance) -> Vec<Snip> {
    let nothing = Pattern::default();
    let markings = Markings::of(&nothing, piece, &[]);
    let mut found = Vec::new();
    for notch in &markings.notches {
        for (marks, inward) in &notch.strokes {
            let name = notch.name.to_owned();
            found.extend(outward(cut, *marks, -*inward).map(|at| Snip {
                name,
                at,
                inward: *inward,
                marks: *marks,
            }));
        }
    }
    for dart in &markings.darts {
        for leg in [dart.legs[0], dart.legs[2]] {
            let out = (leg - dart.legs[1]).normalize();
            let name = dart.name.to_owned();
            found.extend(outward(cut, leg, out).map(|at| Snip {
                name,
                at,
                inward: -out,
                marks: leg,
            }));
        }
    }
    for hem in piece.seams.iter().filter(|s| s.name == names::HEM) {
        if allowance.along(&piece.name, &hem.name).most() <= 0.0 {
            continue;
        }
        let ends = [(hem.start(), -hem.parts[0].start_direction()), {
            let last = &hem.parts[hem.parts.len() - 1];
            (last.end(), last.end_direction())
        }];
        for (corner, out) in ends {
            let name = "hem fold".to_owned();
            found.extend(outward(cut, corner, out).map(|at| Snip {
                name,
                at,
                inward: -out,
                marks: corner,
            }));
        }
    }
    found
}

/// Where a ray from the sew line meets the cut line; the place itself where they are one.
fn outward(cut: &Chain, from: Point, out: Vec2) -> Option<Point> {
    let met = cut.crossings_with_line(Line::new(from, from + out));
    let ahead = met.into_iter().filter(|c| c.there >= -1e-4);
    ahead.min_by(|a, b| a.there.total_cmp(&b.there)).map(|c| c.point)
}
