//! Weighing the methods against each other.

use super::method::{MethodArg, MethodArgs};
use super::method::{method, pinned};
use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{
    Change, ChangeError, Compared, Cost, KEPT, LESS_LEAN, Method, Outcome, Pinch, PinchChange,
    Residue, SEEN, legs_named, less_lean_beside, propose,
};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::{InUnit, Words};
use hangtrue_pattern::{Leg, Pattern};
use serde::Serialize;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct WeighArgs {
    /// The project file.
    pub project: PathBuf,
    /// The pinch.
    pub pinch: String,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub method: MethodArgs,
}

#[derive(Serialize)]
struct Weighed<'a> {
    method: &'static str,
    possible: bool,
    why_not: Option<String>,
    #[serde(flatten)]
    did: Did<'a>,
}

/// What a change did, for a program; all empty of one that cannot be made.
#[derive(Serialize, Default)]
pub struct Did<'a> {
    kept: &'a [Compared],
    changed: &'a [Compared],
    residue: &'a [Residue],
    costs: &'a [Cost],
    notes: &'a [Words],
}

impl<'a> From<&'a Outcome> for Did<'a> {
    fn from(outcome: &'a Outcome) -> Self {
        let Outcome { kept, changed, residue, costs, notes, pattern: _ } = outcome;
        Self { kept, changed, residue, costs, notes }
    }
}

pub fn run(args: &WeighArgs) -> Result<(), Failure> {
    let opened = Opened::open(&args.project)?;
    let pattern = opened.pattern()?;
    let pinch = pinned(&opened, &args.pinch)?;
    let mut weighed = Vec::new();
    for which in [MethodArg::TopAndScoop, MethodArg::SlashAndLap, MethodArg::Distribute] {
        let method = method(which, &args.method, &opened, &pinch.piece)?;
        let change = PinchChange { pinch: pinch.clone(), method };
        let method = change.method.clone();
        let outcome = Change::Pinch(change).apply_for(pattern, opened.document.body());
        weighed.push((method, outcome));
    }
    if args.json.json {
        let rows: Vec<Weighed> = weighed.iter().map(|(m, o)| as_json(m, o.as_ref())).collect();
        return output::json(&rows);
    }
    for (method, outcome) in &weighed {
        output::line(&format!("\n{}", method.name().to_uppercase()))?;
        output::line(&format!("  {}", method.in_a_sentence(pinch.lets_out())))?;
        for line in weigh_rows(outcome, opened.unit()) {
            output::line(&line)?;
        }
    }
    if let Some(lean) = less_lean_beside(pattern, pinch) {
        let words = lean.words(opened.unit());
        output::line(&format!("\n{}\n  {LESS_LEAN}", words.to_uppercase()))?;
        let outcome = lean.apply_for(pattern, opened.document.body());
        for line in weigh_rows(&outcome, opened.unit()) {
            output::line(&line)?;
        }
        output::line(&format!(
            "  To take it instead: hangtrue correct {} \"seat seam out and side in\" --amount LENGTH",
            args.project.display()
        ))?;
    }
    for (leg, pattern) in legs_named(pattern, &pinch.piece) {
        show_second_cuts(&opened, pinch, leg, &pattern)?;
    }
    if !pinch.lets_out() {
        output::line("\nSome softness below the seat may stay whatever is done.")?;
    }
    output::line(&format!(
        "Accept one with: hangtrue accept {} \"{}\" --by top-and-scoop (or slash-and-lap, even-strip)",
        args.project.display(),
        args.pinch
    ))
}

/// The second cuts that slash and lap may take.
fn show_second_cuts(
    opened: &Opened,
    pinch: &Pinch,
    leg: Option<Leg>,
    pattern: &Pattern,
) -> Result<(), Failure> {
    let proposals = propose(pattern, &pinch.piece, &pinch.lay(pattern)?)?;
    let Some(first) = proposals.first() else { return Ok(()) };
    let on = leg.map_or_else(String::new, |leg| format!(" on the {} leg", leg.word()));
    let (leaves, goes) = if first.excess_degrees < 0.0 {
        ("too little", "opened out")
    } else {
        ("too much", "lapped out")
    };
    output::line(&format!(
        "\nSlash and lap leaves {:.1}° {leaves} in the middle of the pinch{on}. It can be {goes}:",
        first.excess_degrees.abs()
    ))?;
    let rows: Vec<Vec<String>> = proposals
        .iter()
        .map(|p| {
            vec![
                p.words.clone(),
                opened.show(p.lap),
                opened.show(p.dart_gives),
                output::words(&p.consequence),
            ]
        })
        .collect();
    output::table(&["second cut", ">laps", ">dart can give", "so"], &rows)
}

fn as_json<'a>(method: &Method, outcome: Result<&'a Outcome, &ChangeError>) -> Weighed<'a> {
    Weighed {
        method: method.name(),
        possible: outcome.is_ok(),
        why_not: outcome.err().map(ToString::to_string),
        did: outcome.map(Did::from).unwrap_or_default(),
    }
}

/// What a method does, in lines.
pub fn weigh_rows(outcome: &Result<Outcome, ChangeError>, unit: Unit) -> Vec<String> {
    let outcome = match outcome {
        Ok(outcome) => outcome,
        Err(why) => return vec![format!("  Not possible: {}", why.in_unit(unit))],
    };
    let mut lines = Vec::new();
    for k in &outcome.kept {
        let k = k.shown(unit, KEPT);
        let moved = if k.change == "0" { String::new() } else { format!("  ({})", k.change) };
        lines.push(format!("  ✓ kept     {:<36} {:>12}{moved}", k.measure, k.after));
    }
    for c in outcome.changed.iter().filter(|c| c.change().abs() >= SEEN) {
        let c = c.shown(unit, SEEN);
        lines.push(format!(
            "  ~ changes  {:<36} {:>12} → {:>12}  ({})",
            c.measure, c.before, c.after, c.change
        ));
    }
    for r in &outcome.residue {
        lines.push(format!("  … {}", r.sentence().in_unit(unit)));
    }
    lines.extend(outcome.costs.iter().map(|c| format!("  · {}", c.words().in_unit(unit))));
    lines.extend(outcome.notes.iter().map(|n| format!("  · {}", n.in_unit(unit))));
    lines
}
