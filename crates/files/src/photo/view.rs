//! One photo laid on the common table.

use super::ground::{Ground, KnownPlaces};
use super::outline::{OnEdge, Stretch};
use hangtrue_geometry::{Affine, Point, Vec2, turn_about};
use std::collections::HashMap;

/// A photo: its camera, where its own table lies on the common one, and the
/// card's edge on the common table.
#[derive(Debug, Clone)]
pub(crate) struct CardPhoto {
    pub(crate) ground: Ground,
    pub(crate) laying: Laying,
    pub(crate) stretches: Vec<Stretch>,
    cells: HashMap<(i64, i64), Vec<Point>>,
}

/// How a photo with marks of its own was laid on the others by shared marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Laying {
    /// From its own table to the common one.
    pub(crate) to_table: Affine,
    /// Middle of the shared marks on the common table, mm.
    pub(crate) middle: Point,
    /// Standard deviation of the move, mm each way.
    pub(crate) shift: f64,
    /// Standard deviation of the turn, radians.
    pub(crate) turn: f64,
}

impl Laying {
    /// A photo that is on the common table already.
    pub(crate) const EXACT: Self =
        Self { to_table: Affine::IDENTITY, middle: Point::ORIGIN, shift: 0.0, turn: 0.0 };

    /// The rigid move that lays marks on the same marks of the common table best
    /// (least squares in closed form: the turn is that of the summed products of
    /// the two spreads). Also gives the greatest distance left, mm. None with
    /// fewer than two marks, or all in one place.
    pub(crate) fn by_marks(own: &KnownPlaces, common: &KnownPlaces) -> Option<(Self, f64)> {
        let pairs: Vec<(Point, Point, f64)> = own
            .iter()
            .filter_map(|(name, (p, s))| common.get(name).map(|(q, t)| (*p, *q, s.hypot(*t))))
            .collect();
        let n = pairs.len() as f64;
        if pairs.len() < 2 {
            return None;
        }
        let mean = |f: &dyn Fn(&(Point, Point, f64)) -> Point| {
            (pairs.iter().fold(Vec2::ZERO, |a, p| a + f(p).to_vec2()) / n).to_point()
        };
        let (from, to) = (mean(&|p| p.0), mean(&|p| p.1));
        let (mut dot, mut cross, mut spread) = (0.0, 0.0, 0.0);
        for (p, q, _) in &pairs {
            dot += (*p - from).dot(*q - to);
            cross += (*p - from).cross(*q - to);
            spread += (*q - to).hypot2();
        }
        if spread < 100.0 {
            return None;
        }
        let turn = cross.atan2(dot);
        let to_table = Affine::translate(to - from) * turn_about(from, turn);
        let left = pairs.iter().map(|(p, q, _)| (to_table * *p).distance(*q));
        let worst = left.fold(0.0, f64::max);
        let sigma = (pairs.iter().map(|p| p.2 * p.2).sum::<f64>() / n).sqrt();
        let laying =
            Self { to_table, middle: to, shift: sigma / n.sqrt(), turn: sigma / spread.sqrt() };
        Some((laying, worst))
    }

    fn error_at(&self, table: Point) -> f64 {
        self.shift.hypot(self.turn * table.distance(self.middle))
    }
}

const CELL: f64 = 8.0;

fn cell(p: Point) -> (i64, i64) {
    ((p.x / CELL).floor() as i64, (p.y / CELL).floor() as i64)
}

impl CardPhoto {
    /// A photo with its edge, which is given on its own table.
    pub(crate) fn new(ground: Ground, laying: Laying, own: Vec<Stretch>) -> Self {
        let turn = laying.to_table;
        let lay = |on: &OnEdge| OnEdge {
            seen: on.seen,
            at: turn * on.at,
            out: turn * on.out.to_point() - turn * Point::ORIGIN,
        };
        let stretches: Vec<Stretch> = own
            .into_iter()
            .map(|s| Stretch {
                places: s.places.iter().map(lay).collect(),
                closed: s.closed,
                sharp: s.sharp,
                corners: s.corners.map(|c| c.into_iter().map(|p| turn * p).collect()),
            })
            .collect();
        let mut cells: HashMap<(i64, i64), Vec<Point>> = HashMap::new();
        for place in stretches.iter().flat_map(|s| &s.places) {
            cells.entry(cell(place.at)).or_default().push(place.at);
        }
        Self { ground, laying, stretches, cells }
    }

    /// The error to expect of a place read at `seen`, standard deviation in mm.
    pub(crate) fn error_of(&self, seen: Point) -> f64 {
        let camera = &self.ground.camera;
        match (camera.mistake_at(seen, 0.1), camera.to_plane(seen)) {
            (Some(mistake), Some(at)) => {
                mistake.sigma().hypot(self.laying.error_at(self.laying.to_table * at))
            }
            _ => f64::INFINITY,
        }
    }

    /// Where a place of the common table is seen, at least `margin` pixels from
    /// the border.
    pub(crate) fn sees(&self, table: Point, margin: f64) -> Option<Point> {
        let camera = &self.ground.camera;
        let seen = camera.to_picture(self.laying.to_table.inverse() * table)?;
        let frame = camera.frame();
        let inside = seen.x >= margin
            && seen.y >= margin
            && seen.x <= frame.width - margin
            && seen.y <= frame.height - margin;
        inside.then_some(seen)
    }

    /// Whether the card's edge was found within `reach` mm (at most a cell).
    pub(crate) fn has_edge_near(&self, table: Point, reach: f64) -> bool {
        let (x, y) = cell(table);
        let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        around
            .filter_map(|c| self.cells.get(&c))
            .flatten()
            .any(|p| p.distance_squared(table) <= reach * reach)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_marks_lay_one_table_on_the_other() {
        let there = [("P", (10.0, 20.0)), ("Q", (400.0, 60.0)), ("R", (200.0, 700.0))];
        let common: KnownPlaces =
            there.iter().map(|(n, p)| ((*n).to_owned(), (Point::from(*p), 0.2))).collect();
        let m = Affine::translate((30.0, -500.0)) * turn_about(Point::new(3.0, 4.0), 2.6);
        let own = common.iter().map(|(n, (p, s))| (n.clone(), (m.inverse() * *p, *s))).collect();
        let (laying, worst) = Laying::by_marks(&own, &common).unwrap();
        assert!(worst < 1e-9, "{worst}");
        assert!((laying.to_table * Point::ORIGIN).distance(m * Point::ORIGIN) < 1e-9);
        assert!((0.1..0.2).contains(&laying.shift), "{}", laying.shift);
        assert!(Laying::by_marks(&KnownPlaces::new(), &common).is_none());
    }
}
