//! Crossings of curves with lines and with each other.

use crate::{Chain, tolerance};
use kurbo::{Line, ParamCurve, ParamCurveDeriv, ParamCurveExtrema, PathSeg, Point};

/// A place where two chains cross.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The place.
    pub point: Point,
    /// Arc length along the first chain, mm.
    pub here: f64,
    /// Arc length along the second chain, mm.
    pub there: f64,
}

impl Chain {
    /// The places where this chain crosses `other`, in order along this chain.
    ///
    /// Bounding boxes are halved until they are small, then Newton's method on
    /// A(t) − B(u) = 0 finishes, so the result is exact to machine precision.
    /// Curves that run along each other report no crossing there.
    pub fn crossings(&self, other: &Self) -> Vec<Crossing> {
        let mut found: Vec<Crossing> = Vec::new();
        let starts = segment_starts(self);
        let other_starts = segment_starts(other);
        for (i, a) in self.segments().iter().enumerate() {
            for (j, b) in other.segments().iter().enumerate() {
                for (t, u) in segment_crossings(a, b) {
                    let point = a.eval(t);
                    let here = starts[i] + length_to(a, t);
                    let there = other_starts[j] + length_to(b, u);
                    let same = |c: &Crossing| {
                        c.point.distance(point) <= SAME_CROSSING
                            && (c.here - here).abs() <= 10.0 * SAME_CROSSING
                    };
                    if !found.iter().any(same) {
                        found.push(Crossing { point, here, there });
                    }
                }
            }
        }
        found.sort_by(|a, b| a.here.total_cmp(&b.here));
        found
    }

    /// The places where this chain crosses the endless straight line through
    /// `line`, in order along the chain; `there` is the distance along the line
    /// from `line.p0`, mm (negative behind it).
    pub fn crossings_with_line(&self, line: Line) -> Vec<Crossing> {
        let direction = (line.p1 - line.p0).normalize();
        let bounds = self.bounds().inflate(1.0, 1.0);
        let corners = [
            Point::new(bounds.x0, bounds.y0),
            Point::new(bounds.x1, bounds.y0),
            Point::new(bounds.x0, bounds.y1),
            Point::new(bounds.x1, bounds.y1),
        ];
        let along = corners.map(|c| (c - line.p0).dot(direction));
        let low = along.iter().copied().fold(f64::INFINITY, f64::min);
        let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let long = Line::new(line.p0 + direction * low, line.p0 + direction * high);
        let mut found: Vec<Crossing> = Vec::new();
        for (segment, start) in self.segments().iter().zip(segment_starts(self)) {
            for hit in segment.intersect_line(long) {
                let point = segment.eval(hit.segment_t);
                let here = start + length_to(segment, hit.segment_t);
                if !found.iter().any(|c| (c.here - here).abs() <= SAME_CROSSING) {
                    found.push(Crossing { point, here, there: (point - line.p0).dot(direction) });
                }
            }
        }
        found.sort_by(|a, b| a.here.total_cmp(&b.here));
        found
    }
}

/// Two crossings closer than this along the chain are one, mm.
const SAME_CROSSING: f64 = 1e-5;

fn segment_starts(chain: &Chain) -> Vec<f64> {
    let mut at = 0.0;
    let mut starts = Vec::with_capacity(chain.segments().len());
    for segment in chain.segments() {
        starts.push(at);
        at += crate::chain::segment_length(segment);
    }
    starts
}

fn length_to(segment: &PathSeg, t: f64) -> f64 {
    crate::chain::segment_length(&segment.subsegment(0.0..t.clamp(0.0, 1.0)))
}

/// Parameter pairs where two segments cross.
fn segment_crossings(a: &PathSeg, b: &PathSeg) -> Vec<(f64, f64)> {
    match (a, b) {
        (_, PathSeg::Line(line)) => {
            on_both(a.intersect_line(*line).iter().map(|h| (h.segment_t, h.line_t)))
        }
        (PathSeg::Line(line), _) => {
            on_both(b.intersect_line(*line).iter().map(|h| (h.line_t, h.segment_t)))
        }
        _ => {
            let mut out = Vec::new();
            let mut budget = HALVINGS;
            halve(a, (0.0, 1.0), b, (0.0, 1.0), &mut budget, &mut out);
            out
        }
    }
}

fn on_both(hits: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    hits.collect()
}

/// A bound on the box pairs looked at for two segments, so that curves lying on
/// each other end.
const HALVINGS: usize = 4_000;

/// Parameter width at which Newton takes over.
const SMALL: f64 = 1.0 / 64.0;

fn halve(
    a: &PathSeg,
    ta: (f64, f64),
    b: &PathSeg,
    tb: (f64, f64),
    budget: &mut usize,
    out: &mut Vec<(f64, f64)>,
) {
    if *budget == 0 {
        return;
    }
    *budget -= 1;
    let (part_a, part_b) = (a.subsegment(ta.0..ta.1), b.subsegment(tb.0..tb.1));
    let (box_a, box_b) = (part_a.bounding_box(), part_b.bounding_box());
    let slack = tolerance::SAME_POINT;
    if !boxes_touch(box_a, box_b, slack) {
        return;
    }
    if ta.1 - ta.0 <= SMALL && tb.1 - tb.0 <= SMALL {
        if let Some((t, u)) = newton(a, b, 0.5 * (ta.0 + ta.1), 0.5 * (tb.0 + tb.1)) {
            let known = out.iter().any(|k| (k.0 - t).abs() < 1e-9 && (k.1 - u).abs() < 1e-9);
            if !known {
                out.push((t, u));
            }
        }
        return;
    }
    let halves = |r: (f64, f64)| {
        let m = 0.5 * (r.0 + r.1);
        [(r.0, m), (m, r.1)]
    };
    for ra in halves(ta) {
        for rb in halves(tb) {
            halve(a, ra, b, rb, budget, out);
        }
    }
}

fn boxes_touch(a: kurbo::Rect, b: kurbo::Rect, slack: f64) -> bool {
    a.x0 <= b.x1 + slack && b.x0 <= a.x1 + slack && a.y0 <= b.y1 + slack && b.y0 <= a.y1 + slack
}

fn newton(a: &PathSeg, b: &PathSeg, t: f64, u: f64) -> Option<(f64, f64)> {
    let (ca, cb) = (crate::chain::as_cubic(a), crate::chain::as_cubic(b));
    let (da, db) = (ca.deriv(), cb.deriv());
    let (mut t, mut u) = (t, u);
    for _ in 0..24 {
        let gap = ca.eval(t) - cb.eval(u);
        let (va, vb) = (da.eval(t).to_vec2(), db.eval(u).to_vec2());
        let det = va.cross(vb);
        if det.abs() < 1e-12 {
            return None;
        }
        let step_t = -gap.cross(vb) / det;
        let step_u = -gap.cross(va) / det;
        t += step_t;
        u += step_u;
        if !(-0.5..=1.5).contains(&t) || !(-0.5..=1.5).contains(&u) {
            return None;
        }
        if step_t.abs() < 1e-15 && step_u.abs() < 1e-15 {
            break;
        }
    }
    let edge = 1e-12;
    let inside = |x: f64| (-edge..=1.0 + edge).contains(&x);
    let met = ca.eval(t).distance(cb.eval(u)) < tolerance::SAME_POINT;
    (met && inside(t) && inside(u)).then(|| (t.clamp(0.0, 1.0), u.clamp(0.0, 1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::CubicBez;

    #[test]
    fn two_arches_cross_twice() {
        let a = Chain::cubic(CubicBez::new((0.0, 0.0), (30.0, 90.0), (70.0, 90.0), (100.0, 0.0)));
        let b =
            Chain::cubic(CubicBez::new((0.0, 60.0), (30.0, -30.0), (70.0, -30.0), (100.0, 60.0)));
        let found = a.crossings(&b);
        assert_eq!(found.len(), 2);
        for c in found {
            assert!(a.point_at(c.here).distance(c.point) < 1e-7);
            assert!(b.point_at(c.there).distance(c.point) < 1e-7);
        }
    }

    #[test]
    fn a_curve_and_an_endless_line() {
        let a = Chain::cubic(CubicBez::new((0.0, 0.0), (0.0, 40.0), (100.0, 40.0), (100.0, 0.0)));
        let level = Line::new((0.0, 15.0), (1.0, 15.0));
        let found = a.crossings_with_line(level);
        assert_eq!(found.len(), 2);
        assert!(found[0].there < found[1].there);
        assert!(found.iter().all(|c| (c.point.y - 15.0).abs() < 1e-9));
    }

    #[test]
    fn curves_apart_do_not_cross() {
        let a = Chain::cubic(CubicBez::new((0.0, 0.0), (0.0, 40.0), (100.0, 40.0), (100.0, 0.0)));
        assert!(a.crossings(&a.moved(kurbo::Affine::translate((0.0, 200.0)))).is_empty());
    }
}
