//! Where one segment meets a straight line.

use crate::{bracketed_root, tolerance};
use kurbo::{ParamCurve, PathSeg, Point, Vec2, common::solve_quadratic};

/// The parameters, in order, where a segment meets the endless line through
/// `on` along the unit vector `along`. A segment that lies along the line meets
/// it nowhere.
///
/// The signed distance from the line is a cubic polynomial in the parameter. It
/// is cut where its slope is zero (a quadratic), and the root of each rising or
/// falling stretch is bracketed. The closed formula for a cubic is of no use
/// here: it divides by the leading coefficient, which is rounding noise for
/// every curve that is almost a parabola or a straight line.
pub(crate) fn line_roots(segment: &PathSeg, on: Point, along: Vec2) -> Vec<f64> {
    let off = |p: Point| along.cross(p - on);
    if let PathSeg::Line(line) = segment
        && on_one_side(&[off(line.p0), off(line.p1)])
    {
        return Vec::new();
    }
    let cubic = crate::chain::as_cubic(segment);
    let d = [cubic.p0, cubic.p1, cubic.p2, cubic.p3].map(off);
    if on_one_side(&d) || d.iter().all(|d| d.abs() <= tolerance::SAME_POINT) {
        return Vec::new();
    }
    let distance = |t: f64| along.cross(segment.eval(t) - on);
    let cuts = turning_parameters(d);
    let mut roots = Vec::new();
    for stretch in cuts.windows(2) {
        let (low, high) = (stretch[0], stretch[1]);
        let (at_low, at_high) = (distance(low), distance(high));
        if at_low * at_high < 0.0 {
            roots.extend(bracketed_root(distance, low, high, PARAMETER));
        } else {
            // An end of the segment on the line, or a touch, counts.
            let ends = [(low, at_low), (high, at_high)];
            roots.extend(ends.iter().filter(|e| e.1.abs() <= tolerance::SAME_POINT).map(|e| e.0));
        }
    }
    roots.dedup_by(|b, a| segment.eval(*a).distance(segment.eval(*b)) <= tolerance::SAME_POINT);
    roots
}

/// Whether all control points, and so the segment, lie clear of the line on one side.
fn on_one_side(d: &[f64]) -> bool {
    d.iter().all(|d| *d > tolerance::SAME_POINT) || d.iter().all(|d| *d < -tolerance::SAME_POINT)
}

/// Accuracy of a root in the parameter.
pub(crate) const PARAMETER: f64 = 1e-15;

/// 0, the parameters between where the cubic with Bernstein coefficients `d`
/// turns back, and 1.
pub(crate) fn turning_parameters(d: [f64; 4]) -> Vec<f64> {
    let (a, b, c) = (d[1] - d[0], d[2] - d[1], d[3] - d[2]);
    let mut cuts = vec![0.0];
    cuts.extend(solve_quadratic(a, 2.0 * (b - a), a - 2.0 * b + c));
    cuts.retain(|t| (0.0..1.0).contains(t));
    cuts.push(1.0);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    cuts
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{CubicBez, Line};
    use proptest::prelude::*;

    /// A parabola and a straight line written as cubics: the leading coefficient
    /// is zero but for rounding.
    #[test]
    fn a_cubic_that_is_almost_a_parabola_or_straight_is_met() {
        for turn in [0.0, 0.1, 0.229_106_843_614_173_77, 1.0, 2.5] {
            let (u, v) = (Vec2::from_angle(turn), Vec2::from_angle(turn + 0.7));
            let straight = Line::new(Point::new(-30.0, 7.0), Point::new(-30.0, 7.0) + u * 200.0);
            let straight = PathSeg::Cubic(crate::chain::as_cubic(&PathSeg::Line(straight)));
            let met = line_roots(&straight, straight.eval(0.3), v);
            assert_eq!(met.len(), 1, "{turn}");
            assert!((met[0] - 0.3).abs() < 1e-13, "{turn}");
            let n = Vec2::new(-u.y, u.x);
            let p = |x: f64, y: f64| Point::new(11.0, -5.0) + u * x + n * y;
            let arch = CubicBez::new(p(0.0, 0.0), p(50.0, 40.0), p(100.0, 40.0), p(150.0, 0.0));
            // y = 120·t·(1 − t): 19.2 at t = 0.2 and 0.8.
            let met = line_roots(&PathSeg::Cubic(arch), p(0.0, 19.2), u);
            assert_eq!(met.len(), 2, "{turn}");
            assert!((met[0] - 0.2).abs() < 1e-12 && (met[1] - 0.8).abs() < 1e-12, "{turn}");
        }
    }

    #[test]
    fn a_segment_along_the_line_meets_it_nowhere_and_one_that_ends_on_it_once() {
        let l = PathSeg::Line(Line::new((0.0, 0.0), (10.0, 0.0)));
        assert!(line_roots(&l, Point::ORIGIN, Vec2::new(1.0, 0.0)).is_empty());
        assert_eq!(line_roots(&l, Point::new(10.0, 3.0), Vec2::new(0.0, 1.0)), [1.0]);
        assert_eq!(line_roots(&l, Point::new(0.0, 3.0), Vec2::new(0.0, 1.0)), [0.0]);
    }

    proptest! {
        /// As many meetings as changes of side, and every one on the line.
        #[test]
        fn meetings_lie_on_the_line_and_separate_its_sides(
            p in proptest::array::uniform8(-200.0f64..200.0), shrink in 0.0f64..1.0,
            x in -100.0f64..100.0, y in -100.0f64..100.0, turn in -3.1f64..3.1,
        ) {
            // `shrink` near 0 makes the cubic almost straight.
            let shrink = shrink.powi(12);
            let (a, b) = (Point::new(p[0], p[1]), Point::new(p[6], p[7]));
            let c = CubicBez::new(
                a,
                a.lerp(b, 1.0 / 3.0) + Vec2::new(p[2], p[3]) * shrink,
                a.lerp(b, 2.0 / 3.0) + Vec2::new(p[4], p[5]) * shrink,
                b,
            );
            let (on, along) = (Point::new(x, y), Vec2::from_angle(turn));
            let found = line_roots(&PathSeg::Cubic(c), on, along);
            let side = |t: f64| along.cross(c.eval(t) - on);
            for &t in &found {
                prop_assert!(side(t).abs() < 1e-6);
            }
            prop_assert!(found.windows(2).all(|w| w[0] <= w[1]));
            let steps: Vec<f64> = (0..=500).map(|i| side(f64::from(i) / 500.0)).collect();
            let clear = steps.iter().all(|d| d.abs() > 1e-3);
            let changes = steps.windows(2).filter(|w| w[0] * w[1] < 0.0).count();
            if clear {
                prop_assert!(found.len() >= changes && (found.len() - changes).is_multiple_of(2));
            }
        }
    }
}
