//! Truing what the walk found.

use crate::args::TrueArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{Change, TrueDart, fold_darts, left_to_true};
use hangtrue_pattern::Pattern;

pub fn run(args: &TrueArgs) -> Result<(), Failure> {
    let mut opened = Opened::open(&args.project)?;
    let mut pattern = (**opened.pattern()?).clone();
    let mut done = 0;
    // Lengths move corners, so corners are looked at after them, darts last.
    for stage in [lengths, corners, darts] {
        for change in stage(&pattern, args.join.as_deref())? {
            let words = change.words(opened.unit());
            let outcome = change.apply(&pattern)?;
            pattern = outcome.pattern;
            output::line(&words)?;
            for c in &outcome.changed {
                output::line(&format!("    {} {:+.2}", c.measure, c.change()))?;
            }
            opened.document.push(&words, change);
            done += 1;
        }
    }
    match (done, args.only_say) {
        (0, _) => output::line("Nothing to true."),
        (_, true) => output::line("Only said, nothing changed."),
        (_, false) => opened.save(&args.project),
    }
}

fn lengths(pattern: &Pattern, join: Option<&str>) -> Result<Vec<Change>, Failure> {
    let found = left_to_true(pattern)?.0;
    Ok(found
        .into_iter()
        .filter(|c| join.is_none_or(|j| c.join == j))
        .map(Change::TrueLength)
        .collect())
}

fn corners(pattern: &Pattern, join: Option<&str>) -> Result<Vec<Change>, Failure> {
    let found = left_to_true(pattern)?.1;
    Ok(found
        .into_iter()
        .filter(|c| join.is_none_or(|j| c.join == j))
        .map(Change::TrueCorner)
        .collect())
}

fn darts(pattern: &Pattern, join: Option<&str>) -> Result<Vec<Change>, Failure> {
    if join.is_some() {
        return Ok(Vec::new());
    }
    let untrue = fold_darts(pattern).into_iter().filter(|d| !d.is_true);
    Ok(untrue.map(|d| Change::TrueDart(TrueDart { piece: d.piece, dart: d.dart })).collect())
}
