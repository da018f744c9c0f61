//! What the droops of a worn toile may mean, and taking one of the proposals.

use super::weigh::{Did, weigh_rows};
use crate::args::{JsonArg, counted};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::reading::{Droop, Meaning, ToileReading, read_toile};
use hangtrue_adjust::{OPEN_ROUND, RoundDroop};
use hangtrue_files::droops::{DroopsError, read_droops, read_rules, usual_rules};
use hangtrue_files::project::read_text;
use hangtrue_files::worn::round_droops;
use hangtrue_pattern::units::Unit;
use serde::Serialize;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A proposal that was taken, and what its change did.
#[derive(Serialize)]
struct Took<'a> {
    took: &'a Meaning,
    #[serde(flatten)]
    did: Did<'a>,
}

#[derive(Debug, Args)]
pub struct ReadingArgs {
    /// The project file.
    pub project: PathBuf,
    /// The droops: a CSV whose first line is line,view,leg,at,droop,error, or a RON
    /// list of the same (see docs/reading.md). A droop is plus, a rise minus. Left
    /// out: what the project holds of the open fitting, typed or marked on photos.
    pub droops: Option<PathBuf>,
    /// Keep the droops of the file with the project, as measured in the open fitting.
    #[arg(long, requires = "droops")]
    pub keep: bool,
    /// Put the change of this proposal into the list of changes.
    #[arg(long, value_name = "NUMBER", value_parser = counted)]
    pub take: Option<usize>,
    /// Read by these rules instead of the usual ones.
    #[arg(long, value_name = "FILE")]
    pub rules: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
}

/// Shown before anything is pinned on a body.
const CAUTION: &str = "Before the paper is changed, pin it on the toile and look: safety pins where the wearer sits, points away from the body.";

pub fn run(args: &ReadingArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_for(&args.project, args.keep || args.take.is_some())?;
    let in_file = |path: &Path, source: DroopsError| Failure::Droops {
        path: path.to_owned(),
        source: Box::new(source),
    };
    let rules = match &args.rules {
        Some(path) => read_rules(&read_text(path)?).map_err(|e| in_file(path, e))?,
        None => usual_rules().map_err(|e| in_file(Path::new("the usual rules"), e))?,
    };
    let droops = match &args.droops {
        Some(path) => {
            read_droops(&read_text(path)?, path, opened.unit()).map_err(|e| in_file(path, e))?
        }
        None => of_the_project(&opened, args)?,
    };
    let reading = read_toile(
        &droops,
        &rules,
        opened.replay.toile(OPEN_ROUND)?,
        opened.pattern()?,
        opened.unit(),
    )?;
    if args.keep {
        keep(&mut opened, &droops)?;
    }
    match args.take {
        Some(number) => take(&mut opened, args, &reading, number),
        None if args.json.json => output::json(&reading),
        None => show(&reading, opened.unit(), args),
    }
}

/// What the project holds of the open fitting.
fn of_the_project(opened: &Opened, args: &ReadingArgs) -> Result<Vec<Droop>, Failure> {
    let toile = opened.replay.toile(OPEN_ROUND)?;
    let found = round_droops(&opened.document, Some(&args.project), toile, OPEN_ROUND);
    if !args.json.json {
        for note in &found.notes {
            output::line(&output::words(note))?;
        }
    }
    if found.droops.is_empty() {
        return Err(Failure::Asked(format!(
            "nothing is written down of how the toile of this fitting hangs; name a table of droops: hangtrue causes {} droops.csv",
            args.project.display()
        )));
    }
    Ok(found.droops)
}

/// Keeps the droops with the project, in place of those kept before.
fn keep(opened: &mut Opened, droops: &[Droop]) -> Result<(), Failure> {
    let kept = &mut opened.document.journal.droops;
    kept.retain(|d| d.round != OPEN_ROUND);
    kept.extend(droops.iter().map(|d| RoundDroop { round: OPEN_ROUND.into(), droop: *d }));
    opened.save()
}

fn show(reading: &ToileReading, unit: Unit, args: &ReadingArgs) -> Result<(), Failure> {
    if reading.meanings.is_empty() {
        for said in reading.nothing_proposed(unit) {
            output::line(&said)?;
        }
    } else {
        output::line(
            "What it may mean, what fits best first. These are proposals: you saw the toile.",
        )?;
    }
    if !reading.meanings.is_empty() {
        output::line(
            "\nThe lines, against how they hang on a toile that fits (predicted, not seen):",
        )?;
        for line in &reading.lines {
            output::line(&format!("  - {}", line.words(unit)))?;
        }
    }
    for (index, meaning) in reading.meanings.iter().enumerate() {
        show_one(index + 1, meaning)?;
    }
    for (index, want) in reading.not_judged.iter().enumerate() {
        output::line(&format!("{}{want}", if index == 0 { "\n" } else { "" }))?;
    }
    output::line("\nWhat no photo tells:")?;
    for unknown in &reading.cannot_know {
        output::line(&format!("  - {unknown}"))?;
    }
    if reading.meanings.is_empty() {
        return Ok(());
    }
    output::line(&format!("\n{CAUTION}"))?;
    output::line(&format!(
        "Next: hangtrue causes {}{} --take 1, or pin what you see",
        args.project.display(),
        args.droops.as_ref().map_or_else(String::new, |d| format!(" {}", d.display()))
    ))
}

fn show_one(number: usize, meaning: &Meaning) -> Result<(), Failure> {
    output::line(&format!(
        "\n{number}. {} (fits what was measured: {:.0} of 100 (a rank, not a chance))",
        meaning.rule,
        100.0 * meaning.fit
    ))?;
    output::line(&format!("   {}", meaning.words))?;
    for line in &meaning.arithmetic {
        output::line(&format!("   {line}"))?;
    }
    if let Some(change) = &meaning.change_words {
        output::line(&format!("   Change to try: {change}"))?;
    }
    for note in &meaning.notes {
        output::line(&format!("   Note: {note}"))?;
    }
    for other in &meaning.looks_alike {
        output::line(&format!("   {}", other.words()))?;
    }
    output::line(&format!("   Not to be told from the lines: {}", meaning.cannot_know))?;
    output::line(&format!("   Source: {}", meaning.source))
}

fn take(
    opened: &mut Opened,
    args: &ReadingArgs,
    reading: &ToileReading,
    number: usize,
) -> Result<(), Failure> {
    let count = reading.meanings.len();
    let Some(meaning) = number.checked_sub(1).and_then(|i| reading.meanings.get(i)) else {
        return Err(Failure::Asked(match count {
            0 => "no rule fits these droops, so there is nothing to take".into(),
            _ => format!("there is no proposal {number}; there are 1 to {count}"),
        }));
    };
    let Some(change) = &meaning.change else {
        return Err(Failure::Asked(format!(
            "“{}” has no change to try: {}",
            meaning.rule,
            meaning.notes.join(" ")
        )));
    };
    let before = match &meaning.first {
        Some(first) => Arc::new(first.apply(opened.pattern()?)?.pattern),
        None => opened.pattern()?.clone(),
    };
    let outcome = change.apply_for(&before, opened.document.body())?;
    let words = change.words(opened.unit());
    if let Some(first) = &meaning.first {
        opened.document.push(&first.words(opened.unit()), first.clone());
        if !args.json.json {
            output::line(&format!("{}.", first.words(opened.unit())))?;
        }
    }
    opened.document.push(&meaning.rule, change.clone());
    opened.save()?;
    if args.json.json {
        return output::json(&Took { took: meaning, did: Did::from(&outcome) });
    }
    output::line(&format!("Took “{}”: {words}", meaning.rule))?;
    for line in weigh_rows(&Ok(outcome), opened.unit()) {
        output::line(&line)?;
    }
    output::line(super::accept::CAUTION)?;
    output::line(&format!("Next: hangtrue walk {}", args.project.display()))
}
