//! The rules of the reading on blocks of twenty bodies of the survey: each names its planted
//! fault by its amount and keeps silent on the near one, whatever the body's shape.

#![allow(clippy::unwrap_used)]

use crate::reading_over_bodies::home;
use hangtrue_adjust::reading::{
    Droop, HangLine, Leg, Looked, Observed, PieceView, RuleTable, SettledHome, SettledPlace, Sign,
    ToileReading, read_toile,
};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};
use rayon::prelude::*;

#[path = "../../crates/adjust/src/reading/tests/planted.rs"]
pub mod planted;
use planted::{CASES, Case, LOOKS, ON_TAPE, OPEN, Planted, SECONDS};

pub const RULES: &str = include_str!("../../assets/reading/rules.ron");

/// Where lines are measured: at both ends and in the middle.
const PLACES: [f64; 3] = [0.0, 0.5, 1.0];

/// Blocks of some twenty bodies spread over the survey, with the usual lines.
pub fn blocks() -> Vec<Pattern> {
    let some: Vec<_> = bodies().into_iter().step_by(75).collect();
    some.par_iter().filter_map(|body| marked_block(body, &Plan::default())).collect()
}

/// The fault planted upon how the lines of that block hang at home, which is reckoned here
/// from the sewn seams.
pub fn toile(
    pattern: &Pattern,
    planted: impl Fn(HangLine, PieceView, Leg, f64) -> f64,
) -> Vec<Droop> {
    let mut droops = Vec::new();
    for (line, view) in lines() {
        let home = home(pattern, line, view);
        for (leg, at) in Leg::BOTH.into_iter().flat_map(|l| PLACES.map(|s| (l, s))) {
            let mm = home(at) + planted(line, view, leg, at);
            droops.push(Droop { line, view, leg, at, mm, error: 1.5 });
        }
    }
    droops
}

fn lines() -> impl Iterator<Item = (HangLine, PieceView)> {
    HangLine::ALL.into_iter().flat_map(|line| PieceView::ALL.map(|view| (line, view)))
}

/// As if the toile had been settled on its body and hung just so: what the closed form alone
/// leaves open hides no rule here.
pub fn settled(pattern: &Pattern) -> Vec<SettledHome> {
    let of = |(line, view): (HangLine, PieceView)| {
        let home = home(pattern, line, view);
        let place = |at: f64| SettledPlace {
            at,
            below_side: home(at) - home(1.0),
            error: if at < 1.0 { 4.0 } else { 0.0 },
        };
        let places: Vec<SettledPlace> = PLACES.map(place).into();
        Leg::BOTH.map(|leg| SettledHome { line, view, leg, places: places.clone() })
    };
    lines().filter(|l| l.0 != HangLine::Waist).flat_map(of).collect()
}

pub fn signs(seen: &[Sign]) -> Vec<Looked> {
    seen.iter().map(|&sign| Looked { sign, seen: true, leg: None }).collect()
}

pub fn read(table: &RuleTable, pattern: &Pattern, droops: &[Droop], seen: &[Sign]) -> ToileReading {
    let (homes, signs) = (settled(pattern), signs(seen));
    let observed = Observed { droops, signs: &signs, homes: &homes, together: &[] };
    read_toile(observed, table, pattern, pattern, Unit::Mm).unwrap()
}

/// The signs without which a planted case is not read.
pub fn needed(name: &str) -> &'static [Sign] {
    if ON_TAPE.iter().any(|c| c.0 == name) { &[Sign::WaistOnTape] } else { &[] }
}

#[test]
fn each_rule_names_its_fault_on_every_block_and_not_the_near_one() {
    let (table, blocks): (RuleTable, _) = (ron::from_str(RULES).unwrap(), blocks());
    assert!(blocks.len() >= 20, "{}", blocks.len());
    let cases: Vec<&Case> = CASES.iter().chain(LOOKS).chain(SECONDS).chain(ON_TAPE).collect();
    let wrong = |(case, block): (&Case, &Pattern)| -> Option<String> {
        let Case(name, planted, amount, near) = case;
        let read = |planted: &Planted| read(&table, block, &toile(block, planted), needed(name));
        let found = read(planted);
        let place = usize::from(SECONDS.iter().any(|s| s.0 == *name));
        let first = found.meanings.get(place);
        let named = first.is_some_and(|m| {
            m.rule == *name && (m.amount - amount).abs() < 1e-6 && m.sure && m.fit > 0.4
        });
        let alone = read(near).meanings.iter().all(|m| m.rule != *name);
        let all: Vec<&str> = found.meanings.iter().map(|m| m.rule.as_str()).collect();
        (!named || !alone).then(|| format!("{name}: {all:?}, near silent: {alone}"))
    };
    let all: Vec<(&Case, &Pattern)> =
        cases.iter().flat_map(|case| blocks.iter().map(move |block| (*case, block))).collect();
    let wrong: Vec<String> = all.par_iter().copied().filter_map(wrong).collect();
    println!("{} rules on {} blocks, {} otherwise", cases.len(), blocks.len(), wrong.len());
    assert!(
        wrong.is_empty(),
        "{} of {}: {:?}",
        wrong.len(),
        all.len(),
        &wrong[..wrong.len().min(6)]
    );
}

/// Read by the closed form alone a fault may not be named, but no other is surer than it.
#[test]
fn by_the_closed_form_no_other_cause_is_surer_than_the_planted_one() {
    let (table, blocks): (RuleTable, _) = (ron::from_str(RULES).unwrap(), blocks());
    let (mut named, mut tried, mut wrong) = (0, 0, Vec::new());
    for Case(name, planted, ..) in CASES.iter().chain(ON_TAPE) {
        for block in &blocks {
            let (droops, signs) = (toile(block, planted), signs(needed(name)));
            let observed = Observed { droops: &droops, signs: &signs, homes: &[], together: &[] };
            let reading = read_toile(observed, &table, block, block, Unit::Mm).unwrap();
            tried += 1;
            match reading.meanings.iter().find(|m| m.sure) {
                Some(first) if first.rule == *name => named += 1,
                Some(first) => wrong.push(format!("{name}: {}", first.rule)),
                None => {}
            }
        }
    }
    println!("{named} of {tried} named for sure");
    assert!(wrong.is_empty(), "{}: {:?}", wrong.len(), &wrong[..wrong.len().min(6)]);
}

/// The opposite causes of a low waist are told apart by their signs on every block.
#[test]
fn a_sign_tells_opposite_causes_apart_on_every_block() {
    let (table, blocks): (RuleTable, _) = (ron::from_str(RULES).unwrap(), blocks());
    for (rule, planted, its, other) in OPEN {
        for block in &blocks {
            let droops = toile(block, planted);
            let place = |seen: &[Sign]| {
                read(&table, block, &droops, seen).meanings.iter().position(|m| m.rule == *rule)
            };
            assert_eq!((place(&[]), place(&[*other])), (None, None), "{rule}");
            assert!(place(&[*its]).is_some_and(|place| place > 0), "{rule}: the waist comes first");
        }
    }
}
