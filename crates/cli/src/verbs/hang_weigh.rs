//! What the methods of a pinch, or a correction, would do to the marked lines on this body:
//! predicted, not seen.

use super::hang::{Hung, options_of, worn_by};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{Change, Correction, Figure, Method, Outcome, PinchChange};
use hangtrue_drape::{LABEL, Weighed, WeighedLine, pleat_doubt, weigh};
use hangtrue_pattern::words::InUnit;

/// Droops are told to this, mm.
const TOLD: f64 = 0.1;

/// A change that is weighed: its name, and what came of it.
struct Tried {
    name: String,
    /// What it does to the paper and to the lines, or why it cannot be told.
    came: Result<(Outcome, Weighed), String>,
}

/// Weighs changes, by their names.
pub fn run(
    opened: &Opened,
    figure: &Figure,
    hung: &Hung,
    changes: Vec<(String, Change)>,
    json: bool,
) -> Result<(), Failure> {
    let quick = hung.settled.others.is_empty();
    let options = options_of(figure, quick);
    let measures = worn_by(opened, figure)?;
    let mut tried = Vec::new();
    for (name, change) in changes {
        let made = change.apply_for(&hung.pattern, opened.document.body());
        let came = made.map_err(|why| why.in_unit(opened.unit())).and_then(|outcome| {
            let weighed = weigh(
                &hung.pattern,
                &hung.settled,
                &outcome.pattern,
                measures,
                &figure.handles,
                &options,
                &mut |_| true,
            );
            let weighed = weighed.map_err(|why| why.in_unit(opened.unit()))?;
            Ok((outcome, weighed))
        });
        tried.push(Tried { name, came });
    }
    if json { as_json(&tried) } else { show(opened, &tried) }
}

/// The changes that are meant by `name`: all methods of a pinch, else a correction by
/// `amount`.
pub fn changes(
    opened: &Opened,
    name: &str,
    amount: Option<&str>,
) -> Result<Vec<(String, Change)>, Failure> {
    if let Some(pinch) = opened.document.pinned.iter().find(|p| p.name == name) {
        if amount.is_some() {
            return Err(Failure::Asked(format!(
                "“{name}” is a pinch, and what was pinned is its amount: leave --amount out"
            )));
        }
        let of = |method: Method| {
            let called = method.name().to_owned();
            (called, Change::Pinch(PinchChange { pinch: pinch.clone(), method }))
        };
        return Ok(Method::all(opened.document.unit).into_iter().map(of).collect());
    }
    // An unknown name is told before a missing amount.
    let correction = Correction::named(name, 0.0)?;
    let Some(amount) = amount else {
        return Err(Failure::Asked(format!(
            "say how much: hangtrue hang PROJECT --weigh \"{name}\" --amount 1/4; a minus takes the other way"
        )));
    };
    let correction = correction.with_amount(opened.length(amount)?);
    if correction.amount() == 0.0 {
        return Err(Failure::Asked(format!("{name} by nothing changes nothing; say how much")));
    }
    let words = correction.words(opened.unit());
    Ok(vec![(words, Change::Correct(correction))])
}

fn as_json(tried: &[Tried]) -> Result<(), Failure> {
    let rows: Vec<_> = tried
        .iter()
        .map(|t| match &t.came {
            Ok((outcome, weighed)) => serde_json::json!({
                "change": t.name, "possible": true, "label": "predicted, not seen",
                "lines": weighed.lines, "waist_slips": weighed.waist_slips,
                "pairs": weighed.pairs, "costs": outcome.costs,
            }),
            Err(why) => {
                serde_json::json!({"change": t.name, "possible": false, "why_not": why})
            }
        })
        .collect();
    output::json(&rows)
}

fn show(opened: &Opened, tried: &[Tried]) -> Result<(), Failure> {
    output::line(&format!("\n{LABEL}"))?;
    for t in tried {
        output::line(&format!("\n{}", t.name.to_uppercase()))?;
        match &t.came {
            Err(why) => output::line(&format!("  Not possible: {why}"))?,
            Ok((outcome, weighed)) => show_one(opened, outcome, weighed)?,
        }
    }
    output::line(
        "\nEach is worked out before and after from the same starts on the same meshes: how much lower a line hangs below the line between its own two ends than it does now; a minus is higher. Of what is no larger than its ± nothing can be told. How far a real toile differs is not known: docs/hang_trial.md says what a trial of the catalogue on the model found.",
    )
}

fn show_one(opened: &Opened, outcome: &Outcome, weighed: &Weighed) -> Result<(), Failure> {
    let row = |line: &WeighedLine| {
        let mut row = vec![line.line.clone(), line.piece.clone()];
        row.push(line.places.get(2).map_or_else(String::new, |p| opened.show(p.before)));
        let inner = line.places.iter().skip(1).take(3);
        row.extend(inner.map(|p| opened.show_difference(p.droops_more, TOLD)));
        row.push(opened.show(line.plus_minus));
        row.push(if line.tells() { "" } else { "within its ±" }.to_owned());
        row
    };
    let rows: Vec<Vec<String>> = weighed.lines.iter().map(row).collect();
    if rows.is_empty() {
        return output::line("  No line goes to the cloth, so nothing is told.");
    }
    output::table(
        &[
            "line",
            "piece",
            ">the middle droops now",
            ">lower by, at 1/4",
            ">in the middle",
            ">at 3/4",
            ">±",
            "",
        ],
        &rows,
    )?;
    if let Some(doubt) = pleat_doubt(&outcome.pattern) {
        output::line(&format!("  {}", output::words(&doubt)))?;
    }
    for cost in &outcome.costs {
        output::line(&format!("  · {}", output::words(&cost.words())))?;
    }
    let slips = match weighed.waist_slips {
        [_, true] => {
            "  The waist does not stay at its level with it: such a toile should not be read."
        }
        [true, false] => "  The waist slips now and would stay at its level with it.",
        [false, false] => return Ok(()),
    };
    output::line(slips)
}
