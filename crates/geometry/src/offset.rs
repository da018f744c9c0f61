//! Offset curves: seam allowances and lines parallel to an edge.

use crate::{Chain, GeometryError, tolerance};
use kurbo::{
    BezPath, Line, ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2, offset::offset_cubic,
};

impl Chain {
    /// The curve at a constant distance from this one, mm: to the left of the
    /// direction of travel when `distance` is positive. Within a segment the
    /// offset is a fitted chain of cubics (Levien's method in kurbo) within
    /// [`tolerance::OFFSET`]; at a corner between two segments the two offsets
    /// are extended to their crossing (a mitre), or trimmed to it.
    ///
    /// # Errors
    /// [`GeometryError`] when the result is not a chain.
    pub fn offset(&self, distance: f64) -> Result<Self, GeometryError> {
        let mut out: Option<Self> = None;
        for segment in self.segments() {
            let next = offset_segment(segment, distance)?;
            out = Some(match out {
                None => next,
                Some(before) => before.mitred(&next)?,
            });
        }
        out.ok_or(GeometryError::Empty)
    }

    /// The curve at a distance that changes along this one: to the left of the direction
    /// of travel where it is positive. `width` gives at an arc length from the start the
    /// distance and its slope, mm and mm per mm. It is fitted with cubics that have place
    /// and direction of the exact curve each [`FIT_STEP`] mm; segments are brought
    /// together as in [`Self::offset`].
    ///
    /// # Errors
    /// [`GeometryError`] when the result is not a chain.
    pub fn offset_by(&self, width: impl Fn(f64) -> (f64, f64)) -> Result<Self, GeometryError> {
        let mut out: Option<Self> = None;
        let mut before = 0.0;
        for (segment, &length) in self.segments().iter().zip(self.lengths()) {
            let next = offset_segment_by(segment, length, |s| width(before + s))?;
            out = Some(match out {
                None => next,
                Some(first) => first.mitred(&next)?,
            });
            before += length;
        }
        out.ok_or(GeometryError::Empty)
    }

    /// This chain and `next` brought together at the crossing of the two: both
    /// are trimmed to where they cross, or extended along their end directions
    /// to where those cross; when neither exists they are joined by a line.
    ///
    /// # Errors
    /// [`GeometryError`] when the result is not a chain.
    pub fn mitred(&self, next: &Self) -> Result<Self, GeometryError> {
        if self.end().distance(next.start()) <= tolerance::SAME_POINT {
            return self.then(&next.with_start_exactly(self.end()));
        }
        if let Some(crossing) = self.crossings(next).last() {
            let kept = self.part(0.0, crossing.here);
            let rest = next.part(crossing.there, next.length());
            if let (Ok(kept), Ok(rest)) = (kept, rest) {
                return kept.then(&rest.with_start_exactly(kept.end()));
            }
        }
        let ahead = Line::new(self.end(), self.end() + self.end_direction());
        let behind = Line::new(next.start(), next.start() + next.start_direction());
        let gap = self.end().distance(next.start());
        let meet = ahead.crossing_point(behind).filter(|m| {
            let reach = m.distance(self.end()).max(m.distance(next.start()));
            (*m - self.end()).dot(self.end_direction()) > -gap && reach < 8.0 * gap.max(1.0)
        });
        let mut segments = self.segments().to_vec();
        // A leg of no length would be a crossing of the line with itself.
        let legs =
            |m: &Point| m.distance(self.end()).min(m.distance(next.start())) > tolerance::OFFSET;
        if let Some(m) = meet.filter(legs) {
            segments.push(PathSeg::Line(Line::new(self.end(), m)));
            segments.push(PathSeg::Line(Line::new(m, next.start())));
        } else {
            segments.push(PathSeg::Line(Line::new(self.end(), next.start())));
        }
        segments.extend_from_slice(next.segments());
        Self::new(segments)
    }

    fn with_start_exactly(&self, at: Point) -> Self {
        let mut segments = self.segments().to_vec();
        crate::chain::start_at(&mut segments[0], at);
        Self::new(segments).unwrap_or_else(|_| self.clone())
    }
}

/// How far apart a changing offset is fitted, mm.
pub const FIT_STEP: f64 = 6.0;

fn offset_segment_by(
    segment: &PathSeg,
    length: f64,
    width: impl Fn(f64) -> (f64, f64),
) -> Result<Chain, GeometryError> {
    let curve = crate::chain::as_cubic(segment);
    let (speed, bend) = (curve.deriv(), curve.deriv().deriv());
    // Place and derivative of P(t) + w(s)·n(t), n the unit normal to the left.
    let exact = |t: f64, s: f64| {
        let (p, v, a) = (curve.eval(t), speed.eval(t).to_vec2(), bend.eval(t).to_vec2());
        let pace = v.hypot();
        let along = v / pace;
        let turning = (a - along * a.dot(along)) / pace;
        let left = |d: Vec2| Vec2::new(-d.y, d.x);
        let (w, slope) = width(s);
        (p + left(along) * w, v + left(along) * (slope * pace) + left(turning) * w)
    };
    let steps = (length / FIT_STEP).ceil().max(1.0) as usize;
    let mut segments = Vec::with_capacity(steps);
    let (mut t, mut s) = (0.0, 0.0);
    let mut from = exact(0.0, 0.0);
    for step in 1..=steps {
        let next = step as f64 / steps as f64;
        s += crate::chain::segment_length(&segment.subsegment(t..next));
        let to = exact(next, s);
        let third = (next - t) / 3.0;
        segments.push(PathSeg::Cubic(kurbo::CubicBez::new(
            from.0,
            from.0 + from.1 * third,
            to.0 - to.1 * third,
            to.0,
        )));
        (t, from) = (next, to);
    }
    Chain::new(segments)
}

fn offset_segment(segment: &PathSeg, distance: f64) -> Result<Chain, GeometryError> {
    if let PathSeg::Line(l) = segment {
        let along = l.p1 - l.p0;
        if along.hypot() <= tolerance::SAME_POINT {
            return Chain::new(vec![*segment]);
        }
        let left = kurbo::Vec2::new(-along.y, along.x).normalize() * distance;
        return Ok(Chain::line(l.p0 + left, l.p1 + left));
    }
    let mut path = BezPath::new();
    // kurbo offsets to the right of travel for positive distances in a y-up
    // frame's mirror; the sign below is fixed by the closed-form circle test.
    offset_cubic(crate::chain::as_cubic(segment), distance, tolerance::OFFSET, &mut path);
    Chain::new(path.segments().collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::CubicBez;

    /// The offset of a circle of radius r by d to the inside is the circle of
    /// radius r − d.
    #[test]
    fn the_offset_of_a_quarter_circle_is_a_quarter_circle() {
        let r = 120.0;
        let k = 0.551_915_024_493_510_6 * r;
        let c = CubicBez::new((r, 0.0), (r, k), (k, r), (0.0, r));
        for d in [10.0, -15.0] {
            let off = Chain::cubic(c).offset(d).unwrap();
            for seg in off.segments() {
                for i in 0..=10 {
                    let p = seg.eval(f64::from(i) / 10.0);
                    // Travel is counter-clockwise, so left is inside.
                    assert!((p.to_vec2().hypot() - (r - d)).abs() < 0.05, "{p:?} for {d}");
                }
            }
        }
    }

    /// A distance that does not change gives the same curve; one that grows evenly along a
    /// straight line gives a straight line.
    #[test]
    fn a_changing_offset_agrees_where_it_is_known() {
        let c =
            Chain::cubic(CubicBez::new((0.0, 0.0), (0.0, -90.0), (30.0, -150.0), (120.0, -150.0)));
        let (even, fitted) = (c.offset(15.0).unwrap(), c.offset_by(|_| (15.0, 0.0)).unwrap());
        for i in 0..=50 {
            let p = fitted.point_at(fitted.length() * f64::from(i) / 50.0);
            assert!(even.nearest(p).distance < 2e-3, "{}", even.nearest(p).distance);
        }
        let line = Chain::line(Point::ORIGIN, Point::new(100.0, 0.0));
        let slanted = line.offset_by(|s| (0.1 * s, 0.1)).unwrap();
        for i in 0..=20 {
            let p = slanted.point_at(slanted.length() * f64::from(i) / 20.0);
            assert!((p.y - 0.1 * p.x).abs() < 1e-9);
        }
    }

    #[test]
    fn a_corner_is_mitred() {
        let chain = Chain::new(vec![
            PathSeg::Line(Line::new((0.0, 0.0), (100.0, 0.0))),
            PathSeg::Line(Line::new((100.0, 0.0), (100.0, 100.0))),
        ])
        .unwrap();
        let out = chain.offset(-10.0).unwrap();
        assert!((out.length() - 220.0).abs() < 1e-9);
        let inner = chain.offset(10.0).unwrap();
        assert!((inner.length() - 180.0).abs() < 1e-9);
    }
}
