//! The body against the survey's measures, and as a solid.
#![allow(clippy::unwrap_used)]

use crate::common::survey::survey;
use hangtrue_drape::body::{Breadths, Handles, build};
use hangtrue_drape::{Position, Solid};
use hangtrue_pattern::{Measure, Measures};

fn demo() -> Measures {
    ron::from_str(include_str!("../../../assets/demo/measures.ron")).unwrap()
}

#[test]
fn most_bodies_of_the_survey_are_met_and_the_rest_refused_by_name() {
    let (mut met, mut count) = (0, 0);
    // Every eighth of the sample; `examples/bodies.rs` does them all.
    for (name, measures, breadths) in survey().into_iter().step_by(8) {
        count += 1;
        match build(&measures, &breadths, &Handles::default()) {
            Ok(body) => {
                for (measure, asked, came) in &body.read {
                    assert!((asked - came).abs() <= 1.0, "{name}: {measure} {came} for {asked}");
                }
                met += usize::from(body.breadths.iter().all(|(_, a, c)| (a - c).abs() <= 10.0));
            }
            Err(why) => {
                let words = why.to_string();
                assert!(words.contains("girth") || words.contains("crotch length"), "{words}");
            }
        }
    }
    eprintln!("{met} of {count} met");
    assert!(met as f64 >= 0.95 * f64::from(count), "{met} of {count}");
}

#[test]
fn a_body_is_closed_and_its_slope_is_its_own() {
    let body = build(&demo(), &Breadths::default(), &Handles::default()).unwrap();
    let step = 1e-4;
    let mut inside = 0;
    let mut steepest = 0.0_f64;
    for k in 0..4000 {
        // An even scatter over a box about the body (additive recurrence).
        let part = |a: f64| (0.5 + a * f64::from(k)).fract();
        let at = Position::new(
            500.0 * part(0.819_172_5) - 250.0,
            440.0 * part(0.671_043_6) - 220.0,
            1040.0 * part(0.549_700_5),
        );
        let (level, slope) = body.shape.probe(&at);
        assert!(level.is_finite() && slope.iter().all(|s| s.is_finite()), "{at}");
        inside += usize::from(level < 0.0);
        if at.x.abs() > 230.0 || at.y.abs() > 200.0 {
            assert!(level > 0.0, "{at} inside");
        }
        if level > 0.0 {
            steepest = steepest.max(slope.norm());
        }
        // Where it is touched: near the skin.
        if level.abs() < 15.0 && at.x.abs() > 1.0 {
            for axis in 0..3 {
                let mut way = Position::zeros();
                way[axis] = step;
                let by_hand = (body.shape.level_at(&(at + way)) - body.shape.level_at(&(at - way)))
                    / (2.0 * step);
                assert!((by_hand - slope[axis]).abs() < 2e-3, "{at} {axis}: {by_hand} {slope}");
            }
            assert!((0.3..2.5).contains(&slope.norm()), "{at}: {}", slope.norm());
        }
    }
    assert!(inside > 500, "{inside}");
    eprintln!("steepest {steepest}, told {}", body.shape.steepest());
    assert!(steepest <= body.shape.steepest(), "{steepest}");
}

#[test]
fn an_impossible_body_is_refused_by_name() {
    let mut measures = demo();
    measures.set(Measure::CrotchLength, 980.0);
    let fault = build(&measures, &Breadths::default(), &Handles::default()).unwrap_err();
    assert!(fault.to_string().contains("crotch length"), "{fault}");
    let handles = Handles { seat: f64::NAN, ..Handles::default() };
    let fault = build(&demo(), &Breadths::default(), &handles).unwrap_err();
    assert!(fault.to_string().contains("seat"), "{fault}");
}

#[test]
fn no_body_is_steeper_than_it_says() {
    let mut nearest = 0.0_f64;
    for (name, measures, breadths) in survey().into_iter().step_by(40) {
        let Ok(body) = build(&measures, &breadths, &Handles::default()) else { continue };
        let told = body.shape.steepest();
        let part = |a: f64, k: i32| (0.5 + a * f64::from(k)).fract();
        for k in 0..4000 {
            // About the seat and the fork, where sections change most.
            let at = Position::new(
                500.0 * part(0.819_172_5, k) - 250.0,
                440.0 * part(0.671_043_6, k) - 220.0,
                body.shape.base - 250.0 + 400.0 * part(0.549_700_5, k),
            );
            let (level, slope) = body.shape.probe(&at);
            if level > 0.0 {
                nearest = nearest.max(slope.norm() / told);
                assert!(slope.norm() <= told, "{name} at {at}: {} over {told}", slope.norm());
            }
        }
    }
    eprintln!("at most {nearest:.2} of what is told");
}
