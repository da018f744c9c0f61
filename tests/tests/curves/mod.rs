//! Random curves with a fixed seed, and how they are written for the scripts.

use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point, QuadBez, Vec2};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// A chain as the scripts read it: per segment its two to four control points.
pub type Points = Vec<Vec<(f64, f64)>>;

/// The control points of a chain.
pub fn points_of(chain: &Chain) -> Points {
    let pairs = |points: &[Point]| points.iter().map(|p| (p.x, p.y)).collect();
    let segment = |s: &PathSeg| match *s {
        PathSeg::Line(l) => pairs(&[l.p0, l.p1]),
        PathSeg::Quad(q) => pairs(&[q.p0, q.p1, q.p2]),
        PathSeg::Cubic(c) => pairs(&[c.p0, c.p1, c.p2, c.p3]),
    };
    chain.segments().iter().map(segment).collect()
}

/// `count` values of a strategy, the same on every run.
pub fn sample<S: Strategy>(strategy: S, count: usize) -> Vec<S::Value> {
    let mut runner = TestRunner::deterministic();
    (0..count).map(|_| strategy.new_tree(&mut runner).unwrap().current()).collect()
}

fn point() -> impl Strategy<Value = Point> {
    (-300.0f64..300.0, -300.0f64..300.0).prop_map(|(x, y)| Point::new(x, y))
}

fn segment_through(kind: u8, p: [Point; 4]) -> PathSeg {
    match kind {
        0 => PathSeg::Line(Line::new(p[0], p[3])),
        1 => PathSeg::Quad(QuadBez::new(p[0], p[1], p[3])),
        _ => PathSeg::Cubic(CubicBez::new(p[0], p[1], p[2], p[3])),
    }
}

/// One curved segment with control points anywhere.
pub fn wild_segment() -> impl Strategy<Value = Chain> {
    (1u8..3, [point(), point(), point(), point()])
        .prop_map(|(kind, p)| Chain::new(vec![segment_through(kind, p)]).unwrap())
}

/// One to four segments of any kind with control points anywhere: loops, near
/// cusps and sharp corners included.
pub fn wild_chain() -> impl Strategy<Value = Chain> {
    let step = (0u8..3, [point(), point(), point()]);
    (point(), proptest::collection::vec(step, 1..5)).prop_map(|(start, steps)| {
        let mut at = start;
        let segments = steps.into_iter().map(|(kind, [a, b, end])| {
            let segment = segment_through(kind, [at, a, b, end]);
            at = end;
            segment
        });
        Chain::new(segments.collect()).unwrap()
    })
}

/// Two to four segments like those of a seam: each 80 to 300 mm long, turning
/// by at most 40° within, and by at most 25° at the joints.
pub fn seam_like() -> impl Strategy<Value = Chain> {
    bent_by(0u8..3, Just(1.0))
}

/// Cubics that are straight but for a bow of 1 to 10⁻¹⁶ of a seam's: drafted
/// edges are often straight lines written as curves, where formulas that divide
/// by the leading coefficient fail.
pub fn almost_straight() -> impl Strategy<Value = Chain> {
    bent_by(2u8..3, (0i32..17).prop_map(|k| 10f64.powi(-k)))
}

fn bent_by(
    kinds: std::ops::Range<u8>,
    bend: impl Strategy<Value = f64>,
) -> impl Strategy<Value = Chain> {
    let step = (kinds, 80.0f64..300.0, -0.35f64..0.35, -0.35f64..0.35, -0.43f64..0.43);
    let first = (point(), -3.1f64..3.1, bend);
    (first, proptest::collection::vec(step, 2..5)).prop_map(|((start, heading, bend), steps)| {
        let (mut at, mut heading) = (start, heading);
        let segments = steps.into_iter().map(|(kind, chord, leave, arrive, corner)| {
            let (leave, arrive) = (bend * leave, bend * arrive);
            let reach = chord / 3.0;
            let end = at + Vec2::from_angle(heading) * chord;
            let out = at + Vec2::from_angle(heading + leave) * reach;
            let back = end - Vec2::from_angle(heading + arrive) * reach;
            let middle = at + Vec2::from_angle(heading + leave) * (chord / (2.0 * leave.cos()));
            let controls = [at, if kind == 1 { middle } else { out }, back, end];
            at = end;
            heading += corner;
            segment_through(kind, controls)
        });
        Chain::new(segments.collect()).unwrap()
    })
}

/// A closed counter-clockwise outline round the origin, five to eight corners
/// 80 to 220 mm away from it, edges of any kind, some of them all but straight.
pub fn closed_outline() -> impl Strategy<Value = Chain> {
    let bow = || (-40.0f64..40.0, 0i32..17).prop_map(|(b, k)| b * 10f64.powi(-k));
    let bow = move || prop_oneof![3 => -40.0f64..40.0, 1 => bow()];
    let corner = (0u8..3, 80.0f64..220.0, 0.1f64..0.9, bow(), bow());
    proptest::collection::vec(corner, 5..9).prop_map(|corners| {
        let n = corners.len();
        let turn = std::f64::consts::TAU / n as f64;
        let place = |i: usize| {
            let (_, radius, within, ..) = corners[i % n];
            Point::ORIGIN + radius * Vec2::from_angle(turn * ((i % n) as f64 + within))
        };
        let edge = |i: usize| {
            let (kind, .., bow, sway) = corners[i];
            let (a, b) = (place(i), place(i + 1));
            let out = Vec2::new((b - a).y, -(b - a).x).normalize();
            segment_through(
                kind,
                [a, a.lerp(b, 1.0 / 3.0) + out * bow, a.lerp(b, 2.0 / 3.0) + out * sway, b],
            )
        };
        Chain::new((0..n).map(edge).collect()).unwrap()
    })
}
