//! What is wrong with a lay: pieces over each other, over an edge, missing, or the wrong way.

use crate::outline::edges;
use crate::{Lay, Place};
use hangtrue_geometry::words::{Length, Words};
use hangtrue_geometry::{Point, Rect, words};

/// What reaches over another or over an edge by less than this is not told, mm: the polygons
/// are no finer.
const OVER: f64 = 0.05;
/// Between two lines at which an overlap is shown, mm.
const SHOWN_EVERY: f64 = 4.0;
/// How far a print may be off and still count as matched, mm.
const MATCHED: f64 = 0.5;

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Two parts lie over each other.
    Over {
        /// One.
        first: usize,
        /// The other.
        second: usize,
        /// How far at most along the cloth, mm.
        by: f64,
    },
    /// A part reaches over the edge of what may be laid on.
    Outside {
        /// The part.
        part: usize,
        /// How far, mm.
        by: f64,
    },
    /// A part has no place.
    Missing {
        /// The part.
        part: usize,
    },
    /// A part lies upside down on a cloth with one way up.
    WrongWay {
        /// The part.
        part: usize,
    },
    /// The print does not meet that of the first leg.
    Unmatched {
        /// The part.
        part: usize,
        /// How far along, mm.
        by: f64,
    },
}

/// All that is wrong with a lay.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Faults {
    /// What.
    pub all: Vec<Fault>,
    /// Lines along the cloth across every overlap, to show it by.
    pub shown: Vec<(Point, Point)>,
}

impl Faults {
    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Whether a part is named by one.
    pub fn names(&self, part: usize) -> bool {
        self.all.iter().any(|fault| fault.parts().contains(&Some(part)))
    }
}

impl Fault {
    fn parts(&self) -> [Option<usize>; 2] {
        match *self {
            Self::Over { first, second, .. } => [Some(first), Some(second)],
            Self::Outside { part, .. }
            | Self::Missing { part }
            | Self::WrongWay { part }
            | Self::Unmatched { part, .. } => [Some(part), None],
        }
    }

    /// What is wrong, and what to do.
    pub fn words(&self, lay: &Lay) -> Words {
        let name = |part: usize| lay.parts[part].name();
        match *self {
            Self::Over { first, second, by } => words![
                "The ",
                name(first),
                " lies over the ",
                name(second),
                ", by ",
                Length(by),
                " along the cloth: move one of them."
            ],
            Self::Outside { part, by } => words![
                "The ",
                name(part),
                " reaches ",
                Length(by),
                " over the edge: move it inside."
            ],
            Self::Missing { part } => words!["The ", name(part), " is not laid yet."],
            Self::WrongWay { part } => words![
                "The ",
                name(part),
                " lies upside down, and this cloth has one way up: turn it."
            ],
            Self::Unmatched { part, by } => words![
                "The print on the ",
                name(part),
                " is off by ",
                Length(by),
                " at the hem: move it along the cloth."
            ],
        }
    }
}

pub(crate) fn faults(lay: &Lay) -> Faults {
    let mut found = Faults::default();
    let corners: Vec<Option<Vec<Point>>> = (0..lay.parts.len()).map(|i| lay.corners(i)).collect();
    for (part, place) in lay.places.iter().enumerate() {
        match place {
            None => found.all.push(Fault::Missing { part }),
            Some(place) => found.all.extend(alone(lay, part, *place)),
        }
    }
    for second in 0..corners.len() {
        for first in 0..second {
            let (Some(a), Some(b)) = (&corners[first], &corners[second]) else { continue };
            let apart = |a: Option<Rect>, b: Option<Rect>| match (a, b) {
                (Some(a), Some(b)) => a.intersect(b).area() <= 0.0,
                _ => true,
            };
            if apart(lay.bounds(first), lay.bounds(second)) {
                continue;
            }
            let (by, shown) = overlap(a, b);
            if by > OVER {
                found.all.push(Fault::Over { first, second, by });
                found.shown.extend(shown);
            }
        }
    }
    unmatched(lay, &mut found);
    found
}

/// What is wrong with one part by itself.
fn alone(lay: &Lay, part: usize, place: Place) -> Vec<Fault> {
    let bed = &lay.bed;
    let size = lay.parts[part].shape(place.turned, place.on_fold).size;
    let mut found = Vec::new();
    // What lies on the fold lies exactly there.
    let below = if place.on_fold { place.y.abs() } else { bed.low - place.y };
    let by = [-place.x, below, place.y + size.y - bed.high].into_iter().fold(0.0, f64::max);
    if by > OVER {
        found.push(Fault::Outside { part, by });
    }
    if place.turned && !bed.may_turn {
        found.push(Fault::WrongWay { part });
    }
    found
}

fn unmatched(lay: &Lay, found: &mut Faults) {
    let Some(repeat) = lay.bed.repeat else { return };
    let marks = lay.laid().filter_map(|(part, shape, place)| Some((part, place.x + shape.mark?)));
    let marks: Vec<(usize, f64)> = marks.collect();
    let Some(&(_, first)) = marks.first() else { return };
    for (part, mark) in marks {
        let off = (mark - first).rem_euclid(repeat);
        let by = off.min(repeat - off);
        if by > MATCHED {
            found.all.push(Fault::Unmatched { part, by });
        }
    }
}

/// How far two polygons lie over each other along x at most, and lines across where they do.
///
/// Looked at on every level where a corner lies or two edges cross, and halfway between: the
/// overlap of two straight-edged shapes is widest at one of those.
fn overlap(a: &[Point], b: &[Point]) -> (f64, Vec<(Point, Point)>) {
    let range = |p: &[Point]| {
        p.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |r, p| (r.0.min(p.y), r.1.max(p.y)))
    };
    let ((a0, a1), (b0, b1)) = (range(a), range(b));
    let (low, high) = (a0.max(b0), a1.min(b1));
    if high <= low {
        return (0.0, Vec::new());
    }
    let mut levels: Vec<f64> = a.iter().chain(b).map(|p| p.y).collect();
    levels.extend(crossings(a, b));
    levels.retain(|y| (low..=high).contains(y));
    levels.extend([low, high]);
    levels.sort_by(f64::total_cmp);
    let halfway: Vec<f64> = levels.windows(2).map(|w| 0.5 * (w[0] + w[1])).collect();
    levels.extend(halfway);
    let mut most = 0.0f64;
    for &y in &levels {
        for (from, to) in shared(a, b, y) {
            most = most.max(to - from);
        }
    }
    let mut lines = Vec::new();
    if most > OVER {
        let count = ((high - low) / SHOWN_EVERY).floor() as usize + 1;
        for y in (0..=count).map(|i| low + (high - low) * (i as f64 + 0.5) / (count as f64 + 1.0)) {
            lines
                .extend(shared(a, b, y).map(|(from, to)| (Point::new(from, y), Point::new(to, y))));
        }
    }
    (most, lines)
}

/// The levels at which edges of the two cross.
fn crossings(a: &[Point], b: &[Point]) -> Vec<f64> {
    let mut found = Vec::new();
    for (p, q) in edges(a) {
        let reach = Rect::from_points(p, q);
        for (r, s) in edges(b) {
            let other = Rect::from_points(r, s);
            if other.x0 > reach.x1
                || other.x1 < reach.x0
                || other.y0 > reach.y1
                || other.y1 < reach.y0
            {
                continue;
            }
            let (d, e) = (q - p, s - r);
            let turn = d.cross(e);
            if turn.abs() < 1e-12 {
                continue;
            }
            let (t, u) = ((r - p).cross(e) / turn, (r - p).cross(d) / turn);
            if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u) {
                found.push(p.y + t * d.y);
            }
        }
    }
    found
}

/// Where both lie on one level, along x.
fn shared(a: &[Point], b: &[Point], y: f64) -> impl Iterator<Item = (f64, f64)> {
    let (first, second) = (spans_at(a, y), spans_at(b, y));
    first.into_iter().flat_map(move |s| {
        let second = second.clone();
        second.into_iter().filter_map(move |t| {
            let (from, to) = (s.0.max(t.0), s.1.min(t.1));
            (to > from).then_some((from, to))
        })
    })
}

/// Where a polygon lies on one level, along x.
fn spans_at(corners: &[Point], y: f64) -> Vec<(f64, f64)> {
    let mut met: Vec<f64> = edges(corners)
        .filter(|(a, b)| (a.y <= y) != (b.y <= y))
        .map(|(a, b)| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
        .collect();
    met.sort_by(f64::total_cmp);
    met.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Vec<Point> {
        [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
            .map(|(a, b)| Point::new(x + a, y + b))
            .to_vec()
    }

    #[test]
    fn overlaps_are_seen_in_every_position() {
        let one = square(0.0, 0.0, 100.0);
        for (other, by) in [
            (square(60.0, 30.0, 100.0), 40.0),
            (square(20.0, 20.0, 10.0), 10.0),
            (square(99.0, 99.5, 50.0), 1.0),
            (square(0.0, 0.0, 100.0), 100.0),
            (square(100.0, 0.0, 100.0), 0.0),
            (square(0.0, 100.0, 100.0), 0.0),
            (square(300.0, 0.0, 100.0), 0.0),
        ] {
            let (found, lines) = overlap(&one, &other);
            assert!((found - by).abs() < 1e-9, "{found} for {by}");
            assert_eq!(lines.is_empty(), by == 0.0);
        }
        // A cross: no corner of either lies in the other.
        let flat = [(0.0, 40.0), (100.0, 40.0), (100.0, 60.0), (0.0, 60.0)].map(Point::from);
        let tall = [(45.0, 0.0), (55.0, 0.0), (55.0, 100.0), (45.0, 100.0)].map(Point::from);
        assert!((overlap(&flat, &tall).0 - 10.0).abs() < 1e-9);
    }
}
