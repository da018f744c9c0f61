//! Inside and outside.

use crate::bracketed_root;
use crate::line_roots::{PARAMETER, turning_parameters};
use kurbo::{BezPath, ParamCurve, PathSeg, Point};

/// The winding number of a closed path about a point: +1 inside a path that
/// runs counter-clockwise, −1 inside one that runs clockwise, 0 outside.
///
/// Counts the crossings of the level half-line to the left of the point (Sunday,
/// "Inclusion of a Point in a Polygon", with rising and falling stretches of the
/// curves in the place of edges).
pub fn winding(path: &BezPath, p: Point) -> i32 {
    winding_of(path.segments(), p)
}

/// The same of the segments of a closed path.
pub fn winding_of(segments: impl Iterator<Item = PathSeg>, p: Point) -> i32 {
    segments.map(|segment| crossings_to_the_left(&segment, p)).sum()
}

fn crossings_to_the_left(segment: &PathSeg, p: Point) -> i32 {
    let cubic = crate::chain::as_cubic(segment);
    let controls = [cubic.p0, cubic.p1, cubic.p2, cubic.p3];
    let above = |q: &Point| q.y > p.y;
    if controls.iter().all(above) || !controls.iter().any(above) {
        return 0;
    }
    // The ends exactly: a line evaluated at its end may miss it by rounding, and
    // a level through the joint with the next segment would then count twice or
    // not at all.
    let height = |t: f64| match t {
        0.0 => cubic.p0.y - p.y,
        1.0 => cubic.p3.y - p.y,
        _ => segment.eval(t).y - p.y,
    };
    let cuts = turning_parameters(controls.map(|q| q.y));
    let mut total = 0;
    for stretch in cuts.windows(2) {
        let (low, high) = (stretch[0], stretch[1]);
        // An end on the level belongs to the stretch below, so that a level
        // through a joint counts once.
        let (from_above, to_above) = (height(low) > 0.0, height(high) > 0.0);
        if from_above == to_above {
            continue;
        }
        let t = bracketed_root(height, low, high, PARAMETER).unwrap_or(low);
        if segment.eval(t).x <= p.x {
            total += if to_above { -1 } else { 1 };
        }
    }
    total
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Affine, CubicBez, Line};
    use proptest::prelude::*;

    proptest! {
        /// A square with straight edges written as cubics, which the closed
        /// cubic formula gets wrong, turned anyhow.
        #[test]
        fn straight_cubics_enclose_what_straight_lines_enclose(
            turn in -3.1f64..3.1, x in -1.5f64..1.5, y in -1.5f64..1.5, clockwise in any::<bool>(),
        ) {
            prop_assume!((x.abs() - 1.0).abs() > 1e-6 && (y.abs() - 1.0).abs() > 1e-6);
            let m = Affine::translate((3.0, -7.0)) * Affine::rotate(turn) * Affine::scale(100.0);
            let mut corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
            if clockwise {
                corners.reverse();
            }
            let corners = corners.map(|c| m * Point::from(c));
            let mut path = BezPath::new();
            path.move_to(corners[0]);
            for i in 0..4 {
                let edge = PathSeg::Line(Line::new(corners[i], corners[(i + 1) % 4]));
                let CubicBez { p1, p2, p3, .. } = crate::chain::as_cubic(&edge);
                path.curve_to(p1, p2, p3);
            }
            path.close_path();
            let inside = x.abs() < 1.0 && y.abs() < 1.0;
            let expected = if !inside { 0 } else if clockwise { -1 } else { 1 };
            prop_assert_eq!(winding(&path, m * Point::new(x, y)), expected);
        }
    }

    #[test]
    fn a_level_through_a_joint_missed_by_rounding_counts_once() {
        let (below, joint) = (Point::new(-5.0, -0.1), Point::new(-10.0, 0.3));
        assert!(Line::new(below, joint).eval(1.0) != joint, "rounding must show here");
        let mut path = BezPath::new();
        path.move_to(below);
        path.line_to(joint);
        path.line_to((-12.0, 9.0));
        path.line_to((12.0, 9.0));
        path.line_to((5.0, -0.1));
        path.close_path();
        for y in [joint.y, joint.y.next_up(), joint.y.next_down()] {
            assert_eq!(winding(&path, Point::new(0.0, y)), -1, "{y}");
            assert_eq!(winding(&path, Point::new(-20.0, y)), 0, "{y}");
        }
    }

    #[test]
    fn a_level_through_a_corner_counts_once() {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((10.0, 5.0));
        path.line_to((0.0, 10.0));
        path.line_to((-10.0, 5.0));
        path.close_path();
        assert_eq!(winding(&path, Point::new(2.0, 5.0)), 1);
        assert_eq!(winding(&path, Point::new(12.0, 5.0)), 0);
        assert_eq!(winding(&path, Point::new(2.0, 10.0)), 0);
        assert_eq!(winding(&path, Point::new(2.0, 0.0)), 0);
    }
}
