//! A small hand-made pattern for unit tests. Its numbers are invented.

use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point, Vec2, hermite};
use hangtrue_pattern::names::*;
use hangtrue_pattern::{
    Dart, End, Fold, Grain, Join, JoinSide, Pattern, Piece, Place, Purpose, ReferenceLine, Rule,
    Seam, rule,
};

struct Shape {
    name: &'static str,
    /// +1 as the back lies, −1 mirrored as the front lies.
    face: f64,
    lean: f64,
    centre_top: Point,
    joint_drop: f64,
    crotch_point: Point,
    dart: f64,
}

fn piece(shape: &Shape) -> Piece {
    let down = Vec2::new(-shape.lean.sin(), -shape.lean.cos());
    let side_top = Point::new(120.0, 205.0);
    let side_down = Vec2::new(0.12, -1.0).normalize();
    let across = Vec2::new(side_down.y, -side_down.x);
    let apex = Point::new(10.0, 105.0);
    let (leg, half) = (105.0, shape.dart / 210.0);
    let leg_to = |a: f64| apex + Vec2::new(a.sin(), a.cos()) * leg;
    let square = |a: f64| Vec2::new(-a.cos(), a.sin());
    let (right, left) = (leg_to(half), leg_to(-half));
    let c = shape.centre_top;
    let waist = Seam {
        name: WAIST.into(),
        starts_at: WAIST_SIDE.into(),
        parts: vec![
            Chain::cubic(hermite(side_top, across, right, square(half))),
            Chain::cubic(hermite(left, square(-half), c, Vec2::new(down.y, -down.x))),
        ],
        darts: vec![Dart { name: format!("{} dart", shape.name), apex, fold: Fold::ToEnd }],
    };
    let joint = c + down * shape.joint_drop;
    let x = shape.crotch_point;
    let into = Vec2::new(-1.0, -0.06).normalize();
    let knee = Line::new(joint, joint + down).crossing_point(Line::new(x, x + into)).unwrap();
    let hook = CubicBez::new(joint, joint.lerp(knee, 0.5), x.lerp(knee, 0.6), x);
    let crotch =
        Chain::new(vec![PathSeg::Line(Line::new(c, joint)), PathSeg::Cubic(hook)]).unwrap();
    let (hem_in, hem_out) = (Point::new(-105.0, -740.0), Point::new(105.0, -740.0));
    let in_down = Vec2::new(-into.y, into.x);
    let mid = Point::new(-112.0, -330.0);
    let inseam = Chain::cubic(hermite(x, in_down, mid, hem_in - mid))
        .then(&Chain::line(mid, hem_in))
        .unwrap();
    let hip = Point::new(136.0, 70.0);
    let low = Point::new(112.0, -330.0);
    let side = Chain::line(hem_out, low)
        .then(&Chain::cubic(hermite(low, low - hem_out, hip, Vec2::new(0.0, 1.0))))
        .unwrap()
        .then(&Chain::cubic(hermite(hip, Vec2::new(0.0, 1.0), side_top, -side_down)))
        .unwrap();
    let piece = Piece {
        name: shape.name.into(),
        seams: vec![
            waist,
            Seam::plain(CROTCH, WAIST_CENTRE, crotch),
            Seam::plain(INSEAM, CROTCH_POINT, inseam),
            Seam::plain(HEM, HEM_INSEAM, Chain::line(hem_in, hem_out)),
            Seam::plain(SIDE, HEM_SIDE, side),
        ],
        grain: Grain { from: Point::new(0.0, -600.0), to: Point::new(0.0, 50.0) },
        notches: vec![],
        inner: vec![],
        parted: None,
    };
    if shape.face > 0.0 { piece } else { mirrored(piece) }
}

fn mirrored(mut piece: Piece) -> Piece {
    let flip = hangtrue_geometry::Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    for seam in &mut piece.seams {
        *seam = seam.moved(flip);
    }
    piece
}

/// A back and a front with the usual joins and lines.
pub(crate) fn pattern() -> Pattern {
    let back = piece(&Shape {
        name: BACK,
        face: 1.0,
        lean: 0.15,
        centre_top: Point::new(-75.0, 224.0),
        joint_drop: 140.0,
        crotch_point: Point::new(-215.0, -4.0),
        dart: 26.0,
    });
    let front = piece(&Shape {
        name: FRONT,
        face: -1.0,
        lean: 0.03,
        centre_top: Point::new(-88.0, 202.0),
        joint_drop: 120.0,
        crotch_point: Point::new(-160.0, 0.0),
        dart: 14.0,
    });
    let side = |p| JoinSide::new(p, SIDE, End::End);
    let inseam = |p| JoinSide::new(p, INSEAM, End::Start);
    let join = |name: &str, first, second| Join { name: name.into(), first, second, ease: 0.0 };
    let mut pattern = Pattern {
        pieces: vec![back.into(), front.into()],
        joins: vec![
            join("side seam", side(BACK), Some(side(FRONT))),
            join("inseam", inseam(BACK), Some(inseam(FRONT))),
            join("centre back", JoinSide::new(BACK, CROTCH, End::Start), None),
            join("centre front", JoinSide::new(FRONT, CROTCH, End::Start), None),
        ]
        .into(),
        lines: vec![].into(),
    };
    for p in [BACK, FRONT] {
        let mut add = |name: &str, rule| {
            pattern.lines.push(ReferenceLine {
                name: name.into(),
                piece: p.into(),
                rule,
                purpose: Purpose::Cloth("to be read on the body".into()),
                last: None,
                cloth: None,
            });
        };
        add(
            HIP_BALANCE,
            Rule::EqualDepth(rule::EqualDepth {
                first: (SIDE.into(), End::End),
                second: (CROTCH.into(), End::Start),
                depth: 139.7,
            }),
        );
        add(
            THIGH,
            Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop: 50.8 }),
        );
    }
    pattern
}

#[test]
fn the_sample_is_sound() {
    pattern().check().unwrap();
}
