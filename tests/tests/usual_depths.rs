//! Where the usual lines lie on blocks of the survey's bodies.

#![allow(clippy::unwrap_used)] // a helper of tests may stop a test

use hangtrue_adjust::{UsualDepths, pulled_length, usual_lines, walk_all};
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{Measures, Pattern, Plan, ReferenceLine, Rule, draft, names};
use hangtrue_tests::bodies::bodies;

fn depth(pattern: &Pattern, unit: Unit, name: &str) -> f64 {
    let lines = usual_lines(pattern, UsualDepths::of(unit)).unwrap();
    // On one of the pieces the thigh line hangs from the place where the other meets it.
    let own = |l: &&ReferenceLine| l.name == name && !matches!(l.rule, Rule::SquareToGrain(_));
    let line = lines.iter().find(own);
    pulled_length(&line.unwrap().rule).unwrap()
}

fn blocks() -> Vec<Pattern> {
    let some = bodies().into_iter().step_by(31);
    some.map(|body| draft(&body, &Plan::default()).unwrap().pattern).collect()
}

fn demo(unit: Unit) -> Pattern {
    let body: Measures = ron::from_str(include_str!("../../assets/demo/measures.ron")).unwrap();
    draft(&body, &Plan::usual(unit)).unwrap().pattern
}

/// Common practice, no published source: 5 1/2 in below the natural waist, and about 2 in below
/// the crotch point, on a mid-size adult; the demo's invented body is one. The survey's
/// waist is at the navel and lies lower, so that its bodies have less.
#[test]
fn on_a_mid_size_adult_they_are_near_the_customary_ones() {
    for (name, customary) in [(names::HIP_BALANCE, 5.5), (names::THIGH, 2.0)] {
        let own = depth(&demo(Unit::Sixteenths), Unit::Sixteenths, name) / INCH;
        assert!((own - customary).abs() <= 0.5, "{name}: {own} in");
        let all = blocks().into_iter().map(|b| depth(&b, Unit::Sixteenths, name));
        let mut all: Vec<f64> = all.collect();
        all.sort_by(f64::total_cmp);
        let [least, median, most] = [0, all.len() / 2, all.len() - 1].map(|i| all[i] / INCH);
        println!("{name}: {own} in; survey {least} to {most} in, median {median}");
        assert!(most > least, "one number for everybody: {least}");
    }
}

/// The hip balance line lies above the hip line on every body, by the body's own share.
#[test]
fn the_hip_balance_line_lies_above_the_hip_line() {
    for pattern in blocks() {
        for piece in &pattern.pieces {
            let hip = piece.notches.iter().find(|n| n.name == "hip").unwrap().distance;
            let share = depth(&pattern, Unit::Mm, names::HIP_BALANCE) / hip;
            assert!((share - 0.75).abs() < 0.03, "{share}");
        }
    }
}

#[test]
fn the_demo_uses_none_of_the_customary_numbers() {
    for unit in [Unit::Sixteenths, Unit::Mm] {
        let pattern = demo(unit);
        let (hip, thigh) =
            (depth(&pattern, unit, names::HIP_BALANCE), depth(&pattern, unit, names::THIGH));
        println!("demo in {unit:?}: {hip} {thigh}");
        assert!((hip - 5.5 * INCH).abs() > 0.1 && (thigh - 2.0 * INCH).abs() > 0.1);
    }
}

/// A fresh block needs no truing: lengths, corners and darts.
#[test]
fn a_fresh_block_walks_true() {
    for pattern in blocks() {
        for walked in walk_all(&pattern).unwrap() {
            assert!(walked.is_true(), "{walked:?}");
        }
    }
}
