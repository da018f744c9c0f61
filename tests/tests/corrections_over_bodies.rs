//! What the corrections of the catalogue promise, over random blocks of real
//! bodies and random amounts.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::corrections::Listed;
use hangtrue_adjust::{
    Applied, CATALOGUE, Change, ChangeError, Document, Outcome, Replay, Start, walk_all,
};
use hangtrue_geometry::{Chain, angle_between, bends_one_way};
use hangtrue_pattern::names::CROTCH;
use hangtrue_pattern::{Pattern, Piece, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use rayon::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Blocks of every third body of the survey, each to a plan of its own, drafted
/// once.
static BLOCKS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let bodies = bodies();
    let third: Vec<_> = bodies.iter().enumerate().step_by(3).collect();
    third.par_iter().filter_map(|(i, body)| marked_block(body, &plan(*i))).collect()
});

/// A plan as a maker might choose it: every second as it stands, the others with
/// eases spread evenly over what is worn (multiples of square roots of primes).
fn plan(index: usize) -> Plan {
    if index.is_multiple_of(2) {
        return Plan::default();
    }
    let spread = |prime: f64, low: f64, high: f64| {
        low + (high - low) * (prime.sqrt() * index as f64).fract()
    };
    Plan {
        waist_ease: spread(2.0, 5.0, 40.0),
        hip_ease: spread(3.0, 20.0, 90.0),
        crotch_ease: spread(5.0, 5.0, 45.0),
        rise_ease: spread(7.0, 8.0, 40.0),
        thigh_ease: spread(11.0, 30.0, 80.0),
        knee_ease: spread(13.0, 60.0, 160.0),
        hem_ease: spread(17.0, 40.0, 160.0),
        hem_above_floor: spread(19.0, 5.0, 60.0),
        back_share: spread(23.0, 0.64, 0.74),
        ..Plan::default()
    }
}

/// Cases for each correction.
const CASES: u32 = 1_000;

/// What a kept measure and a pair of seams may be off by, mm.
const KEPT: f64 = 0.1;

/// How near an opposite pair brings the outline back, mm: the width of a pencil line. (A seam of
/// two curves is shifted by the handles of each, and back not quite by the same: 20 mm more of
/// back crotch and 20 mm less leave 0.59 mm on one inseam of 1,000, the most of all.)
const RETURNED: f64 = 0.7;

/// What was seen of one correction.
#[derive(Default)]
struct Seen {
    made: usize,
    refused: BTreeMap<String, usize>,
    worst_kept: (f64, String),
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
            return Err(TestCaseError::reject("the block has no dart to work on"));
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
        if kept.change().abs() > seen.worst_kept.0 {
            seen.worst_kept = (kept.change().abs(), kept.measure.to_string());
        }
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
        prop_assert!(one_way(new) || !one_way(old), "the crotch curve of the {}", old.name);
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

/// Every correction over its sensible range.
#[test]
fn corrections_keep_their_promises_over_bodies_and_amounts() {
    let all: Vec<_> = CATALOGUE.par_iter().enumerate().map(|(i, listed)| run(i, listed)).collect();
    println!("correction | made | refused | worst kept | match | return (cannot)");
    for (row, _) in &all {
        println!("{row}");
    }
    let faults: Vec<String> = all.into_iter().flat_map(|(_, faults)| faults).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Runs the cases of one correction: a row of what was seen, and what is wrong.
fn run(index: usize, listed: &Listed) -> (String, Vec<String>) {
    let seen = RefCell::new(Seen::default());
    let config = Config {
        cases: CASES,
        max_global_rejects: 4 * CASES,
        failure_persistence: None,
        ..Config::default()
    };
    let seed = u8::try_from(index).unwrap();
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]);
    let (low, high) = listed.about.range;
    let amounts = (0..BLOCKS.len(), low..high);
    let ran = TestRunner::new_with_rng(config, rng).run(&amounts, |(body, amount)| {
        prop_assume!(amount.abs() > 0.01);
        look(listed, &BLOCKS[body], amount, &mut seen.borrow_mut())
    });
    let seen = seen.into_inner();
    let name = listed.about.name;
    let mut faults: Vec<String> = ran.err().map(|f| format!("{name}: {f}")).into_iter().collect();
    let refused: usize = seen.refused.values().sum();
    let returns = seen.returned + seen.not_returned;
    if refused * 20 > refused + seen.made {
        faults.push(format!("{name} refuses too often: {refused} {:?}", seen.refused));
    }
    if seen.made + refused < CASES as usize {
        faults.push(format!("{name} was tried {} times only", seen.made + refused));
    }
    if seen.not_returned * 20 > returns {
        faults.push(format!("{name} often does not go back: {} of {returns}", seen.not_returned));
    }
    let row = format!(
        "{name} | {} | {refused} {:?} | {:.1e} {} | {:.1e} | {:.1e} ({} of {returns})",
        seen.made,
        seen.refused,
        seen.worst_kept.0,
        seen.worst_kept.1,
        seen.worst_match,
        seen.worst_return,
        seen.not_returned,
    );
    (row, faults)
}

/// What is claimed to be free of order is, over bodies and amounts.
#[test]
fn corrections_of_different_pieces_go_in_any_order() {
    let named = |l: &Listed| (l.with)(l.about.range.1);
    let mut pairs = Vec::new();
    for (i, a) in CATALOGUE.iter().enumerate() {
        pairs.extend(
            CATALOGUE[..i].iter().filter(|b| named(a).any_order_with(&named(b))).map(|b| (a, b)),
        );
    }
    assert!(pairs.len() >= 50, "{}", pairs.len());
    let tried: Vec<usize> = pairs.par_iter().map(|(a, b)| any_order(a, b)).collect();
    let tried: usize = tried.iter().sum();
    println!("{} pairs, {tried} cases in both orders", pairs.len());
    assert!(tried >= 1_000);
}

/// One pair over every 23rd block, the amounts spread over their ranges; gives how
/// many could be made both ways.
fn any_order(a: &Listed, b: &Listed) -> usize {
    let share = |i: usize, by: f64| (by * i as f64).fract();
    let within = |l: &Listed, t: f64| l.about.range.0 + t * (l.about.range.1 - l.about.range.0);
    let mut made = 0;
    for (i, block) in BLOCKS.iter().enumerate().step_by(23) {
        let (x, y) = (within(a, share(i, 0.618_034)), within(b, share(i, 0.414_214)));
        let both = |f: &Listed, u: f64, s: &Listed, v: f64| {
            apply(f, block, u).and_then(|o| apply(s, &o.pattern, v))
        };
        let (ab, ba) = (both(a, x, b, y), both(b, y, a, x));
        assert_eq!(ab.is_ok(), ba.is_ok(), "{} {x}, {} {y}", a.about.name, b.about.name);
        let (Ok(ab), Ok(ba)) = (ab, ba) else { continue };
        made += 1;
        for (p, q) in ab.pattern.pieces.iter().zip(&ba.pattern.pieces) {
            let off = apart(p, q);
            assert!(off < ANY_ORDER, "{} {x}, {} {y}: {off}", a.about.name, b.about.name);
        }
    }
    made
}

/// How near the two orders of a pair come to each other, mm.
const ANY_ORDER: f64 = 1e-6;

/// Corrections stack in a document: every state is sound and its seams match, a
/// refusal passes the pattern through, and the older document is undo.
#[test]
fn corrections_stack_and_undo() {
    let (made, refused): (Vec<usize>, Vec<usize>) =
        (0..STACKS).into_par_iter().map(stack_and_undo).unzip();
    let (made, refused): (usize, usize) = (made.iter().sum(), refused.iter().sum());
    println!("{made} made and {refused} refused in {STACKS} stacks of {HIGH}");
    assert!(refused * 10 < made, "{refused} of {made}");
}

/// Stacks tried, and corrections in each.
const STACKS: usize = 200;
const HIGH: usize = 6;

fn stack_and_undo(index: usize) -> (usize, usize) {
    let block = &BLOCKS[index * 7 % BLOCKS.len()];
    let mut document = Document {
        title: "stack".into(),
        client: "a body of the survey".into(),
        unit: Default::default(),
        start: Start::Pieces(block.clone()),
        pinned: vec![],
        changes: vec![],
        journal: Default::default(),
        printing: Default::default(),
        cutting: Default::default(),
        lays: Default::default(),
        figure: Default::default(),
    };
    let mut older = vec![document.clone()];
    for level in 0..HIGH {
        let listed = &CATALOGUE[(index * HIGH + level) * 11 % CATALOGUE.len()];
        // Half of the range at most: six corrections of one leg are a lot.
        let share = 0.25 + 0.5 * (0.618_034 * (index + level * 5) as f64).fract();
        let (low, high) = listed.about.range;
        let amount = low + share * (high - low);
        document.push(listed.about.name, Change::Correct((listed.with)(amount)));
        older.push(document.clone());
    }
    let mut replay = Replay::new(document);
    let states = replay.states().to_vec();
    let mut refused = 0;
    for (i, state) in states.iter().enumerate() {
        if let Applied::Failed(why) = &state.applied {
            let before = replay.after(i).unwrap();
            assert_eq!(&state.pattern, before, "{why}");
            refused += 1;
        }
        state.pattern.check().unwrap();
        for walked in walk_all(&state.pattern).unwrap() {
            assert!(walked.difference.abs() < KEPT, "{} by {}", walked.join, walked.difference);
        }
    }
    for (count, document) in older.into_iter().enumerate().rev() {
        replay.update(document);
        assert_eq!(replay.states(), &states[..count]);
    }
    (HIGH - refused, refused)
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
