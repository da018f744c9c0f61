//! What must hold of every curve, whatever its shape.

#![allow(clippy::unwrap_used, reason = "a test that cannot build its case should stop")]

use hangtrue_geometry::{
    Affine, Chain, CubicBez, GeometryError, Line, PathSeg, Point, QuadBez, Vec2, angle_between,
    bends_one_way, blend_corner, lay_along, tolerance, turn_about,
};
use proptest::prelude::*;

fn point() -> impl Strategy<Value = Point> {
    (-300.0f64..300.0, -300.0f64..300.0).prop_map(|(x, y)| Point::new(x, y))
}

/// Control points anywhere: loops and sharp corners included.
fn wild() -> impl Strategy<Value = Chain> {
    proptest::collection::vec(point(), 7).prop_map(|p| {
        Chain::new(vec![
            PathSeg::Line(Line::new(p[0], p[1])),
            PathSeg::Cubic(CubicBez::new(p[1], p[2], p[3], p[4])),
            PathSeg::Quad(QuadBez::new(p[4], p[5], p[6])),
        ])
        .unwrap()
    })
}

/// One cubic of about 100 mm that turns by at most 60°.
fn gentle() -> impl Strategy<Value = Chain> {
    let turn = -0.5f64..0.5;
    (point(), -3.1f64..3.1, turn.clone(), turn, 80.0f64..150.0).prop_map(
        |(a, heading, leave, arrive, chord)| {
            let b = a + Vec2::from_angle(heading) * chord;
            Chain::cubic(CubicBez::new(
                a,
                a + Vec2::from_angle(heading + leave) * (chord / 3.0),
                b - Vec2::from_angle(heading + arrive) * (chord / 3.0),
                b,
            ))
        },
    )
}

fn rigid() -> impl Strategy<Value = Affine> {
    (point(), -3.1f64..3.1, point(), -3.1f64..3.1)
        .prop_map(|(a, u, b, v)| lay_along(a, Vec2::from_angle(u), b, Vec2::from_angle(v)))
}

/// Two fractions in rising order, at least a hundredth apart.
fn stretch() -> impl Strategy<Value = (f64, f64)> {
    (0.0f64..0.98, 0.01f64..1.0).prop_map(|(a, w)| (a, (a + 0.01 + w * (0.99 - a)).min(1.0)))
}

/// The angles between neighbouring segments, radians.
fn turns(chain: &Chain) -> Vec<f64> {
    let single = |s: &PathSeg| Chain::new(vec![*s]).unwrap();
    let pairs = chain.segments().windows(2);
    pairs
        .map(|w| angle_between(single(&w[0]).end_direction(), single(&w[1]).start_direction()))
        .collect()
}

proptest! {
    #[test]
    fn a_part_has_its_length_and_lies_on_the_whole(chain in wild(), (a, b) in stretch()) {
        let length = chain.length();
        let part = chain.part(a * length, b * length).unwrap();
        prop_assert!((part.length() - (b - a) * length).abs() < 1e-6);
        for i in 0..=8 {
            let s = part.length() * f64::from(i) / 8.0;
            prop_assert!(part.point_at(s).distance(chain.point_at(a * length + s)) < 1e-6);
        }
    }

    #[test]
    fn a_part_outside_the_whole_is_refused(chain in wild(), beyond in 1e-3f64..50.0) {
        let length = chain.length();
        let outside = |r| matches!(r, Err(GeometryError::OutsideLength { .. }));
        prop_assert!(outside(chain.part(0.0, length + beyond)));
        prop_assert!(outside(chain.part(-beyond, length)));
        prop_assert!(outside(chain.split_at(length + beyond).map(|parts| parts.0)));
        prop_assert!(outside(chain.lengthened(-length - beyond)));
    }

    #[test]
    fn parts_laid_end_to_end_are_the_whole(chain in wild(), f in 0.01f64..0.99) {
        let (a, b) = chain.split_at(f * chain.length()).unwrap();
        let whole = a.then(&b).unwrap();
        prop_assert!(whole.start() == chain.start() && whole.end() == chain.end());
        prop_assert!((whole.length() - chain.length()).abs() < 1e-6);
        prop_assert!((whole.area_about_origin() - chain.area_about_origin()).abs() < 1e-5);
    }

    #[test]
    fn walking_back_is_the_same_way(chain in wild(), f in 0.0f64..1.0) {
        let (length, back) = (chain.length(), chain.reversed());
        let s = f * length;
        prop_assert!(chain.point_at(s).distance(back.point_at(length - s)) < 1e-6);
        prop_assert!((chain.area_about_origin() + back.area_about_origin()).abs() < 1e-6);
        let (a, b) = (chain.bounds(), back.bounds());
        prop_assert!((a.origin() - b.origin()).hypot() < 1e-9);
        prop_assert!((a.size() - b.size()).to_vec2().hypot() < 1e-9);
    }

    #[test]
    fn curvature_turns_its_sign_backwards_and_scales_with_size(
        chain in gentle(), f in 0.0f64..1.0, scale in 0.5f64..2.0,
    ) {
        let s = f * chain.length();
        let here = chain.curvature_at(s);
        let back = chain.reversed().curvature_at(chain.length() - s);
        prop_assert!((here + back).abs() < 1e-8);
        let larger = chain.moved(Affine::scale(scale));
        prop_assert!((larger.curvature_at(scale * s) * scale - here).abs() < 1e-8);
        prop_assert_eq!(bends_one_way(&chain, 1e-9), bends_one_way(&chain.reversed(), 1e-9));
    }

    #[test]
    fn ends_left_in_place_change_nothing(chain in wild()) {
        let same = chain.with_ends(chain.start(), chain.end());
        prop_assert_eq!(same, chain);
    }

    #[test]
    fn ends_moved_alike_move_the_whole(chain in wild(), by in point()) {
        let by = by.to_vec2();
        let moved = chain.with_ends(chain.start() + by, chain.end() + by);
        let shifted = chain.moved(Affine::translate(by));
        for (a, b) in moved.segments().iter().zip(shifted.segments()) {
            let (a, b) = (a.to_cubic(), b.to_cubic());
            for (p, q) in [(a.p0, b.p0), (a.p1, b.p1), (a.p2, b.p2), (a.p3, b.p3)] {
                prop_assert!(p.distance(q) < 1e-9);
            }
        }
        prop_assert!(Chain::new(moved.segments().to_vec()).is_ok());
    }

    /// Every place of an offset lies its distance away, on its side.
    #[test]
    fn an_offset_keeps_its_distance(chain in gentle(), d in -25.0f64..25.0) {
        prop_assume!(d.abs() > 1.0);
        let offset = chain.offset(d).unwrap();
        for i in 0..=40 {
            let p = offset.point_at(offset.length() * f64::from(i) / 40.0);
            let near = chain.nearest(p);
            prop_assert!((near.distance - d.abs()).abs() < 5.0 * tolerance::OFFSET, "{near:?}");
            let left = chain.direction_at(near.position).cross(p - near.point);
            prop_assert!(left * d > 0.0);
        }
    }

    /// So does that of a curve that is straight, or almost.
    #[test]
    fn an_offset_of_an_almost_straight_curve_keeps_its_distance(
        a in point(), heading in -3.1f64..3.1, bow in -1.0f64..1.0, sway in -1.0f64..1.0,
        exponent in 0i32..17, d in -25.0f64..25.0,
    ) {
        prop_assume!(d.abs() > 1.0);
        let u = Vec2::from_angle(heading);
        let n = Vec2::new(-u.y, u.x) * 10f64.powi(-exponent);
        let at = |x: f64, y: f64| a + u * x + n * y;
        let chain = Chain::cubic(CubicBez::new(
            at(0.0, 0.0), at(60.0, bow), at(120.0, sway), at(180.0, 0.0),
        ));
        let offset = chain.offset(d).unwrap();
        prop_assert!((offset.length() - 180.0).abs() < 1.5, "{}", offset.length());
        for i in 0..=40 {
            let p = offset.point_at(offset.length() * f64::from(i) / 40.0);
            let near = chain.nearest(p);
            prop_assert!((near.distance - d.abs()).abs() < 5.0 * tolerance::OFFSET, "{near:?}");
        }
    }

    #[test]
    fn an_offset_walked_back_is_on_the_other_hand(chain in gentle(), d in 1.0f64..25.0) {
        let there = chain.offset(d).unwrap();
        let back = chain.reversed().offset(-d).unwrap();
        for i in 0..=20 {
            let p = there.point_at(there.length() * f64::from(i) / 20.0);
            prop_assert!(back.nearest(p).distance < 5.0 * tolerance::OFFSET);
        }
    }

    #[test]
    fn a_blended_corner_is_smooth_and_the_rest_untouched(
        a in gentle(), b in gentle(), corner in -1.2f64..1.2, reach in 2.0f64..60.0,
    ) {
        let turned = Vec2::from_angle(corner);
        let u = a.end_direction();
        let out = Vec2::new(u.x * turned.x - u.y * turned.y, u.x * turned.y + u.y * turned.x);
        let b = b.moved(lay_along(b.start(), b.start_direction(), a.end(), out));
        let blended = blend_corner(&a, &b, reach).unwrap();
        for turn in turns(&blended) {
            prop_assert!(turn.abs() < 1e-6, "{turn}");
        }
        prop_assert!(blended.start() == a.start() && blended.end() == b.end());
        let untouched = a.length() - reach.min(0.45 * a.length()).min(0.45 * b.length());
        prop_assert!(blended.point_at(0.5 * untouched).distance(a.point_at(0.5 * untouched)) < 1e-6);
    }

    #[test]
    fn crossings_are_the_same_from_either_side_and_after_a_move(
        a in gentle(), b in gentle(), f in 0.1f64..0.9, g in 0.1f64..0.9,
        angle in 0.2f64..2.9, m in rigid(),
    ) {
        // Laid to cross at a known place, at a known angle.
        let (s, t) = (f * a.length(), g * b.length());
        let at = a.point_at(s);
        let b = b.moved(lay_along(b.point_at(t), b.direction_at(t), at, a.direction_at(s)));
        let b = b.moved(turn_about(at, angle));
        let found = a.crossings(&b);
        let there = found.iter().any(|c| {
            c.point.distance(at) < 1e-7 && (c.here - s).abs() < 1e-6 && (c.there - t).abs() < 1e-6
        });
        prop_assert!(there, "{found:?}");
        prop_assert_eq!(b.crossings(&a).len(), found.len());
        let moved = a.moved(m).crossings(&b.moved(m));
        prop_assert_eq!(moved.len(), found.len());
        for (c, d) in found.iter().zip(&moved) {
            prop_assert!((m * c.point).distance(d.point) < 1e-6);
        }
    }

    /// A line that stops on a curve, or a curve met at a joint, crosses there once.
    #[test]
    fn ends_and_joints_count_as_crossings_once(
        a in gentle(), f in 0.1f64..0.9, angle in 0.3f64..2.8, reach in 20.0f64..60.0,
    ) {
        let s = f * a.length();
        let at = a.point_at(s);
        let u = a.direction_at(s);
        let out = Affine::rotate(angle) * u.to_point();
        let stop = Chain::line(at, at + out.to_vec2() * reach);
        let (before, after) = a.split_at(s).unwrap();
        let joined = before.then(&after).unwrap();
        let near = |found: &[hangtrue_geometry::Crossing]| {
            found.iter().filter(|c| c.point.distance(at) < 1e-5).count()
        };
        for curve in [&a, &joined] {
            prop_assert_eq!(near(&curve.crossings(&stop)), 1);
            prop_assert_eq!(near(&stop.crossings(curve)), 1);
            let line = Line::new(at - out.to_vec2(), at + out.to_vec2());
            prop_assert_eq!(near(&curve.crossings_with_line(line)), 1);
        }
    }

    #[test]
    fn a_saved_chain_reads_back_the_same(chain in wild(), gap in -4e-7f64..4e-7) {
        // Joints within rounding of each other are joined before they are saved.
        let mut segments = chain.segments().to_vec();
        if let PathSeg::Quad(q) = &mut segments[2] {
            q.p0.x += gap;
        }
        let chain = Chain::new(segments).unwrap();
        let text = ron::to_string(&chain).unwrap();
        prop_assert_eq!(ron::from_str::<Chain>(&text).unwrap(), chain);
    }
}

#[test]
fn a_saved_chain_that_is_not_a_curve_is_refused() {
    for (text, why) in [
        ("(start:(0.0,0.0),steps:[])", "at least one segment"),
        ("(start:(0.0,0.0),steps:[Line((NaN,1.0))])", "not a finite number"),
        ("(start:(inf,0.0),steps:[Line((1.0,1.0))])", "not a finite number"),
    ] {
        let refused = ron::from_str::<Chain>(text).unwrap_err().to_string();
        assert!(refused.contains(why), "{refused}");
    }
}
