//! Hangtrue's geometry against scipy, numpy and shapely on random curves.
//!
//! The curves are drawn from a generator with a fixed seed, so a failure can be
//! repeated. Each test prints the worst deviation it saw (`--nocapture`).
//! Sources of the methods stand at the top of the scripts in `tests/oracle`.

#![allow(clippy::unwrap_used, reason = "a test that cannot build its case should stop")]

use crate::curves::{
    Points, almost_straight, closed_outline, points_of, sample, seam_like, wild_chain, wild_segment,
};
use hangtrue_geometry::{Affine, Chain, Point, Profile, angle_between, hermite, turn_about};
use hangtrue_tests::ask;
use kurbo::ParamCurve;
use proptest::prelude::*;
use serde::Deserialize;
use serde_json::json;

/// Keeps the largest deviation, and the case it belongs to.
#[derive(Default)]
struct Worst {
    deviation: f64,
    case: usize,
    checks: usize,
}

impl Worst {
    fn see(&mut self, deviation: f64, case: usize) {
        self.checks += 1;
        if deviation.is_nan() || deviation > self.deviation {
            (self.deviation, self.case) = (deviation, case);
        }
    }

    #[track_caller]
    fn within(&self, allowed: f64, at_least: usize, what: &str) {
        println!("{what}: worst {:.3e} of {} (case {})", self.deviation, self.checks, self.case);
        assert!(self.checks >= at_least, "{what}: only {} checks were made", self.checks);
        assert!(
            self.deviation <= allowed,
            "{what}: {:.3e} is more than {allowed:e}, case {}",
            self.deviation,
            self.case
        );
    }
}

/// 1e-6 mm, or 1e-6 of the value.
const EXACT: f64 = 1e-6;

#[test]
fn arc_length_and_point_at_length_agree_with_quadrature() {
    #[derive(Deserialize)]
    struct Answer {
        length: f64,
        points: Vec<(f64, f64)>,
    }
    let mut chains = sample(wild_chain(), 200);
    chains.extend(sample(seam_like(), 200));
    chains.extend(sample(almost_straight(), 100));
    let fractions = [0.137, 0.5, 0.861];
    let records: Vec<Points> = chains.iter().map(points_of).collect();
    let answers: Vec<Answer> =
        ask("lengths.py", &json!({"chains": records, "fractions": fractions})).unwrap();
    let (mut lengths, mut places) = (Worst::default(), Worst::default());
    for (case, (chain, answer)) in chains.iter().zip(&answers).enumerate() {
        let length = chain.length();
        lengths.see((length - answer.length).abs(), case);
        for (fraction, &place) in fractions.iter().zip(&answer.points) {
            let ours = chain.point_at(fraction * answer.length);
            places.see(ours.distance(Point::from(place)), case);
        }
    }
    lengths.within(EXACT, 500, "arc length, mm");
    places.within(EXACT, 1500, "point at length, mm");
}

#[test]
fn area_of_closed_outlines_agrees_with_green_and_with_polygons() {
    #[derive(Deserialize)]
    struct Answer {
        green: f64,
        polygon: f64,
        simple: bool,
    }
    let outlines = sample(closed_outline(), 300);
    let records: Vec<Points> = outlines.iter().map(points_of).collect();
    let answers: Vec<Answer> = ask("areas.py", &json!({"chains": records})).unwrap();
    let (mut green, mut polygon) = (Worst::default(), Worst::default());
    for (case, (outline, answer)) in outlines.iter().zip(&answers).enumerate() {
        let area = outline.area_about_origin();
        green.see((area / answer.green - 1.0).abs(), case);
        if answer.simple {
            polygon.see((area / answer.polygon - 1.0).abs(), case);
        }
    }
    green.within(EXACT, 300, "area against Green's integral, relative");
    // The polygon has 2000 chords a segment, which lie inside a convex edge.
    polygon.within(EXACT, 200, "area against a polygon, relative");
}

#[test]
fn crossings_agree_with_shapely_finished_by_minpack() {
    #[derive(Deserialize)]
    struct Hit {
        point: (f64, f64),
        sine: f64,
    }
    /// Curves that meet at less than this (sine of the angle) all but touch:
    /// whether they cross is decided by rounding, so neither side is held to it.
    const TOUCHING: f64 = 2e-2;
    let mut pairs = sample((wild_chain(), wild_chain()), 200);
    pairs.extend(sample((seam_like(), seam_like()), 100));
    pairs.extend(sample((almost_straight(), seam_like()), 150));
    pairs.extend(sample((almost_straight(), almost_straight()), 150));
    // Laid with their middles on each other, so that most pairs do cross.
    for (a, b) in pairs.iter_mut().skip(100) {
        let middle = |c: &Chain| c.point_at(0.5 * c.length());
        *b = b.moved(Affine::translate(middle(a) - middle(b)));
    }
    let records: Vec<_> = pairs.iter().map(|(a, b)| (points_of(a), points_of(b))).collect();
    let answers: Vec<Vec<Hit>> = ask("crossings.py", &json!({"pairs": records})).unwrap();
    let (mut missed, mut invented, mut on_curve) =
        (Worst::default(), Worst::default(), Worst::default());
    for (case, ((a, b), hits)) in pairs.iter().zip(&answers).enumerate() {
        let ours = a.crossings(b);
        let nearest = |p: Point, to: &mut dyn Iterator<Item = Point>| {
            to.map(|q| q.distance(p)).fold(f64::INFINITY, f64::min)
        };
        for hit in hits.iter().filter(|h| h.sine > TOUCHING) {
            missed.see(nearest(hit.point.into(), &mut ours.iter().map(|c| c.point)), case);
        }
        for c in &ours {
            on_curve.see(a.point_at(c.here).distance(c.point), case);
            on_curve.see(b.point_at(c.there).distance(c.point), case);
            let angle = angle_between(a.direction_at(c.here), b.direction_at(c.there));
            if angle.sin().abs() > TOUCHING {
                let theirs = &mut hits.iter().map(|h| Point::from(h.point));
                invented.see(nearest(c.point, theirs), case);
            }
        }
    }
    missed.within(EXACT, 1000, "their crossings to ours, mm");
    invented.within(EXACT, 1000, "our crossings to theirs, mm");
    on_curve.within(EXACT, 2000, "our crossings on both curves, mm");
}

#[test]
fn offsets_agree_with_their_definition() {
    #[derive(Deserialize)]
    struct Answer {
        kept: Vec<(f64, f64)>,
        off: Vec<f64>,
    }
    /// What an offset may be off, mm.
    const OFFSET: f64 = 0.01;
    let mut seams = sample((seam_like(), 5.0f64..25.0, any::<bool>()), 200);
    seams.extend(sample((almost_straight(), 5.0f64..25.0, any::<bool>()), 100));
    let cases: Vec<_> = seams
        .iter()
        .map(|(chain, d, left)| {
            let d = if *left { *d } else { -d };
            (chain, d, chain.offset(d).unwrap())
        })
        .collect();
    let records: Vec<_> = cases
        .iter()
        .map(|(chain, d, ours)| {
            let asked: Vec<_> = along(ours, 60).map(|p| (p.x, p.y)).collect();
            (points_of(chain), d, asked)
        })
        .collect();
    let answers: Vec<Answer> = ask("offsets.py", &json!({"cases": records})).unwrap();
    let (mut theirs, mut back) = (Worst::default(), Worst::default());
    for (case, ((_, _, ours), answer)) in cases.iter().zip(&answers).enumerate() {
        for &p in &answer.kept {
            theirs.see(ours.nearest(p.into()).distance, case);
        }
        for &off in &answer.off {
            back.see(off, case);
        }
    }
    theirs.within(OFFSET, 15_000, "points c(t) + d·n(t) to our offset, mm");
    back.within(OFFSET, 12_000, "our offset from its distance, mm");
}

/// Places spread evenly along a chain, ends included.
fn along(chain: &Chain, steps: u32) -> impl Iterator<Item = Point> + '_ {
    let length = chain.length();
    (0..=steps).map(move |i| chain.point_at(length * f64::from(i) / f64::from(steps)))
}

#[test]
fn the_nearest_place_agrees_with_bounded_minimisation() {
    #[derive(Deserialize)]
    struct Answer {
        distance: f64,
        point: (f64, f64),
        position: f64,
        runner_up: f64,
    }
    let place = (-350.0f64..350.0, -350.0f64..350.0);
    let mut cases = sample((wild_chain(), place.clone()), 300);
    cases.extend(sample((seam_like(), place.clone()), 200));
    cases.extend(sample((almost_straight(), place), 100));
    let records: Vec<_> = cases.iter().map(|(c, p)| (points_of(c), p)).collect();
    let answers: Vec<Answer> = ask("nearest.py", &json!({"cases": records})).unwrap();
    let (mut distance, mut point, mut position) =
        (Worst::default(), Worst::default(), Worst::default());
    for (case, ((chain, p), answer)) in cases.iter().zip(&answers).enumerate() {
        let ours = chain.nearest(Point::from(*p));
        distance.see((ours.distance - answer.distance).abs(), case);
        // Where a second place is as near, either may be named.
        if answer.runner_up - answer.distance > 1e-3 {
            point.see(ours.point.distance(answer.point.into()), case);
            position.see((ours.position - answer.position).abs(), case);
        }
    }
    distance.within(EXACT, 500, "nearest distance, mm");
    point.within(EXACT, 450, "nearest point, mm");
    position.within(EXACT, 450, "position of the nearest point, mm");
}

#[test]
fn curvature_agrees_with_finite_differences() {
    let cases = sample((wild_segment(), 0.0f64..1.0), 500);
    let records: Vec<_> = cases.iter().map(|(c, t)| (points_of(c).swap_remove(0), t)).collect();
    let answers: Vec<f64> = ask("curvatures.py", &json!({"cases": records})).unwrap();
    let mut worst = Worst::default();
    for (case, ((chain, t), theirs)) in cases.iter().zip(&answers).enumerate() {
        let before = Chain::new(vec![chain.segments()[0].subsegment(0.0..*t)]).unwrap();
        let ours = chain.curvature_at(before.length());
        worst.see((ours - theirs).abs() / theirs.abs().max(1e-3), case);
    }
    worst.within(EXACT, 500, "curvature, relative (floor 1/m)");
}

#[test]
fn a_chain_of_hermite_cubics_nears_the_elliptic_integral() {
    let axes = [(150.0, 100.0), (240.0, 60.0), (95.0, 95.0)];
    let exact: serde_json::Value = ask("closed_forms.py", &json!({"ellipses": axes})).unwrap();
    let mut worst = Worst::default();
    for (case, (a, b)) in axes.into_iter().enumerate() {
        let exact = exact["ellipses"][case].as_f64().unwrap();
        let off = |n: u32| (quarter_ellipse(a, b, n).length() - exact).abs();
        // A handle of a third of the chord is short by a part in h², which moves
        // the length by one in h⁴: half the step, a sixteenth of the error.
        let ratio = off(32) / off(64);
        assert!((14.0..18.0).contains(&ratio), "{a} × {b}: {ratio}");
        worst.see(off(512), case);
    }
    worst.within(EXACT, 3, "quarter ellipse of 512 cubics, mm");
}

fn quarter_ellipse(a: f64, b: f64, segments: u32) -> Chain {
    let at = |i: u32| std::f64::consts::FRAC_PI_2 * f64::from(i) / f64::from(segments);
    let place = |u: f64| Point::new(a * u.cos(), b * u.sin());
    let heading = |u: f64| hangtrue_geometry::Vec2::new(-a * u.sin(), b * u.cos());
    let piece = |i| {
        let (u, v) = (at(i), at(i + 1));
        hangtrue_geometry::PathSeg::Cubic(hermite(place(u), heading(u), place(v), heading(v)))
    };
    Chain::new((0..segments).map(piece).collect()).unwrap()
}

#[test]
fn a_profile_with_equal_spacing_is_the_monotone_interpolant() {
    // With equal spacing Fritsch and Butland's slopes are those of scipy's
    // interpolant inside; the rules for the two end slopes differ, so the first
    // and last stretch are left out.
    let cases = sample(proptest::collection::vec(-25.0f64..25.0, 5..9), 200);
    let stations: Vec<Vec<(f64, f64)>> = cases
        .iter()
        .map(|w| w.iter().enumerate().map(|(i, &w)| (40.0 * i as f64, w)).collect())
        .collect();
    let inner = |s: &[(f64, f64)]| -> Vec<f64> {
        let end = 40.0 * (s.len() - 2) as f64;
        (0..=50).map(|i| 40.0 + (end - 40.0) * f64::from(i) / 50.0).collect()
    };
    let records: Vec<_> = stations.iter().map(|s| (s, inner(s))).collect();
    let answer: serde_json::Value = ask("closed_forms.py", &json!({"profiles": records})).unwrap();
    let theirs: Vec<Vec<f64>> = serde_json::from_value(answer["profiles"].clone()).unwrap();
    let mut worst = Worst::default();
    for (case, (stations, theirs)) in stations.iter().zip(&theirs).enumerate() {
        let ours = Profile::new(stations).unwrap();
        for (s, w) in inner(stations).iter().zip(theirs) {
            worst.see((ours.at(*s) - w).abs(), case);
        }
    }
    worst.within(1e-9, 10_000, "profile, mm");
}

#[test]
fn inside_and_outside_agree_with_polygons() {
    #[derive(Deserialize)]
    struct Answer {
        inside: bool,
        edge: f64,
    }
    let place = (-250.0f64..250.0, -250.0f64..250.0);
    let cases = sample((closed_outline(), proptest::collection::vec(place, 20)), 100);
    let records: Vec<_> = cases.iter().map(|(c, p)| (points_of(c), p)).collect();
    let answer: serde_json::Value = ask("closed_forms.py", &json!({"inside": records})).unwrap();
    let theirs: Vec<Vec<Answer>> = serde_json::from_value(answer["inside"].clone()).unwrap();
    let mut compared = 0;
    for ((outline, places), answers) in cases.iter().zip(&theirs) {
        let mut path = outline.to_path();
        path.close_path();
        for (&p, answer) in places.iter().zip(answers) {
            // A millimetre's hundredth: the chords of the polygon.
            if answer.edge > 0.01 {
                compared += 1;
                let ours = hangtrue_geometry::winding(&path, p.into()) != 0;
                assert_eq!(ours, answer.inside, "{p:?} in {outline:?}");
            }
        }
    }
    assert!(compared > 1_500, "only {compared}");
}

proptest! {
    /// Closed form: a point at radius r swings by the chord 2·r·sin(φ/2).
    #[test]
    fn a_wedge_swings_its_far_edge_by_the_chord(
        x in -500.0f64..500.0, y in -500.0f64..500.0,
        r in 1.0f64..1000.0, heading in -3.1f64..3.1, phi in -3.1f64..3.1,
    ) {
        let hinge = Point::new(x, y);
        let far = hinge + r * hangtrue_geometry::Vec2::from_angle(heading);
        let swung = turn_about(hinge, phi) * far;
        prop_assert!((swung.distance(far) - 2.0 * r * (phi.abs() / 2.0).sin()).abs() < 1e-9);
        prop_assert!((swung.distance(hinge) - r).abs() < 1e-9);
    }
}
