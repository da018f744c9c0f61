//! What stands side by side: causes that what was measured neither bears out nor rules out,
//! because its ± is too wide. None of them is named as the cause; all of them are said.

use super::rule::{Rule, RuleTable};
use super::{Leg, Seen, ToileReading, sign};
use serde::Serialize;

/// A cause that is left open.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Open {
    /// Its rule.
    pub rule: String,
    /// How far what was measured leaves room for it, 0 to 1.
    pub fit: f64,
}

/// What leaves less room than this is ruled out: about the share of a bell curve beyond
/// two standard deviations at both ends (memory).
const RULED_OUT: f64 = 0.05;

/// The rules that are left open by the lines that were read, the likeliest first.
pub(super) fn open_rules(table: &RuleTable, seen: &Seen<'_>) -> Vec<Open> {
    let of = |rule: &Rule| {
        let fits = Leg::BOTH.iter().filter_map(|&leg| left_open(rule, seen, leg));
        let fit = fits.fold(0.0, f64::max);
        (fit >= RULED_OUT).then(|| Open { rule: rule.name.clone(), fit })
    };
    let mut open: Vec<Open> = table.rules.iter().filter_map(of).collect();
    open.sort_by(|a, b| b.fit.total_cmp(&a.fit));
    open
}

/// How far a rule may hold on a leg; none when its lines were not read there, or it goes by
/// signs alone.
fn left_open(rule: &Rule, seen: &Seen<'_>, leg: Leg) -> Option<f64> {
    if rule.when.is_empty() {
        return None;
    }
    let mut fit = rule.weight;
    for condition in &rule.when {
        let value = condition.value().of(&seen.toile, rule.view, leg)?;
        let (value, margin) = seen.toile.measure_parts(&value);
        fit *= condition.left_open(value, margin);
    }
    Some(sign::weighed(fit, &rule.signs, seen.signs, leg))
}

impl ToileReading {
    /// What stands side by side in words; none when a cause is surely named or nothing is
    /// left open.
    pub fn side_by_side(&self) -> Option<String> {
        let names: Vec<&str> = self.open.iter().map(|o| o.rule.as_str()).collect();
        if names.is_empty() {
            return None;
        }
        Some(format!(
            "Nothing can be named: the ± of what was measured is too wide to tell these apart, the likeliest first: {}, or nothing at all. To tell: look for the signs of each, measure the lines by ruler too, or work out how this toile hangs on the body, which gives its lines a closer home.",
            names.join("; ")
        ))
    }
}
