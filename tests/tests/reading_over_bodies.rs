//! The reading over blocks of real bodies: a planted surplus is proposed by its
//! amount, and the change laid ready can be made on the block.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::reading::{Droop, HangLine, Leg, RuleTable, View, read_toile};
use hangtrue_adjust::{Change, ChangeError};
use hangtrue_pattern::Plan;
use hangtrue_pattern::units::Unit;
use hangtrue_tests::bodies::{bodies, marked_block};
use rayon::prelude::*;

const RULES: &str = include_str!("../../assets/reading/rules.ron");

/// Every line of both legs, back and front; the back thigh hangs by `mm` in the
/// middle.
fn surplus(mm: f64) -> Vec<Droop> {
    let mut droops = Vec::new();
    for line in HangLine::ALL {
        for (view, leg) in View::ALL.into_iter().flat_map(|v| Leg::ALL.map(|l| (v, l))) {
            for at in [0.0, 0.3, 0.5, 0.8, 1.0] {
                let bow = 1.0 - (2.0 * at - 1.0f64).abs();
                let here = (line, view) == (HangLine::Thigh, View::Back);
                let mm = if here { mm * bow } else { 0.0 };
                droops.push(Droop { line, view, leg, at, mm, error: 1.5 });
            }
        }
    }
    droops
}

#[test]
fn a_surplus_under_the_seat_is_laid_on_every_block() {
    let rules: RuleTable = ron::from_str(RULES).unwrap();
    let plan = Plan::default();
    let some: Vec<_> = bodies().into_iter().step_by(9).collect();
    let tried: Vec<Option<ChangeError>> = some
        .par_iter()
        .enumerate()
        .filter_map(|(i, body)| {
            let pattern = marked_block(body, &plan)?;
            let truth = 6.0 + 8.0 * (0.618_034 * i as f64).fract();
            let reading = read_toile(&surplus(truth), &rules, &pattern, Unit::Mm).unwrap();
            let first = &reading.meanings[0];
            assert_eq!(first.rule, "surplus length under the seat");
            assert!((first.amount - truth).abs() < 1e-9);
            let Some(Change::Pinch(change)) = &first.change else { panic!("{first:?}") };
            let laid = change.pinch.lay(&pattern).unwrap();
            assert!((laid.largest().1 - truth).abs() < 1e-9);
            // The largest station lies half way along the thigh line.
            let place = laid.stations[laid.largest().0].0 / laid.path.length();
            assert!((place - 0.5).abs() < 1e-9);
            Some(first.change.as_ref().unwrap().apply(&pattern).err())
        })
        .collect();
    let refused: Vec<String> = tried.iter().flatten().map(ToString::to_string).collect();
    println!("{} blocks, {} refused", tried.len(), refused.len());
    assert!(tried.len() >= 160);
    assert!(refused.len() * 50 <= tried.len(), "{refused:?}");
}
