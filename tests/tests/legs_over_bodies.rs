//! Left and right apart, over random blocks of real bodies, methods and amounts.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::{
    CATALOGUE, Change, JoinLegs, Method, OneLeg, PartLegs, Pinch, PinchChange, compare_measures,
    left_to_true, read_as_sewn, walk_all,
};
use hangtrue_pattern::names::{BACK, FRONT, THIGH};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Leg, Pattern, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::sync::LazyLock;

/// Blocks of every body, drafted once.
static BLOCKS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let plan = Plan::default();
    bodies().iter().filter_map(|b| marked_block(b, &plan)).collect()
});

fn runner(cases: u32, seed: u8) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]))
}

fn apart(whole: &Pattern) -> Pattern {
    Change::PartLegs(PartLegs).apply(whole).unwrap().pattern
}

fn pinch(piece: &str, method: usize, amount: f64) -> Change {
    let pinch = Pinch::in_the_middle("seat", piece, THIGH, amount);
    let [first, second, third] = Method::all(Unit::Mm);
    let method = [first, second, third].into_iter().nth(method).unwrap();
    Change::Pinch(PinchChange { pinch, method })
}

fn sorted(mut pattern: Pattern) -> Pattern {
    pattern.lines.sort_by(|a, b| (&a.piece, &a.name).cmp(&(&b.piece, &b.name)));
    pattern
}

/// Every body of the sample: parting changes no measure by a single digit, and
/// apart and together is the block itself.
#[test]
fn parting_every_block_keeps_every_measure_and_joining_gives_it_back() {
    assert_eq!(BLOCKS.len(), 1517);
    for whole in BLOCKS.iter() {
        let parted = apart(whole);
        let compared = compare_measures(whole, &parted);
        assert!(compared.len() > 30);
        for c in &compared {
            assert_eq!(c.before, c.after, "{}", c.measure);
        }
        let walked = walk_all(&parted).unwrap();
        assert!(walked.len() == 6 && walked.iter().all(|w| w.matches), "{walked:?}");
        for from in [None, Some(Leg::Left), Some(Leg::Right)] {
            let join = Change::JoinLegs(JoinLegs { from, within: 0.0 });
            assert_eq!(&join.apply(&parted).unwrap().pattern, whole);
        }
    }
}

/// 1,500 changes on one leg: the other leg stays exact, the changed leg is what
/// the shared pattern would have become, and after truing every seam walks.
#[test]
fn a_change_on_one_leg_is_that_change_and_no_other() {
    let made = std::cell::Cell::new(0);
    let case = (0..BLOCKS.len(), 0usize..3, -8.0f64..12.0, any::<bool>(), any::<bool>());
    runner(1500, 11)
        .run(&case, |(body, method, amount, left, on_back)| {
            let leg = if left { Leg::Left } else { Leg::Right };
            let whole = &BLOCKS[body];
            let parted = apart(whole);
            let change = pinch(if on_back { BACK } else { FRONT }, method, amount);
            let on_leg = Change::OneLeg(OneLeg { leg, change: Box::new(change.clone()) });
            let (shared, single) = (change.apply(whole), on_leg.apply(&parted));
            prop_assert_eq!(shared.is_ok(), single.is_ok());
            let (Ok(shared), Ok(single)) = (shared, single) else { return Ok(()) };
            made.set(made.get() + 1);
            prop_assert_eq!(&single.pattern.one_leg(leg.other()), &parted.one_leg(leg.other()));
            prop_assert_eq!(sorted(single.pattern.one_leg(leg)), sorted(shared.pattern.clone()));
            let both = change.apply(&parted).unwrap().pattern;
            prop_assert_eq!(sorted(both), sorted(apart(&shared.pattern)));
            let mut after = single.pattern;
            let (lengths, _) = left_to_true(&after).unwrap();
            for fix in lengths {
                after = Change::TrueLength(fix).apply(&after).unwrap().pattern;
            }
            let walked = walk_all(&after).unwrap();
            prop_assert!(walked.iter().all(|w| w.matches), "{:?}", walked);
            prop_assert!(read_as_sewn(&after).is_ok());
            Ok(())
        })
        .unwrap();
    println!("made of 1500: {}", made.get());
    assert!(made.get() > 1000, "most changes can be made: {}", made.get());
}

/// Every correction of the catalogue over random bodies: what it does on one leg
/// is what it does to the shared pattern, the other leg stays exact, and made on a
/// parted pattern without naming a leg it is made on both.
#[test]
fn every_correction_is_made_on_one_leg_or_on_both() {
    let made = std::cell::RefCell::new(vec![0u32; CATALOGUE.len()]);
    let case = (0..BLOCKS.len(), 0..CATALOGUE.len(), 0.05f64..0.5, any::<bool>(), any::<bool>());
    runner(1000, 13)
        .run(&case, |(body, which, share, up, left)| {
            let leg = if left { Leg::Left } else { Leg::Right };
            let listed = &CATALOGUE[which];
            let range = listed.about.range;
            let amount = share * if up { range.1 } else { range.0 };
            let whole = &BLOCKS[body];
            let parted = apart(whole);
            let change = Change::Correct((listed.with)(amount));
            let on_leg = Change::OneLeg(OneLeg { leg, change: Box::new(change.clone()) });
            let (shared, single) = (change.apply(whole), on_leg.apply(&parted));
            prop_assert_eq!(shared.is_ok(), single.is_ok(), "{}", listed.about.name);
            let (Ok(shared), Ok(single)) = (shared, single) else { return Ok(()) };
            made.borrow_mut()[which] += 1;
            prop_assert_eq!(&single.pattern.one_leg(leg.other()), &parted.one_leg(leg.other()));
            prop_assert_eq!(sorted(single.pattern.one_leg(leg)), sorted(shared.pattern.clone()));
            let both = change.apply(&parted);
            prop_assert!(both.is_ok(), "{}: {:?}", listed.about.name, both.err());
            if let Ok(both) = both {
                prop_assert_eq!(sorted(both.pattern), sorted(apart(&shared.pattern)));
            }
            Ok(())
        })
        .unwrap();
    println!("made of 1000: {}", made.borrow().iter().sum::<u32>());
    let never: Vec<&str> = CATALOGUE
        .iter()
        .zip(made.borrow().iter())
        .filter(|(_, made)| **made == 0)
        .map(|(listed, _)| listed.about.name)
        .collect();
    assert!(never.is_empty(), "{never:?}");
}
