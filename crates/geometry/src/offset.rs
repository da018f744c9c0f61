//! Offset curves: seam allowances and lines parallel to an edge.

use crate::{Chain, GeometryError, tolerance};
use kurbo::{BezPath, Line, PathSeg, Point, offset::offset_cubic};

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
        if let Some(m) = meet {
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
    use kurbo::{CubicBez, ParamCurve};

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
