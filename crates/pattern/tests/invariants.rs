//! What must hold of every seam, piece and pattern, whatever its shape.

#![allow(clippy::unwrap_used, reason = "a test that cannot build its case should stop")]

use hangtrue_geometry::{Affine, Chain, CubicBez, Line, Point, Vec2, angle_between, lay_along};
use hangtrue_pattern::units::{INCH, Unit, read_length, show_length};
use hangtrue_pattern::{
    Dart, End, Fold, Grain, InnerLine, Join, JoinSide, Leg, Notch, NotchKind, Pattern,
    PatternError, Piece, Place, Purpose, ReferenceLine, Rule, Seam, SeamPlace, names, rule,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

fn point() -> impl Strategy<Value = Point> {
    (-300.0f64..300.0, -300.0f64..300.0).prop_map(|(x, y)| Point::new(x, y))
}

fn rigid() -> impl Strategy<Value = Affine> {
    (point(), -3.1f64..3.1, point(), -3.1f64..3.1)
        .prop_map(|(a, u, b, v)| lay_along(a, Vec2::from_angle(u), b, Vec2::from_angle(v)))
}

fn fold() -> impl Strategy<Value = Fold> {
    prop_oneof![Just(Fold::ToStart), Just(Fold::ToEnd)]
}

/// A bowed edge between two points; `bow` is the sideways reach of its handles
/// as a share of its chord.
fn bowed(a: Point, b: Point, bow: f64) -> Chain {
    let out = Vec2::new((b - a).y, -(b - a).x) * bow;
    Chain::cubic(CubicBez::new(a, a.lerp(b, 1.0 / 3.0) + out, a.lerp(b, 2.0 / 3.0) + out, b))
}

/// A seam with one dart of equal legs whose mouth lies between two bowed parts.
fn darted() -> impl Strategy<Value = Seam> {
    let shape = (60.0f64..150.0, 0.03f64..0.2, 60.0f64..120.0, 60.0f64..120.0);
    (point(), shape, -0.1f64..0.1, -0.1f64..0.1, fold()).prop_map(
        |(apex, (leg, half, left, right), bow, sway, fold)| {
            let (a, b) = (
                apex + Vec2::new(-half.sin(), half.cos()) * leg,
                apex + Vec2::new(half.sin(), half.cos()) * leg,
            );
            Seam {
                name: names::WAIST.into(),
                starts_at: names::WAIST_SIDE.into(),
                parts: vec![
                    bowed(a - Vec2::new(left, 0.0), a, bow),
                    bowed(b, b + Vec2::new(right, 0.0), sway),
                ],
                darts: vec![Dart { name: "waist dart".into(), apex, fold }],
            }
        },
    )
}

/// A piece with the trouser names, bowed edges and one waist dart; clockwise
/// round from the side corner of the waist.
fn backs() -> impl Strategy<Value = Piece> {
    let corner = || (-20.0f64..20.0, -20.0f64..20.0).prop_map(|(x, y)| Vec2::new(x, y));
    let corners = [corner(), corner(), corner(), corner(), corner()];
    let bows = [-0.05f64..0.05, -0.05f64..0.05, -0.05f64..0.05, -0.05f64..0.05];
    (corners, bows, 80.0f64..120.0, 5.0f64..15.0, fold()).prop_map(
        |(shift, bow, depth, half, fold)| {
            let place =
                [(110.0, 200.0), (-100.0, 200.0), (-200.0, 0.0), (-100.0, -700.0), (100.0, -700.0)];
            let p: Vec<Point> =
                place.iter().zip(shift).map(|(&p, by)| Point::from(p) + by).collect();
            let along = (p[1] - p[0]).normalize();
            let middle = p[0].midpoint(p[1]);
            let apex = middle - Vec2::new(along.y, -along.x) * depth;
            let waist = Seam {
                name: names::WAIST.into(),
                starts_at: names::WAIST_SIDE.into(),
                parts: vec![
                    Chain::line(p[0], middle - along * half),
                    Chain::line(middle + along * half, p[1]),
                ],
                darts: vec![Dart { name: "waist dart".into(), apex, fold }],
            };
            let edge = |name, corner, i: usize| {
                Seam::plain(name, corner, bowed(p[i], p[(i + 1) % 5], bow[i - 1]))
            };
            Piece {
                name: names::BACK.into(),
                seams: vec![
                    waist,
                    edge(names::CROTCH, names::WAIST_CENTRE, 1),
                    edge(names::INSEAM, names::CROTCH_POINT, 2),
                    edge(names::HEM, names::HEM_INSEAM, 3),
                    edge(names::SIDE, names::HEM_SIDE, 4),
                ],
                grain: Grain { from: Point::new(0.0, -600.0), to: Point::new(0.0, 50.0) },
                notches: vec![Notch {
                    name: "balance".into(),
                    seam: names::SIDE.into(),
                    from: End::End,
                    distance: 210.5,
                    kind: NotchKind::Double,
                }],
                inner: vec![InnerLine {
                    name: "pocket".into(),
                    chain: bowed(Point::new(-40.0, 60.0), Point::new(60.0, 70.0), 0.04),
                }],
                parted: None,
            }
        },
    )
}

fn moved_piece(piece: &Piece, by: Affine) -> Piece {
    Piece {
        seams: piece.seams.iter().map(|s| s.moved(by)).collect(),
        grain: Grain { from: by * piece.grain.from, to: by * piece.grain.to },
        inner: piece
            .inner
            .iter()
            .map(|l| InnerLine { name: l.name.clone(), chain: l.chain.moved(by) })
            .collect(),
        ..piece.clone()
    }
}

fn on_seam(seam: &str, from: End, distance: f64) -> SeamPlace {
    SeamPlace { seam: seam.into(), from, distance }
}

/// One line by every kind of rule.
fn pattern_of(piece: Piece) -> Pattern {
    let corner = |name: &str| Place::Corner(name.into());
    let rules = [
        (
            names::HIP,
            Rule::SquareToGrain(rule::SquareToGrain { through: Place::Apex("waist dart".into()) }),
        ),
        (
            names::HIP_BALANCE,
            Rule::EqualDepth(rule::EqualDepth {
                first: (names::SIDE.into(), End::End),
                second: (names::CROTCH.into(), End::Start),
                depth: 139.7,
            }),
        ),
        (names::THIGH, Rule::Below(rule::Below { place: corner(names::CROTCH_POINT), drop: 50.8 })),
        (
            names::KNEE,
            Rule::Through(rule::Through {
                first: on_seam(names::INSEAM, End::End, 330.0),
                second: on_seam(names::SIDE, End::Start, 330.0),
            }),
        ),
        (
            "level thigh",
            Rule::Bowed(rule::Bowed {
                first: on_seam(names::INSEAM, End::Start, 60.0),
                second: on_seam(names::SIDE, End::End, 260.0),
                first_quarter: 6.0,
                middle: 9.0,
                last_quarter: 7.0,
            }),
        ),
        (
            "along the waist",
            Rule::Follow(rule::Follow { seam: names::WAIST.into(), distance: 60.0 }),
        ),
        ("turn-up", Rule::ParallelTo(rule::ParallelTo { seam: names::HEM.into(), distance: 40.0 })),
        (
            "mid thigh",
            Rule::Between(rule::Between {
                first: names::THIGH.into(),
                second: names::KNEE.into(),
                fraction: 0.4,
            }),
        ),
    ];
    let line = |(name, rule): (&str, Rule)| ReferenceLine {
        name: name.into(),
        piece: names::BACK.into(),
        rule,
        purpose: if name == names::HIP {
            Purpose::Paper("it shows how the block was drafted".into())
        } else {
            Purpose::Cloth("it is read on the body".into())
        },
        last: None,
        cloth: None,
    };
    Pattern {
        pieces: vec![piece.into()],
        joins: vec![Join {
            name: "centre back".into(),
            first: JoinSide::new(names::BACK, names::CROTCH, End::Start),
            second: None,
            ease: 0.0,
        }]
        .into(),
        lines: rules.into_iter().map(line).collect(),
    }
}

/// The checks below go over every rule there is.
#[test]
fn the_pattern_has_a_line_by_every_rule() {
    let any = backs().new_tree(&mut TestRunner::deterministic()).unwrap();
    let pattern = pattern_of(any.current());
    let named: Vec<&str> = pattern.lines.iter().map(|line| line.rule.about().name).collect();
    for listed in rule::RULES {
        let name = listed.about.name;
        assert!(named.contains(&name), "add a line by “{name}” to pattern_of, in this file");
    }
}

proptest! {
    #[test]
    fn a_rigid_move_keeps_every_sewn_measure(seam in darted(), m in rigid()) {
        let moved = seam.moved(m);
        prop_assert!((moved.sewn_length() - seam.sewn_length()).abs() < 1e-6);
        prop_assert!((moved.intake(0) - seam.intake(0)).abs() < 1e-9);
        prop_assert!((moved.closing_turn(0) - seam.closing_turn(0)).abs() < 1e-9);
        let (a, b) = (moved.leg_lengths(0), seam.leg_lengths(0));
        prop_assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9);
    }

    /// Closed form: the intake is 2·leg·sin(angle / 2).
    #[test]
    fn closing_a_dart_brings_its_legs_together(seam in darted()) {
        let sewn = seam.sewn_parts();
        prop_assert!(sewn[0].end().distance(sewn[1].start()) < 1e-9);
        let lengths: f64 = sewn.iter().map(Chain::length).sum();
        prop_assert!((lengths - seam.sewn_length()).abs() < 1e-6);
        let chord = 2.0 * seam.leg_lengths(0).0 * (seam.dart_angle(0) / 2.0).sin();
        prop_assert!((seam.intake(0) - chord).abs() < 1e-9);
        prop_assert!(sewn[0].then(&sewn[1]).is_ok());
    }

    /// The cap lies in the mouth, peaks on the fold line, and its two halves
    /// are each other's mirror image there.
    #[test]
    fn a_cap_runs_from_leg_to_leg_and_is_its_own_mirror_image(seam in darted()) {
        let cap = seam.cap(0).unwrap();
        prop_assert!(cap.start().distance(seam.parts[0].end()) < 1e-6);
        prop_assert!(cap.end().distance(seam.parts[1].start()) < 1e-6);
        let apex = seam.darts[0].apex;
        let half = 0.5 * cap.length();
        let peak = cap.point_at(half);
        prop_assert!((peak - apex).normalize().cross(Vec2::new(0.0, 1.0)).abs() < 1e-6);
        for s in [0.2 * half, 0.6 * half] {
            let (p, q) = (cap.point_at(half - s), cap.point_at(half + s));
            prop_assert!((p.x + q.x - 2.0 * apex.x).abs() < 1e-5 && (p.y - q.y).abs() < 1e-5);
        }
    }

    #[test]
    fn a_place_is_the_same_from_both_ends(seam in darted(), f in 0.0f64..1.0) {
        let length = seam.sewn_length();
        let d = f * length;
        let (a, b) = (seam.place(End::Start, d), seam.place(End::End, length - d));
        prop_assert!(a.point.distance(b.point) < 1e-6 || a.part != b.part);
        prop_assert!((a.position - d).abs() < 1e-9 && (b.position - d).abs() < 1e-9);
        prop_assert!((seam.distance_from(End::End, a.position) - (length - d)).abs() < 1e-9);
        let (near, distance) = seam.nearest(a.point);
        prop_assert!(distance < 1e-6 && near.point.distance(a.point) < 1e-6);
    }

    #[test]
    fn places_outside_a_seam_are_held_at_its_ends(seam in darted(), beyond in 0.0f64..50.0) {
        let length = seam.sewn_length();
        prop_assert!(seam.place(End::Start, -beyond).point == seam.start());
        prop_assert!(seam.place(End::Start, length + beyond).point.distance(seam.end()) < 1e-6);
        prop_assert!(seam.place(End::Start, length + beyond).position <= length + 1e-9);
        prop_assert!(seam.place(End::Start, -beyond).position >= 0.0);
    }

    #[test]
    fn a_piece_keeps_its_area_under_a_move_and_turns_over_in_a_mirror(
        piece in backs(), m in rigid(),
    ) {
        piece.check().unwrap();
        let moved = moved_piece(&piece, m);
        moved.check().unwrap();
        prop_assert!((moved.signed_area() / piece.signed_area() - 1.0).abs() < 1e-9);
        let turned = moved_piece(&piece, Affine::FLIP_X);
        prop_assert!((turned.signed_area() / piece.signed_area() + 1.0).abs() < 1e-9);
        prop_assert!(turned.orientation() == -piece.orientation());
    }

    /// Lines are associative: moving the piece and placing anew is placing and
    /// then moving.
    #[test]
    fn lines_go_with_their_piece(piece in backs(), m in rigid()) {
        let here = pattern_of(piece);
        let there = Pattern { pieces: vec![moved_piece(&here.pieces[0], m).into()], ..here.clone() };
        let ((before, missing), (after, lost)) = (here.place_lines(), there.place_lines());
        prop_assert!(missing.is_empty() && lost.is_empty(), "{missing:?} {lost:?}");
        prop_assert_eq!(before.len(), here.lines.len());
        for (a, b) in before.iter().zip(&after) {
            prop_assert!((m * a.chain.start()).distance(b.chain.start()) < 1e-5, "{}", a.name);
            prop_assert!((m * a.chain.end()).distance(b.chain.end()) < 1e-5, "{}", a.name);
            prop_assert_eq!(a.ends.len(), 2, "{}", a.name);
            for (e, f) in a.ends.iter().zip(&b.ends) {
                prop_assert_eq!(&e.seam, &f.seam);
                prop_assert!((e.position - f.position).abs() < 1e-5);
            }
        }
    }

    #[test]
    fn a_line_square_to_the_grain_is_square_to_the_grain(piece in backs(), m in rigid()) {
        let pattern = pattern_of(moved_piece(&piece, m));
        let line = pattern.place_line(names::BACK, names::THIGH).unwrap();
        let along = line.chain.end() - line.chain.start();
        let turn = angle_between(pattern.pieces[0].grain.direction(), along).abs();
        prop_assert!((turn - std::f64::consts::FRAC_PI_2).abs() < 1e-9);
        let inside = line.chain.point_at(0.5 * line.chain.length());
        prop_assert!(pattern.pieces[0].contains(inside));
    }

    /// The crossing of any line with the outline lies on both.
    #[test]
    fn crossings_of_a_line_lie_on_the_named_seam(piece in backs(), p in point(), turn in -1.5f64..1.5) {
        let d = Vec2::from_angle(turn);
        let line = Line::new(p, p + d);
        let found = piece.crossings_with_line(line);
        for &(index, position, along) in &found {
            let place = piece.seams[index].place(End::Start, position).point;
            prop_assert!(place.distance(p + d * along) < 1e-6);
        }
        prop_assert!(found.windows(2).all(|w| w[0].2 <= w[1].2));
    }

    #[test]
    fn a_saved_pattern_reads_back_the_same(piece in backs(), m in rigid()) {
        let pattern = pattern_of(moved_piece(&piece, m));
        let pretty = ron::ser::to_string_pretty(&pattern, Default::default()).unwrap();
        prop_assert_eq!(ron::from_str::<Pattern>(&pretty).unwrap(), pattern.clone());
        let plain = ron::to_string(&pattern).unwrap();
        prop_assert_eq!(ron::from_str::<Pattern>(&plain).unwrap(), pattern);
    }

    /// What is shown reads back to within half a step of what was shown.
    #[test]
    fn a_shown_length_reads_back_within_half_a_step(mm in -3000.0f64..3000.0) {
        for (unit, step) in [
            (Unit::Mm, 0.1),
            (Unit::Cm, 0.1),
            (Unit::Eighths, INCH / 8.0),
            (Unit::Sixteenths, INCH / 16.0),
            (Unit::ThirtySeconds, INCH / 32.0),
        ] {
            let shown = show_length(mm, unit);
            // The mark of a rounded length is not part of the number.
            let read = read_length(shown.trim_start_matches('≈'), Unit::Mm).unwrap();
            prop_assert!((read - mm).abs() <= 0.5 * step + 1e-9, "{shown}");
        }
    }

    #[test]
    fn a_length_is_the_same_in_every_way_of_writing_it(whole in 0u32..120, steps in 1u32..32) {
        let mm = (f64::from(whole) + f64::from(steps) / 32.0) * INCH;
        for text in [
            format!("{whole} {steps}/32 in"),
            format!("{whole}-{steps}/32\""),
            format!("{whole} {steps}/32"),
            format!("  {whole}  {steps}/32 inches "),
            format!("{} mm", mm),
            format!("{}cm", mm / 10.0),
        ] {
            prop_assert!((read_length(&text, Unit::Mm).unwrap() - mm).abs() < 1e-9, "{text}");
            let minus = format!("-{}", text.trim());
            prop_assert!((read_length(&minus, Unit::Mm).unwrap() + mm).abs() < 1e-9, "{minus}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Parting keeps every length to the last digit, and each leg alone is the
    /// pattern that was parted.
    #[test]
    fn each_leg_of_a_parted_pattern_is_the_pattern_itself(piece in backs()) {
        let whole = pattern_of(piece);
        let apart = whole.apart().unwrap();
        prop_assert!(apart.is_apart() && apart.check().is_ok());
        let again = matches!(apart.apart(), Err(PatternError::AlreadyApart { .. }));
        prop_assert!(again);
        for leg in Leg::BOTH {
            prop_assert_eq!(&apart.one_leg(leg), &whole);
            prop_assert_eq!(&apart.with_leg(leg, &apart.one_leg(leg)), &apart);
            let piece = apart.piece(apart.piece_for(leg, names::BACK).unwrap()).unwrap();
            prop_assert_eq!(piece.leg(), Some(leg));
            let lengths = |p: &Piece| p.seams.iter().map(Seam::sewn_length).collect::<Vec<_>>();
            prop_assert_eq!(lengths(piece), lengths(&whole.pieces[0]));
            let turns = if leg == Leg::Left { -1.0 } else { 1.0 };
            prop_assert_eq!(piece.orientation(), turns * whole.pieces[0].orientation());
        }
    }

    /// A change of one leg leaves the other exactly as it is.
    #[test]
    fn a_leg_laid_back_leaves_the_other_exact(piece in backs(), by in point(), left in any::<bool>()) {
        let apart = pattern_of(piece).apart().unwrap();
        let leg = if left { Leg::Left } else { Leg::Right };
        let mut one = apart.one_leg(leg);
        one.pieces[0] = moved_piece(&one.pieces[0], Affine::translate(by.to_vec2())).into();
        one.lines.pop();
        let after = apart.with_leg(leg, &one);
        prop_assert_eq!(after.one_leg(leg), one);
        prop_assert_eq!(after.one_leg(leg.other()), apart.one_leg(leg.other()));
    }
}
