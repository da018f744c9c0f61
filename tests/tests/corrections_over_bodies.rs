//! What the corrections of the catalogue promise, over random blocks of real
//! bodies and random amounts.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::corrections::Listed;
use hangtrue_adjust::{CATALOGUE, Change, ChangeError, Outcome, walk_all};
use hangtrue_geometry::{Chain, angle_between, bends_one_way};
use hangtrue_pattern::names::CROTCH;
use hangtrue_pattern::{Pattern, Piece, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Blocks of every third body of the survey, drafted once.
static BLOCKS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let plan = Plan::default();
    bodies().iter().step_by(3).filter_map(|b| marked_block(b, &plan)).collect()
});

/// Cases for each correction.
const CASES: u32 = 1_000;

/// What a kept measure and a pair of seams may be off by, mm.
const KEPT: f64 = 0.1;

/// How near an opposite pair brings the outline back, mm.
const RETURNED: f64 = 0.05;

/// What was seen of one correction.
#[derive(Default)]
struct Seen {
    made: usize,
    refused: BTreeMap<String, usize>,
    /// The block has no dart to work on: not asked, not refused.
    no_dart: usize,
    worst_kept: f64,
    worst_match: f64,
    worst_return: f64,
    returned: usize,
    not_returned: usize,
}

fn apply(listed: &Listed, pattern: &Pattern, amount: f64) -> Result<Outcome, ChangeError> {
    Change::Correct((listed.with)(amount)).apply(pattern)
}

fn kind(fault: &ChangeError) -> String {
    let text = fault.to_string();
    format!("{:.60}", text.split(|c: char| c.is_ascii_digit()).next().unwrap_or_default())
}

/// The farthest that places of the one outline lie from the other, seam by seam at
/// equal shares of the sewn length, mm.
fn apart(a: &Piece, b: &Piece) -> f64 {
    let mut worst = 0.0f64;
    for (s, t) in a.seams.iter().zip(&b.seams) {
        for i in 0..=16 {
            let share = f64::from(i) / 16.0;
            let p = s.place(hangtrue_pattern::End::Start, share * s.sewn_length()).point;
            worst = worst.max(t.nearest(p).1);
        }
        worst = worst.max((s.sewn_length() - t.sewn_length()).abs());
    }
    worst
}

fn joints_smooth(chain: &Chain) -> bool {
    chain.segments().windows(2).all(|w| {
        let [a, b] = [w[0], w[1]].map(|s| Chain::new(vec![s]).unwrap());
        angle_between(a.end_direction(), b.start_direction()).abs() < 2e-3
    })
}

fn look(
    listed: &Listed,
    before: &Pattern,
    amount: f64,
    seen: &mut Seen,
) -> Result<(), TestCaseError> {
    let outcome = match apply(listed, before, amount) {
        Ok(outcome) => outcome,
        Err(ChangeError::Unknown { kind: "dart", .. }) => {
            seen.no_dart += 1;
            return Ok(());
        }
        Err(fault) => {
            prop_assert!(!matches!(fault, ChangeError::NotKept { .. }), "{fault}");
            *seen.refused.entry(kind(&fault)).or_default() += 1;
            return Ok(());
        }
    };
    seen.made += 1;
    let after = &outcome.pattern;
    after.check().map_err(|e| TestCaseError::fail(e.to_string()))?;
    prop_assert!(!outcome.kept.is_empty());
    for kept in &outcome.kept {
        seen.worst_kept = seen.worst_kept.max(kept.change().abs());
        prop_assert!(kept.change().abs() < KEPT, "{} {}", kept.measure, kept.change());
    }
    for walked in walk_all(after).unwrap() {
        seen.worst_match = seen.worst_match.max(walked.difference.abs());
        prop_assert!(walked.difference.abs() < KEPT, "{} by {}", walked.join, walked.difference);
        for stretch in &walked.stretches {
            prop_assert!((stretch.first - stretch.second).abs() < KEPT, "{stretch:?}");
        }
    }
    for (old, new) in before.pieces.iter().zip(&after.pieces) {
        let one_way = |p: &Piece| bends_one_way(&p.seam(CROTCH).unwrap().parts[0], 1e-6);
        prop_assert!(one_way(new) || !one_way(old), "the hook of the {}", old.name);
        for (s, t) in old.seams.iter().zip(&new.seams) {
            let was = s.parts.iter().all(joints_smooth);
            prop_assert!(!was || t.parts.iter().all(joints_smooth), "{} of {}", s.name, old.name);
        }
    }
    if listed.about.inverse {
        goes_back(listed, before, after, amount, seen)?;
    }
    Ok(())
}

/// The opposite amount brings every seam back; unless it cannot be made.
fn goes_back(
    listed: &Listed,
    before: &Pattern,
    after: &Pattern,
    amount: f64,
    seen: &mut Seen,
) -> Result<(), TestCaseError> {
    let Ok(back) = apply(listed, after, -amount) else {
        seen.not_returned += 1;
        return Ok(());
    };
    seen.returned += 1;
    for (old, new) in before.pieces.iter().zip(&back.pattern.pieces) {
        let off = apart(old, new);
        seen.worst_return = seen.worst_return.max(off);
        prop_assert!(off < RETURNED, "{amount} and back leaves {off} mm on the {}", old.name);
    }
    for (old, new) in before.pieces.iter().zip(&back.pattern.pieces) {
        for (n, m) in old.notches.iter().zip(&new.notches) {
            prop_assert!((n.distance - m.distance).abs() < RETURNED, "{} {}", n.name, n.seam);
        }
    }
    Ok(())
}

/// Every correction over its sensible range, in two tests that run side by side.
#[test]
fn corrections_keep_their_promises_over_bodies_and_amounts() {
    run_over(0);
}

/// The other half of the catalogue.
#[test]
fn the_other_corrections_keep_their_promises_over_bodies_and_amounts() {
    run_over(1);
}

fn run_over(half: usize) {
    let mut faults = Vec::new();
    println!("correction | made | refused | no dart | worst kept | match | return (cannot)");
    for (index, listed) in CATALOGUE.iter().enumerate().skip(half).step_by(2) {
        let seen = std::cell::RefCell::new(Seen::default());
        let config = Config { cases: CASES, failure_persistence: None, ..Config::default() };
        let seed = u8::try_from(index).unwrap();
        let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]);
        let (low, high) = listed.about.range;
        let run = TestRunner::new_with_rng(config, rng).run(
            &(0..BLOCKS.len(), low..high),
            |(body, amount)| {
                prop_assume!(amount.abs() > 0.01);
                look(listed, &BLOCKS[body], amount, &mut seen.borrow_mut())
            },
        );
        let seen = seen.into_inner();
        let refused: usize = seen.refused.values().sum();
        println!(
            "{} | {} | {refused} {:?} | {} | {:.1e} | {:.1e} | {:.1e} ({} of {})",
            listed.about.name,
            seen.made,
            seen.refused,
            seen.no_dart,
            seen.worst_kept,
            seen.worst_match,
            seen.worst_return,
            seen.not_returned,
            seen.returned + seen.not_returned
        );
        if let Err(fault) = run {
            faults.push(format!("{}: {fault}", listed.about.name));
        }
        if refused * 20 >= refused + seen.made {
            faults.push(format!("{} refuses too often: {refused}", listed.about.name));
        }
        if seen.made < 300 {
            faults.push(format!("{} was made {} times only", listed.about.name, seen.made));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Amount 0 is the same pattern.
#[test]
fn no_amount_changes_nothing() {
    for listed in CATALOGUE {
        let before = &BLOCKS[7];
        assert_eq!(&apply(listed, before, 0.0).unwrap().pattern, before, "{}", listed.about.name);
    }
}

/// Amounts at and beyond the limit are refused with a reason or give a sound
/// pattern.
#[test]
fn large_amounts_are_refused_or_sound() {
    for listed in CATALOGUE {
        for body in (0..BLOCKS.len()).step_by(97) {
            for share in [-3.1, -3.0, -1.7, 1.7, 3.0, 3.1] {
                let amount = share * listed.about.range.1;
                if let Ok(outcome) = apply(listed, &BLOCKS[body], amount) {
                    assert!(share.abs() <= 3.0 && outcome.pattern.check().is_ok());
                }
            }
        }
    }
}
