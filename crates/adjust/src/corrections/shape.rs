//! Smooth maps of a seam's control points: shifting a stretch sideways by a fade,
//! and letting a band of the paper grow or shrink in length.
//!
//! A knot of a chain moves by the map; a handle moves with its knot and is turned
//! by the map's derivative there. Where two segments meet both handles are turned
//! by the same derivative, so a smooth joint stays smooth, and the opposite amount
//! moves every control point back to where it was.

use crate::ChangeError;
use hangtrue_geometry::{
    Chain, CubicBez, Line, PathSeg, Point, Vec2, angle_between, bracketed_root, tolerance,
};
use hangtrue_pattern::words::Length;

/// A knot moved, and the derivative of the map there: columns for x and for y.
pub(crate) struct Moved {
    to: Point,
    x: Vec2,
    y: Vec2,
}

/// The chain with its control points moved. A line that stays straight stays a
/// line; otherwise it becomes a cubic.
fn mapped(chain: &Chain, map: &impl Fn(Point) -> Moved) -> Result<Chain, ChangeError> {
    let segments = chain.segments().iter().map(|segment| {
        let c = as_cubic(segment);
        let (a, b) = (map(c.p0), map(c.p3));
        let carried = |m: &Moved, handle: Vec2| m.to + m.x * handle.x + m.y * handle.y;
        let moved = CubicBez::new(a.to, carried(&a, c.p1 - c.p0), carried(&b, c.p2 - c.p3), b.to);
        as_plain(segment, moved)
    });
    Chain::new(segments.collect()).map_err(ChangeError::geometry("reshaping a seam"))
}

/// The segment as a cubic with the same parameter.
pub(crate) fn as_cubic(segment: &PathSeg) -> CubicBez {
    match segment {
        // Thirds, so that the parameter runs evenly as on the line.
        PathSeg::Line(l) => {
            CubicBez::new(l.p0, l.p0.lerp(l.p1, 1.0 / 3.0), l.p0.lerp(l.p1, 2.0 / 3.0), l.p1)
        }
        _ => segment.to_cubic(),
    }
}

/// The moved cubic, as a line when it came from a line and is straight still.
fn as_plain(was: &PathSeg, moved: CubicBez) -> PathSeg {
    let (whole, first, last) = (moved.p3 - moved.p0, moved.p1 - moved.p0, moved.p3 - moved.p2);
    let straight = |v: Vec2| angle_between(whole, v).abs() <= tolerance::SAME_DIRECTION;
    match was {
        PathSeg::Line(_) if straight(first) && straight(last) => {
            PathSeg::Line(Line::new(moved.p0, moved.p3))
        }
        _ => PathSeg::Cubic(moved),
    }
}

/// The chain with its ends moved by `start` and `end`; knots between follow by
/// their share of the length, handles move with their knots, so that every
/// direction is kept. Moving back is exact for a chain of one segment.
pub(crate) fn ends_moved(chain: &Chain, start: Vec2, end: Vec2) -> Result<Chain, ChangeError> {
    let total = chain.length().max(tolerance::SAME_POINT);
    let mut done = 0.0;
    let mut segments = Vec::with_capacity(chain.segments().len());
    for (segment, length) in chain.segments().iter().zip(chain.lengths()) {
        let c = as_cubic(segment);
        let by = |share: f64| start * (1.0 - share) + end * share;
        let (a, b) = (by(done / total), by((done + length) / total));
        done += length;
        let moved = CubicBez::new(c.p0 + a, c.p1 + a, c.p2 + b, c.p3 + b);
        segments.push(as_plain(segment, moved));
    }
    Chain::new(segments).map_err(ChangeError::geometry("moving the end of a seam"))
}

/// An amount that fades along the grain: cubic Hermite between levels.
#[derive(Debug, Clone)]
pub(crate) struct Fade {
    /// Level, amount, slope (amount per mm of level); levels rise.
    knots: Vec<(f64, f64, f64)>,
}

/// Two levels of a fade lie at least this far apart, mm.
const LEAST_FADE: f64 = 15.0;

impl Fade {
    /// A fade through `(level, amount)`, flat at each of them and beyond the ends.
    pub(crate) fn flat(places: &[(f64, f64)]) -> Result<Self, ChangeError> {
        Self::sloped(
            &places.iter().map(|&(level, amount)| (level, amount, 0.0)).collect::<Vec<_>>(),
        )
    }

    /// A fade through `(level, amount, slope)`; beyond the ends it runs on straight.
    pub(crate) fn sloped(places: &[(f64, f64, f64)]) -> Result<Self, ChangeError> {
        let mut knots = places.to_vec();
        knots.sort_by(|a, b| a.0.total_cmp(&b.0));
        let least = knots.windows(2).map(|w| w[1].0 - w[0].0).fold(f64::INFINITY, f64::min);
        if least >= LEAST_FADE {
            return Ok(Self { knots });
        }
        Err(ChangeError::OutOfReach {
            what: "the length the change fades over".into(),
            asked: Length(least),
            low: Length(LEAST_FADE),
            high: Length(f64::INFINITY),
        })
    }

    fn levels(&self) -> impl Iterator<Item = f64> {
        self.knots.iter().map(|k| k.0)
    }

    /// The amount and its slope at a level.
    fn at(&self, level: f64) -> (f64, f64) {
        let after = self.knots.partition_point(|k| k.0 < level);
        let beyond = |k: &(f64, f64, f64)| (k.1 + k.2 * (level - k.0), k.2);
        if after == 0 {
            return beyond(&self.knots[0]);
        }
        let (Some(a), Some(b)) = (self.knots.get(after - 1), self.knots.get(after)) else {
            return beyond(&self.knots[after - 1]);
        };
        let h = b.0 - a.0;
        let t = (level - a.0) / h;
        let rise = b.1 - a.1;
        let value = a.1
            + rise * t * t * (3.0 - 2.0 * t)
            + h * (a.2 * t * (1.0 - t).powi(2) - b.2 * t * t * (1.0 - t));
        let slope = rise * 6.0 * t * (1.0 - t) / h
            + a.2 * (1.0 - t) * (1.0 - 3.0 * t)
            + b.2 * t * (3.0 * t - 2.0);
        (value, slope)
    }

    /// The chain shifted to the right by the fade times `sign`; grain upright.
    pub(crate) fn shift(&self, chain: &Chain, sign: f64) -> Result<Chain, ChangeError> {
        let knotted = with_knots_at(chain, self.levels())?;
        mapped(&knotted, &|p: Point| {
            let (by, slope) = self.at(p.y);
            Moved {
                to: p + Vec2::new(sign * by, 0.0),
                x: Vec2::new(1.0, 0.0),
                y: Vec2::new(sign * slope, 1.0),
            }
        })
    }
}

/// The same curve with a joint at each of the levels it passes, so that it can
/// follow a fade that turns there. No joint is set within this of another, mm.
const JOINTS_APART: f64 = 0.5;

fn with_knots_at(chain: &Chain, levels: impl Iterator<Item = f64>) -> Result<Chain, ChangeError> {
    let mut knotted = chain.clone();
    for level in levels {
        let line = Line::new((0.0, level), (1.0, level));
        for crossing in knotted.clone().crossings_with_line(line) {
            let mut joint = 0.0;
            let mut near = crossing.here < JOINTS_APART;
            for length in knotted.lengths() {
                joint += length;
                near |= (joint - crossing.here).abs() < JOINTS_APART;
            }
            if !near {
                let what = || ChangeError::geometry("dividing a seam");
                let (before, after) = knotted.split_at(crossing.here).map_err(what())?;
                knotted = before.then(&after).map_err(what())?;
            }
        }
    }
    Ok(knotted)
}

/// A band across the paper that grows (or shrinks) along the grain: what lies
/// above stays, what lies below moves down by the amount.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stretch {
    top: f64,
    /// Height of the band before and after, mm.
    height: f64,
    grown: f64,
}

/// Speed at both ends of the band, mm: the same for every height, so that the
/// map joins smoothly to what stays and shrinking undoes growing.
const END_SPEED: f64 = 30.0;

impl Stretch {
    /// The band from level `top` down to `bottom`, made longer by `by` mm.
    pub(crate) fn new(top: f64, bottom: f64, by: f64) -> Result<Self, ChangeError> {
        let height = top - bottom;
        // A band lower than this would fold over itself.
        let least = END_SPEED / 2.0;
        if height < least || height + by < least {
            return Err(ChangeError::OutOfReach {
                what: "the length put in across the piece".into(),
                asked: Length(by),
                low: Length((least - height).min(0.0)),
                high: Length(f64::INFINITY),
            });
        }
        Ok(Self { top, height, grown: height + by })
    }

    /// Depth below the top of the band of its inner parameter, and its speed.
    fn depth(height: f64, t: f64) -> (f64, f64) {
        let depth = height * t * t * (3.0 - 2.0 * t) + END_SPEED * t * (1.0 - t) * (1.0 - 2.0 * t);
        let speed = 6.0 * (height - END_SPEED) * t * (1.0 - t) + END_SPEED;
        (depth, speed)
    }

    /// Where a level goes, and how the paper is stretched there.
    pub(crate) fn at(&self, level: f64) -> (f64, f64) {
        let deep = self.top - level;
        if deep <= 0.0 {
            return (level, 1.0);
        }
        if deep >= self.height {
            return (level + self.height - self.grown, 1.0);
        }
        let miss = |t: f64| Self::depth(self.height, t).0 - deep;
        let t = bracketed_root(miss, 0.0, 1.0, 1e-15).unwrap_or(deep / self.height);
        let ((_, was), (depth, is)) = (Self::depth(self.height, t), Self::depth(self.grown, t));
        (self.top - depth, is / was)
    }

    /// The chain stretched with the paper; grain upright.
    pub(crate) fn stretch(&self, chain: &Chain) -> Result<Chain, ChangeError> {
        mapped(chain, &|p: Point| {
            let (level, stretch) = self.at(p.y);
            Moved { to: Point::new(p.x, level), x: Vec2::new(1.0, 0.0), y: Vec2::new(0.0, stretch) }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::names::{BACK, SIDE};

    fn side() -> Chain {
        sample::pattern().piece(BACK).unwrap().seam(SIDE).unwrap().parts[0].clone()
    }

    fn farthest(a: &Chain, b: &Chain) -> f64 {
        let at = |i: i32| f64::from(i) / 50.0;
        let apart = |i| {
            let p = a.point_at(at(i) * a.length());
            b.nearest(p).distance
        };
        (0..=50).map(apart).fold(0.0, f64::max)
    }

    fn smooth(chain: &Chain) -> bool {
        chain.segments().windows(2).all(|w| {
            let [a, b] = [w[0], w[1]].map(|s| Chain::new(vec![s]).unwrap());
            angle_between(a.end_direction(), b.start_direction()).abs() < 1e-6
        })
    }

    #[test]
    fn a_shift_reaches_its_amount_stays_smooth_and_goes_back_exactly() {
        // The joint of the sample's side seam at its knee is smooth already.
        let side = side();
        assert!(smooth(&side));
        let fade = |by| Fade::flat(&[(70.0, 0.0), (-60.0, by), (-330.0, 0.0)]).unwrap();
        let out = fade(12.0).shift(&side, 1.0).unwrap();
        assert!(smooth(&out));
        let x = |c: &Chain| c.crossings_with_line(Line::new((0.0, -60.0), (1.0, -60.0)))[0].point.x;
        assert!((x(&out) - x(&side) - 12.0).abs() < 1e-6);
        assert!(farthest(&fade(-12.0).shift(&out, 1.0).unwrap(), &side) < 1e-9);
        assert!(out.start() == side.start() && out.end() == side.end());
    }

    #[test]
    fn a_stretch_moves_what_is_below_and_goes_back_exactly() {
        let side = side();
        let grown = Stretch::new(150.0, -20.0, 14.0).unwrap().stretch(&side).unwrap();
        assert!(smooth(&grown));
        assert!((side.start() - grown.start() - Vec2::new(0.0, 14.0)).hypot() < 1e-9);
        assert_eq!(grown.end(), side.end());
        let back = Stretch::new(150.0, -34.0, -14.0).unwrap().stretch(&grown).unwrap();
        assert!(farthest(&back, &side) < 1e-9);
        assert!(Stretch::new(150.0, -20.0, -160.0).is_err());
    }

    #[test]
    fn moving_an_end_keeps_both_directions() {
        let side = side();
        let moved = ends_moved(&side, Vec2::ZERO, Vec2::new(3.0, 9.0)).unwrap();
        let turn = |a: Vec2, b: Vec2| angle_between(a, b).abs();
        assert!(turn(moved.end_direction(), side.end_direction()) < 1e-12);
        assert!(moved.start() == side.start());
        assert!((moved.end() - side.end() - Vec2::new(3.0, 9.0)).hypot() < 1e-12);
    }
}
