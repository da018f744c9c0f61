//! A front and a back drawn by hand for the print tests: invented, of nobody's
//! measures, with darts, notches, lines for the cloth and for paper, one line
//! whose rule cannot be met, and a pocket.
// A helper of tests: what fails here must stop the test.
#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub mod python;

use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point, QuadBez, Vec2};
use hangtrue_pattern::names::*;
use hangtrue_pattern::*;

fn line(a: (f64, f64), b: (f64, f64)) -> PathSeg {
    PathSeg::Line(Line::new(a, b))
}

fn cubic(a: (f64, f64), b: (f64, f64), c: (f64, f64), d: (f64, f64)) -> PathSeg {
    PathSeg::Cubic(CubicBez::new(a, b, c, d))
}

fn chain(segments: Vec<PathSeg>) -> Chain {
    Chain::new(segments).unwrap()
}

/// A waist from `from` to `to` with a dart of the given half angle, its legs as
/// long as the waist is far from the apex.
fn waist(from: (f64, f64), to: (f64, f64), apex: (f64, f64), half: f64, fold: Fold) -> Seam {
    let (from, to, apex) = (Point::from(from), Point::from(to), Point::from(apex));
    let along = (to - from).normalize();
    let foot = from + along * (apex - from).dot(along);
    let leg = apex.distance(foot) / half.cos() - 1.5;
    let up = (foot - apex).normalize();
    let turned =
        |a: f64| Vec2::new(up.x * a.cos() - up.y * a.sin(), up.x * a.sin() + up.y * a.cos());
    let (mut a, mut b) = (apex + turned(half) * leg, apex + turned(-half) * leg);
    if (a - from).dot(along) > (b - from).dot(along) {
        std::mem::swap(&mut a, &mut b);
    }
    let bow = |p: Point, q: Point| {
        let middle = p.midpoint(q);
        Chain::new(vec![PathSeg::Quad(QuadBez::new(p, middle - up * 1.5, q))]).unwrap()
    };
    Seam {
        name: WAIST.into(),
        starts_at: WAIST_SIDE.into(),
        parts: vec![bow(from, a), bow(b, to)],
        darts: vec![Dart { name: "waist dart".into(), apex, fold }],
    }
}

/// The back; `lowered` takes that much, mm, off the top of the centre back.
pub fn back(lowered: f64) -> Piece {
    let centre = (-84.0 - 0.2 * lowered, 285.0 - lowered);
    Piece {
        name: BACK.into(),
        seams: vec![
            waist((122.0, 262.0), centre, (22.0, 142.0), 0.1, Fold::ToEnd),
            Seam::plain(
                CROTCH,
                WAIST_CENTRE,
                chain(vec![
                    line(centre, (-122.0, 96.0)),
                    cubic((-122.0, 96.0), (-138.0, 20.0), (-172.0, 0.0), (-222.0, -6.0)),
                ]),
            ),
            Seam::plain(
                INSEAM,
                CROTCH_POINT,
                chain(vec![
                    cubic((-222.0, -6.0), (-176.0, -110.0), (-134.0, -240.0), (-122.0, -370.0)),
                    cubic((-122.0, -370.0), (-116.0, -440.0), (-112.0, -600.0), (-110.0, -762.0)),
                ]),
            ),
            Seam::plain(
                HEM,
                HEM_INSEAM,
                Chain::line(Point::new(-110.0, -762.0), Point::new(98.0, -762.0)),
            ),
            Seam::plain(
                SIDE,
                HEM_SIDE,
                chain(vec![
                    cubic((98.0, -762.0), (102.0, -600.0), (106.0, -480.0), (112.0, -370.0)),
                    cubic((112.0, -370.0), (122.0, -220.0), (154.0, -60.0), (150.0, 80.0)),
                    cubic((150.0, 80.0), (147.0, 160.0), (130.0, 220.0), (122.0, 262.0)),
                ]),
            ),
        ],
        grain: Grain { from: Point::new(-5.0, -700.0), to: Point::new(-5.0, 120.0) },
        notches: vec![
            Notch {
                name: "knee".into(),
                seam: SIDE.into(),
                from: End::Start,
                distance: 392.0,
                kind: NotchKind::Double,
            },
            Notch {
                name: "knee".into(),
                seam: INSEAM.into(),
                from: End::End,
                distance: 392.0,
                kind: NotchKind::Double,
            },
            Notch {
                name: "hip".into(),
                seam: SIDE.into(),
                from: End::End,
                distance: 183.0,
                kind: NotchKind::Double,
            },
            Notch {
                name: "seat".into(),
                seam: CROTCH.into(),
                from: End::Start,
                distance: 150.0,
                kind: NotchKind::Double,
            },
        ],
        inner: vec![InnerLine {
            name: "patch pocket".into(),
            chain: Chain::line(Point::new(-62.0, 176.0), Point::new(84.0, 168.0)),
        }],
        parted: None,
    }
}

/// The front.
pub fn front() -> Piece {
    Piece {
        name: FRONT.into(),
        seams: vec![
            waist((-108.0, 262.0), (108.0, 250.0), (-20.0, 162.0), 0.085, Fold::ToEnd),
            Seam::plain(
                CROTCH,
                WAIST_CENTRE,
                chain(vec![
                    line((108.0, 250.0), (118.0, 62.0)),
                    cubic((118.0, 62.0), (121.0, 20.0), (136.0, 3.0), (170.0, 0.0)),
                ]),
            ),
            Seam::plain(
                INSEAM,
                CROTCH_POINT,
                chain(vec![
                    cubic((170.0, 0.0), (134.0, -120.0), (114.0, -240.0), (106.0, -370.0)),
                    cubic((106.0, -370.0), (100.0, -480.0), (96.0, -620.0), (94.0, -762.0)),
                ]),
            ),
            Seam::plain(
                HEM,
                HEM_INSEAM,
                Chain::line(Point::new(94.0, -762.0), Point::new(-90.0, -762.0)),
            ),
            Seam::plain(
                SIDE,
                HEM_SIDE,
                chain(vec![
                    cubic((-90.0, -762.0), (-94.0, -600.0), (-98.0, -480.0), (-102.0, -370.0)),
                    cubic((-102.0, -370.0), (-110.0, -220.0), (-136.0, -60.0), (-132.0, 80.0)),
                    cubic((-132.0, 80.0), (-129.0, 160.0), (-114.0, 220.0), (-108.0, 262.0)),
                ]),
            ),
        ],
        grain: Grain { from: Point::new(2.0, -700.0), to: Point::new(2.0, 120.0) },
        notches: vec![
            Notch {
                name: "knee".into(),
                seam: SIDE.into(),
                from: End::Start,
                distance: 392.0,
                kind: NotchKind::Single,
            },
            Notch {
                name: "knee".into(),
                seam: INSEAM.into(),
                from: End::End,
                distance: 392.0,
                kind: NotchKind::Single,
            },
            Notch {
                name: "hip".into(),
                seam: SIDE.into(),
                from: End::End,
                distance: 183.0,
                kind: NotchKind::Single,
            },
        ],
        inner: vec![],
        parted: None,
    }
}

/// The whole sample, the centre back lowered by so much, mm.
pub fn sample(lowered: f64) -> Pattern {
    let level = |piece: &str, name: &str, drop: f64, purpose: Purpose| ReferenceLine {
        name: name.into(),
        piece: piece.into(),
        rule: Rule::Below(rule::Below { place: Place::Corner(CROTCH_POINT.into()), drop }),
        purpose,
        last: None,
        cloth: None,
    };
    let cloth = || Purpose::Cloth("read on the body".into());
    let mut lines = Vec::new();
    for piece in [BACK, FRONT] {
        lines.push(ReferenceLine {
            name: HIP_BALANCE.into(),
            piece: piece.into(),
            rule: Rule::EqualDepth(rule::EqualDepth {
                first: (SIDE.into(), End::End),
                second: (CROTCH.into(), End::Start),
                depth: 183.0,
            }),
            purpose: cloth(),
            last: None,
            cloth: None,
        });
        lines.push(level(piece, HIP, -80.0, Purpose::Paper("how it was drafted".into())));
        lines.push(level(piece, THIGH, 50.8, cloth()));
        lines.push(level(piece, KNEE, 364.0, cloth()));
    }
    let mut pattern = Pattern {
        pieces: vec![back(lowered).into(), front().into()],
        joins: vec![].into(),
        lines: lines.into_iter().collect(),
    };
    let mut calf = level(FRONT, "calf", 520.0, cloth());
    pattern.lines.push(calf.clone());
    pattern.remember_lines();
    calf = pattern.lines.pop().unwrap();
    calf.rule = Rule::SquareToGrain(rule::SquareToGrain {
        through: Place::Corner("a corner that is gone".into()),
    });
    pattern.lines.push(calf);
    pattern.check().unwrap();
    pattern
}
