//! Crossings of curves with lines and with each other.

use crate::chain::control_box;
use crate::line_roots::line_roots;
use crate::{Chain, tolerance};
use kurbo::{Line, ParamCurve, ParamCurveDeriv, PathSeg, Point};

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
    /// Two curves: bounding boxes are halved until they are small, then Newton's
    /// method on A(t) − B(u) = 0 finishes; a curve and a line: roots of the
    /// distance from the line. Both are exact to machine precision. An end that
    /// lies on the other curve counts.
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
        let mut found: Vec<Crossing> = Vec::new();
        for (segment, start) in self.segments().iter().zip(segment_starts(self)) {
            for t in line_roots(segment, line.p0, direction) {
                let point = segment.eval(t);
                let here = start + length_to(segment, t);
                if !found.iter().any(|c| (c.here - here).abs() <= SAME_CROSSING) {
                    found.push(Crossing { point, here, there: (point - line.p0).dot(direction) });
                }
            }
        }
        found.sort_by(|a, b| a.here.total_cmp(&b.here));
        found
    }
}

impl Chain {
    /// How far along an endless line from `line.p0` it meets the chain, mm, in the order
    /// of the chain: where it is on the chain is not measured.
    pub fn distances_along_line(&self, line: Line) -> impl Iterator<Item = f64> {
        let direction = (line.p1 - line.p0).normalize();
        self.segments().iter().flat_map(move |segment| {
            let roots = line_roots(segment, line.p0, direction);
            roots.into_iter().map(move |t| (segment.eval(t) - line.p0).dot(direction))
        })
    }
}

/// Two crossings closer than this along the chain are one, mm.
const SAME_CROSSING: f64 = 1e-5;

fn segment_starts(chain: &Chain) -> Vec<f64> {
    let mut at = 0.0;
    let mut starts = Vec::with_capacity(chain.segments().len());
    for length in chain.lengths() {
        starts.push(at);
        at += length;
    }
    starts
}

fn length_to(segment: &PathSeg, t: f64) -> f64 {
    crate::chain::segment_length(&segment.subsegment(0.0..t.clamp(0.0, 1.0)))
}

/// Parameter pairs where two segments cross.
fn segment_crossings(a: &PathSeg, b: &PathSeg) -> Vec<(f64, f64)> {
    if !boxes_touch(control_box(a), control_box(b), tolerance::SAME_POINT) {
        return Vec::new();
    }
    match (a, b) {
        (_, &PathSeg::Line(line)) => line_crossings(a, line),
        (&PathSeg::Line(line), _) => {
            line_crossings(b, line).into_iter().map(|(t, u)| (u, t)).collect()
        }
        _ => {
            let mut out = Vec::new();
            let mut budget = HALVINGS;
            halve(a, (0.0, 1.0), b, (0.0, 1.0), &mut budget, &mut out);
            out
        }
    }
}

/// Parameter pairs where a segment crosses a straight one, its ends included.
fn line_crossings(segment: &PathSeg, line: Line) -> Vec<(f64, f64)> {
    let along = line.p1 - line.p0;
    let length = along.hypot();
    if length <= tolerance::SAME_POINT {
        return Vec::new();
    }
    let direction = along / length;
    let mut out = Vec::new();
    for t in line_roots(segment, line.p0, direction) {
        let reach = (segment.eval(t) - line.p0).dot(direction);
        if (-tolerance::SAME_POINT..=length + tolerance::SAME_POINT).contains(&reach) {
            keep_new((t, (reach / length).clamp(0.0, 1.0)), &mut out);
        }
    }
    out
}

fn keep_new(found: (f64, f64), out: &mut Vec<(f64, f64)>) {
    let same = |k: &(f64, f64)| (k.0 - found.0).abs() < 1e-9 && (k.1 - found.1).abs() < 1e-9;
    if !out.iter().any(same) {
        out.push(found);
    }
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
    let (box_a, box_b) = (control_box(&part_a), control_box(&part_b));
    let slack = tolerance::SAME_POINT;
    if !boxes_touch(box_a, box_b, slack) {
        return;
    }
    if ta.1 - ta.0 <= SMALL && tb.1 - tb.0 <= SMALL {
        // Two curves that bend past each other may cross twice in one small box:
        // starts in its middle and at its corners reach both places.
        let middle = (0.5 * (ta.0 + ta.1), 0.5 * (tb.0 + tb.1));
        let corners = [(ta.0, tb.0), (ta.0, tb.1), (ta.1, tb.0), (ta.1, tb.1)];
        for (t, u) in std::iter::once(middle).chain(corners) {
            if let Some(found) = newton(a, b, t, u) {
                keep_new(found, out);
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
    // A crossing at an end counts when the end itself is the same point.
    let (t, u) = (t.clamp(0.0, 1.0), u.clamp(0.0, 1.0));
    let met = ca.eval(t).distance(cb.eval(u)) < tolerance::SAME_POINT;
    met.then_some((t, u))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::CubicBez;
    use proptest::prelude::*;

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

    /// The parabola y = lift + bend·x² from x = `low` to `high` (closed form of
    /// its control points).
    fn parabola(bend: f64, lift: f64, low: f64, high: f64) -> Chain {
        let y = |x: f64, z: f64| lift + bend * x * z;
        Chain::new(vec![PathSeg::Quad(kurbo::QuadBez::new(
            (low, y(low, low)),
            (0.5 * (low + high), y(low, high)),
            (high, y(high, high)),
        ))])
        .unwrap()
    }

    /// Found by the property below when Newton's method started only in the
    /// middle of a box.
    #[test]
    fn a_pair_of_crossings_in_one_box() {
        let up = parabola(1.0 / 400.0, 0.0, -60.0, 74.519_146_724_609_93);
        let down = parabola(-1.0 / 400.0, 1e-3, -130.820_872_570_711_88, 133.766_713_214_177_8);
        assert_eq!(up.crossings(&down).len(), 2);
    }

    proptest! {
        /// y = x²/400 and y = h − x²/400 cross at x = ±√(200·h): from 0.9 mm
        /// apart, well inside one of the small boxes.
        #[test]
        fn two_crossings_close_together_are_both_found(
            h in 1e-3f64..1.0, a in 60.0f64..150.0, b in 60.0f64..150.0,
            c in 60.0f64..150.0, d in 60.0f64..150.0,
        ) {
            let up = parabola(1.0 / 400.0, 0.0, -a, b);
            let down = parabola(-1.0 / 400.0, h, -c, d);
            let x = (200.0 * h).sqrt();
            for found in [up.crossings(&down), down.crossings(&up)] {
                prop_assert_eq!(found.len(), 2);
                prop_assert!((found[0].point.x + x).abs() < 1e-7, "{:?}", found);
                prop_assert!((found[1].point.x - x).abs() < 1e-7, "{:?}", found);
            }
        }
    }

    #[test]
    fn curves_apart_do_not_cross() {
        let a = Chain::cubic(CubicBez::new((0.0, 0.0), (0.0, 40.0), (100.0, 40.0), (100.0, 0.0)));
        assert!(a.crossings(&a.moved(kurbo::Affine::translate((0.0, 200.0)))).is_empty());
    }
}
