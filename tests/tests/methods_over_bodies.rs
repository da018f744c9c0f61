//! What the methods promise, over random blocks of real bodies and random
//! amounts.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::{
    Change, ChangeError, Distribute, Mates, Method, Outcome, Pinch, PinchChange, SecondCut, Share,
    SlashAndLap, TopAndScoop, propose, walk_all,
};
use hangtrue_geometry::{angle_between, bends_one_way};
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, THIGH, WAIST, WAIST_CENTRE};
use hangtrue_pattern::{End, Pattern, Piece, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Blocks of every body, drafted once.
static BLOCKS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let plan = Plan::default();
    bodies().iter().filter_map(|b| marked_block(b, &plan)).collect()
});

/// What a kept crotch seam may be off, mm.
const CROTCH_KEPT: f64 = 0.1;

/// What the solver is held to, mm.
const HELD: f64 = 1e-5;

fn runner(cases: u32, seed: u8) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]))
}

fn length(piece: &Piece, seam: &str) -> f64 {
    piece.seam(seam).unwrap().sewn_length()
}

fn apply(pattern: &Pattern, amount: f64, method: Method) -> Result<Outcome, ChangeError> {
    let pinch = Pinch::in_the_middle("seat", BACK, THIGH, amount);
    Change::Pinch(PinchChange { pinch, method }).apply(pattern)
}

/// Why changes were refused, counted by the kind of refusal.
#[derive(Default)]
struct Refusals(BTreeMap<&'static str, usize>);

impl Refusals {
    fn note(&mut self, fault: &ChangeError) {
        let kind = match fault {
            ChangeError::CrotchCannotHold { .. } => "crotch cannot hold",
            ChangeError::CrotchTooTight { .. } => "crotch too tight",
            ChangeError::OutOfReach { .. } => "out of reach",
            ChangeError::BreaksPattern(_) => "would break the outline",
            ChangeError::AmountTooLarge { .. } => "too steep",
            ChangeError::NotKept { .. } => "not kept",
            ChangeError::TooMuchEase { .. } => "too much ease",
            ChangeError::Geometry { .. } => "geometry",
            _ => "other",
        };
        *self.0.entry(kind).or_default() += 1;
    }
}

/// Top and scoop over 12,000 cases: −20 to +15 mm on any of the 1,517 bodies. (At 20 mm
/// two of five crotch curves cannot give it any more, and say so.)
#[test]
fn top_and_scoop_keeps_the_crotch_seam_over_bodies_and_amounts() {
    assert_eq!(BLOCKS.len(), 1517);
    const CASES: u32 = 12_000;
    let mut refusals = Refusals::default();
    let counted = std::cell::RefCell::new(&mut refusals);
    let case = (0..BLOCKS.len(), -20.0f64..15.0, 5.0f64..60.0);
    runner(CASES, 7)
        .run(&case, |(body, amount, zero)| {
            prop_assume!(amount.abs() > 0.01);
            let before = &BLOCKS[body];
            let method = TopAndScoop { zero_from_side: zero, ..TopAndScoop::default() };
            match apply(before, amount, Method::TopAndScoop(method)) {
                Ok(outcome) => scooped(before, &outcome, amount, zero)?,
                Err(fault) => counted.borrow_mut().note(&fault),
            }
            Ok(())
        })
        .unwrap();
    println!("refused of {CASES}: {:?}", refusals.0);
    let refused: usize = refusals.0.values().sum();
    // A refusal is honest, but the method is of no use if it refuses often.
    assert!(refused * 50 < CASES as usize, "{:?}", refusals.0);
    assert!(!refusals.0.contains_key("not kept") && !refusals.0.contains_key("geometry"));
}

fn scooped(
    before: &Pattern,
    outcome: &Outcome,
    amount: f64,
    zero: f64,
) -> Result<(), TestCaseError> {
    let (old, new) = (before.piece(BACK).unwrap(), outcome.pattern.piece(BACK).unwrap());
    const { assert!(HELD < CROTCH_KEPT) };
    prop_assert!((length(old, CROTCH) - length(new, CROTCH)).abs() < HELD);
    // The centre goes down by the amount along the centre seam.
    let (top, low) = (old.corner(WAIST_CENTRE).unwrap(), new.corner(WAIST_CENTRE).unwrap());
    let down = old.seam(CROTCH).unwrap().parts[0].start_direction();
    prop_assert!(((low - top).dot(down) - amount).abs() < HELD);
    prop_assert!((low - top).cross(down).abs() < HELD);
    // Side seam, inseam and hem are untouched; the waist up to its zero place too.
    for seam in [SIDE, INSEAM, HEM] {
        prop_assert_eq!(old.seam(seam).unwrap(), new.seam(seam).unwrap());
    }
    let waist = |p: &Piece, s: f64| p.seam(WAIST).unwrap().place(End::Start, s).point;
    for share in [0.3, 0.7, 1.0] {
        prop_assert!(waist(old, zero * share).distance(waist(new, zero * share)) < HELD);
    }
    // The curve stays one smooth bend with its directions at both ends.
    let (was, is) = (&old.seam(CROTCH).unwrap().parts[0], &new.seam(CROTCH).unwrap().parts[0]);
    prop_assert!(bends_one_way(is, 1e-6));
    prop_assert!(angle_between(was.start_direction(), is.start_direction()).abs() < 1e-9);
    prop_assert!(angle_between(was.end_direction(), is.end_direction()).abs() < 1e-9);
    for pair in is.segments().windows(2) {
        let [a, b] = [&pair[0], &pair[1]].map(|s| hangtrue_geometry::Chain::new(vec![*s]).unwrap());
        prop_assert!(angle_between(a.end_direction(), b.start_direction()).abs() < 1e-6, "G1");
    }
    prop_assert!(outcome.kept.iter().all(|k| k.change().abs() < CROTCH_KEPT));
    outcome.pattern.check().map_err(|e| TestCaseError::fail(e.to_string()))?;
    seams_match(&outcome.pattern)
}

fn seams_match(pattern: &Pattern) -> Result<(), TestCaseError> {
    for walked in walk_all(pattern).unwrap() {
        prop_assert!(walked.difference.abs() < 0.1, "{} by {}", walked.join, walked.difference);
    }
    Ok(())
}

/// The first second cut proposed, and the one taken, never cost waist girth while
/// another gives back what it takes.
#[test]
fn slash_and_lap_keeps_the_waist_where_it_can() {
    let (mut kept, mut lost) = (0, 0);
    for before in BLOCKS.iter().step_by(23) {
        for amount in [5.0, 9.5, 14.0] {
            let pinch = Pinch::in_the_middle("seat", BACK, THIGH, amount);
            let laid = pinch.lay(before).unwrap();
            let proposals = propose(before, BACK, &laid).unwrap();
            let gives = proposals.iter().any(|p| p.gives_back);
            assert!(!gives || proposals[0].gives_back, "{:?}", proposals[0].words);
            let Ok(outcome) = apply(before, amount, Method::SlashAndLap(SlashAndLap::default()))
            else {
                continue;
            };
            let waist = |p: &Pattern| length(p.piece(BACK).unwrap(), WAIST);
            if waist(before) - waist(&outcome.pattern) < 0.1 {
                kept += 1;
                continue;
            }
            // Nothing that gives it back could be made.
            lost += 1;
            for proposal in proposals.iter().filter(|p| p.gives_back) {
                let cut = proposal.second_cut.clone();
                let method = SlashAndLap { second_cut: cut, ..SlashAndLap::default() };
                let made = apply(before, amount, Method::SlashAndLap(method));
                assert!(made.is_err(), "{} gives it back", proposal.words);
            }
        }
    }
    println!("waist kept {kept} times, lost {lost} times");
    assert!(lost * 5 <= kept, "kept {kept}, lost {lost}");
}

/// Amount nothing changes nothing; off and on again is exact.
#[test]
fn taking_and_letting_out_the_same_amount_returns() {
    runner(600, 11)
        .run(&(0..BLOCKS.len(), 0.5f64..12.0), |(body, amount)| {
            let before = &BLOCKS[body];
            let method = || Method::TopAndScoop(TopAndScoop::default());
            let Ok(there) = apply(before, amount, method()) else { return Ok(()) };
            let Ok(back) = apply(&there.pattern, -amount, method()) else { return Ok(()) };
            let (old, new) = (before.piece(BACK).unwrap(), back.pattern.piece(BACK).unwrap());
            prop_assert!(
                old.corner(WAIST_CENTRE).unwrap().distance(new.corner(WAIST_CENTRE).unwrap())
                    < HELD
            );
            prop_assert!((length(old, CROTCH) - length(new, CROTCH)).abs() < HELD);
            Ok(())
        })
        .unwrap();
}

/// Slash and lap through every place of the second cut, whole or in part: the
/// seams the pinch runs out at keep their lengths.
#[test]
fn slash_and_lap_keeps_what_it_promises_over_bodies_and_amounts() {
    const CASES: u32 = 3_000;
    let mut refusals = Refusals::default();
    let counted = std::cell::RefCell::new(&mut refusals);
    let case = (0..BLOCKS.len(), -15.0f64..20.0, 0.2f64..1.0, any::<bool>());
    runner(CASES, 13)
        .run(&case, |(body, amount, part, all)| {
            prop_assume!(amount.abs() > 0.01);
            let before = &BLOCKS[body];
            let method = SlashAndLap {
                second_cut: SecondCut::Least,
                share: if all { Share::All } else { Share::Part(part) },
                keep_crotch: true,
                may_grow: false,
            };
            match apply(before, amount, Method::SlashAndLap(method)) {
                Ok(outcome) => {
                    let (old, new) =
                        (before.piece(BACK).unwrap(), outcome.pattern.piece(BACK).unwrap());
                    for seam in [SIDE, INSEAM, CROTCH] {
                        prop_assert!((length(old, seam) - length(new, seam)).abs() < 0.1, "{seam}");
                    }
                    prop_assert!(outcome.kept.len() >= 3);
                    prop_assert!(outcome.kept.iter().all(hangtrue_adjust::Compared::kept));
                    outcome.pattern.check().map_err(|e| TestCaseError::fail(e.to_string()))?;
                    seams_match(&outcome.pattern)?;
                }
                Err(fault) => counted.borrow_mut().note(&fault),
            }
            Ok(())
        })
        .unwrap();
    println!("refused of {CASES}: {:?}", refusals.0);
    let refused: usize = refusals.0.values().sum();
    assert!(refused * 10 < CASES as usize, "{:?}", refusals.0);
}

/// Distribute: both seams still match their mates, whichever way.
#[test]
fn distribute_keeps_the_seams_matched_over_bodies_and_amounts() {
    const CASES: u32 = 2_000;
    let mut refusals = Refusals::default();
    let counted = std::cell::RefCell::new(&mut refusals);
    runner(CASES, 17)
        .run(&(0..BLOCKS.len(), -12.0f64..12.0, any::<bool>()), |(body, take, follow)| {
            prop_assume!(take.abs() > 0.01);
            let before = &BLOCKS[body];
            let mates = if follow { Mates::Follow } else { Mates::Ease };
            let method = Distribute { take: Some(take), mates };
            match apply(before, 6.0, Method::Distribute(method)) {
                Ok(outcome) => {
                    seams_match(&outcome.pattern)?;
                    let (old, new) =
                        (before.piece(BACK).unwrap(), outcome.pattern.piece(BACK).unwrap());
                    for seam in [WAIST, CROTCH, HEM] {
                        prop_assert!(
                            (length(old, seam) - length(new, seam)).abs() < HELD,
                            "{seam}"
                        );
                    }
                    outcome.pattern.check().map_err(|e| TestCaseError::fail(e.to_string()))?;
                }
                Err(fault) => counted.borrow_mut().note(&fault),
            }
            Ok(())
        })
        .unwrap();
    println!("refused of {CASES}: {:?}", refusals.0);
    let refused: usize = refusals.0.values().sum();
    assert!(refused * 20 < CASES as usize, "{:?}", refusals.0);
}
