//! What the droops of a worn toile may mean, and taking one of the proposals.

use super::weigh::{Did, weigh_rows};
use crate::args::{JsonArg, counted};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::reading::{
    Droop, Leg, LineRead, Looked, Meaning, Observed, SettledHome, Sign, ToileReading, offers,
    read_toile,
};
use hangtrue_adjust::{OPEN_ROUND, RoundDroop};
use hangtrue_drape::settled_homes;
use hangtrue_files::droops::{DroopsError, read_droops, read_rules, usual_rules};
use hangtrue_files::project::read_text;
use hangtrue_files::worn::{RoundDroops, round_droops};
use hangtrue_pattern::names;
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
    /// A sign that is there, by its name (hangtrue causes PROJECT --signs lists them), with
    /// “, left” or “, right” behind it where only one leg shows it. Once for each sign.
    #[arg(long, value_name = "SIGN", value_parser = sign_seen)]
    pub seen: Vec<Looked>,
    /// A sign that was looked for and is not there. Once for each sign.
    #[arg(long, value_name = "SIGN", value_parser = sign_absent)]
    pub not_seen: Vec<Looked>,
    /// List the signs there are, what they look like, and which were looked for.
    #[arg(long)]
    pub signs: bool,
    /// Keep the droops of the file, and the signs, with the project, as found in the open
    /// fitting.
    #[arg(long)]
    pub keep: bool,
    /// Put the change of this proposal into the list of changes.
    #[arg(long, value_name = "NUMBER", value_parser = counted)]
    pub take: Option<usize>,
    /// Work out how this toile hangs on the body and take from that how its lines hang where
    /// it fits (some seconds; predicted, not seen), and not from the closed form.
    #[arg(long, alias = "settled")]
    pub hung: bool,
    /// Read by these rules instead of the usual ones.
    #[arg(long, value_name = "FILE")]
    pub rules: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
}

/// Shown before anything is pinned on a body.
const CAUTION: &str = "Before the paper is changed, pin it on the toile and look: safety pins where the wearer sits, points away from the body.";

pub fn run(args: &ReadingArgs) -> Result<(), Failure> {
    if args.keep && args.droops.is_none() && args.seen.is_empty() && args.not_seen.is_empty() {
        return Err(Failure::Asked(
            "there is nothing to keep: name a table of droops, or a sign with --seen or --not-seen"
                .into(),
        ));
    }
    let mut opened = Opened::open_for(&args.project, args.keep || args.take.is_some())?;
    let signs = signs_of(&opened, args);
    if args.signs {
        return list_signs(&signs, args.json.json);
    }
    let in_file = |path: &Path, source: DroopsError| Failure::Droops {
        path: path.to_owned(),
        source: Box::new(source),
    };
    let rules = match &args.rules {
        Some(path) => read_rules(&read_text(path)?).map_err(|e| in_file(path, e))?,
        None => usual_rules().map_err(|e| in_file(Path::new("the usual rules"), e))?,
    };
    let RoundDroops { droops, together, .. } = match &args.droops {
        Some(path) => {
            let typed = read_droops(&read_text(path)?, path, opened.unit());
            RoundDroops { droops: typed.map_err(|e| in_file(path, e))?, ..RoundDroops::default() }
        }
        None => of_the_project(&opened, args, !signs.is_empty())?,
    };
    let homes = if args.hung { settled(&opened)? } else { Vec::new() };
    let reading = read_toile(
        Observed { droops: &droops, signs: &signs, homes: &homes, together: &together },
        &rules,
        opened.replay.toile(OPEN_ROUND)?,
        opened.pattern()?,
        opened.unit(),
    )?;
    if args.keep {
        keep(&mut opened, args, &droops)?;
    }
    match args.take {
        Some(number) => take(&mut opened, args, &reading, number),
        None if args.json.json => output::json(&reading),
        None => show(&reading, opened.unit(), args),
    }
}

/// The lines of the toile that was cut, settled on the project's body.
fn settled(opened: &Opened) -> Result<Vec<SettledHome>, Failure> {
    let cut = opened.replay.toile(OPEN_ROUND)?.clone();
    if !opened.replay.toile_is_unanswered(OPEN_ROUND)? {
        return Err(Failure::Asked(
            "this toile was cut after an earlier one was answered: on the body of the measures alone that answer would look like a fault, so its lines are not taken as those of a toile that fits. Leave --hung out".into(),
        ));
    }
    let hung = super::hang::hung_of(opened, cut, &opened.document.figure, false)?;
    if hung.settled.first.slipped {
        return Err(Failure::Asked(
            "the waist of the toile, as it hangs, does not stay at its level, so its lines are not those of a toile that fits: leave --hung out, or mend the waist first".into(),
        ));
    }
    Ok(settled_homes(&hung.pattern, &hung.settled, &hung.told))
}

/// What the project holds of the open fitting.
fn of_the_project(
    opened: &Opened,
    args: &ReadingArgs,
    has_signs: bool,
) -> Result<RoundDroops, Failure> {
    let toile = opened.replay.toile(OPEN_ROUND)?;
    let found = round_droops(&opened.document, Some(&args.project), toile, OPEN_ROUND);
    if !args.json.json {
        for note in &found.notes {
            output::line(&output::words(note))?;
        }
    }
    if found.droops.is_empty() && !has_signs {
        return Err(Failure::Asked(format!(
            "nothing is written down of how the toile of this fitting hangs; name a table of droops: hangtrue causes {} droops.csv",
            args.project.display()
        )));
    }
    Ok(found)
}

/// A sign by its name, and the leg behind it.
fn sign(text: &str, seen: bool) -> Result<Looked, String> {
    let (name, leg) = match text.rsplit_once(',').map(|(name, leg)| (name, leg.trim())) {
        Some((name, "left")) => (name, Some(Leg::Left)),
        Some((name, "right")) => (name, Some(Leg::Right)),
        _ => (text, None),
    };
    match Sign::called(name) {
        Some(sign) => Ok(Looked { sign, seen, leg }),
        None => {
            let names: Vec<&str> = Sign::ALL.iter().map(|s| s.name()).collect();
            Err(format!("there is no sign “{}”; there are: {}", name.trim(), names.join("; ")))
        }
    }
}

fn sign_seen(text: &str) -> Result<Looked, String> {
    sign(text, true)
}

fn sign_absent(text: &str) -> Result<Looked, String> {
    sign(text, false)
}

/// The signs of the open fitting, those of the command in place of those kept.
fn signs_of(opened: &Opened, args: &ReadingArgs) -> Vec<Looked> {
    let mut journal = opened.document.journal.clone();
    for looked in args.not_seen.iter().chain(&args.seen) {
        journal.look_for(OPEN_ROUND, looked.sign, Some(*looked));
    }
    journal.signs_of(OPEN_ROUND)
}

/// The signs there are, and which were looked for.
fn list_signs(signs: &[Looked], json: bool) -> Result<(), Failure> {
    let found = |sign: Sign| signs.iter().find(|l| l.sign == sign);
    if json {
        let all: Vec<_> = Sign::ALL
            .iter()
            .map(|s| {
                serde_json::json!({
                    "sign": s.name(),
                    "from": s.from().word(),
                    "looks": s.looks(),
                    "seen": found(*s).map(|l| l.seen),
                    "leg": found(*s).and_then(|l| l.leg).map(Leg::word),
                })
            })
            .collect();
        return output::json(&all);
    }
    for sign in Sign::ALL {
        let state = match found(*sign) {
            None => "not looked for",
            Some(looked) if looked.seen => "there",
            Some(_) => "not there",
        };
        output::line(&format!(
            "{} ({}; {state}): {}",
            sign.name(),
            sign.from().word(),
            sign.looks()
        ))?;
    }
    Ok(())
}

/// Keeps with the project what was named: droops in place of those kept before, each sign
/// in place of what was found of it before.
fn keep(opened: &mut Opened, args: &ReadingArgs, droops: &[Droop]) -> Result<(), Failure> {
    let journal = &mut opened.document.journal;
    if args.droops.is_some() {
        journal.droops.retain(|d| d.round != OPEN_ROUND);
        let named = droops.iter().map(|d| RoundDroop { round: OPEN_ROUND.into(), droop: *d });
        journal.droops.extend(named);
    }
    for looked in args.not_seen.iter().chain(&args.seen) {
        journal.look_for(OPEN_ROUND, looked.sign, Some(*looked));
    }
    opened.save()
}

fn show(reading: &ToileReading, unit: Unit, args: &ReadingArgs) -> Result<(), Failure> {
    let mut asked_for = Vec::new();
    if reading.meanings.is_empty() {
        asked_for = reading.nothing_proposed(unit);
        for said in &asked_for {
            output::line(said)?;
        }
    } else {
        output::line(match reading.waits_for() {
            Some(_) => {
                "What it may mean, what has to be settled first before the rest. These are proposals: you saw the toile."
            }
            None => {
                "What it may mean, what fits best first. These are proposals: you saw the toile."
            }
        })?;
    }
    for doubt in &reading.doubts {
        output::line(&format!("\n{doubt}"))?;
    }
    if let Some(words) = reading.side_by_side() {
        output::line(&format!("\n{words}"))?;
    }
    if !reading.meanings.is_empty() && !reading.lines.is_empty() {
        output::line(
            "\nThe lines, against how they hang on a toile that fits (predicted, not seen):",
        )?;
        for line in LineRead::words_of_all(reading.lines.iter(), unit) {
            output::line(&format!("  - {line}"))?;
        }
    }
    for (index, meaning) in reading.meanings.iter().enumerate() {
        show_one(index + 1, meaning)?;
    }
    for points in &reading.pointed_at {
        output::line(&format!("\n{points}"))?;
    }
    let wanted: Vec<&String> =
        reading.not_judged.iter().filter(|want| !asked_for.contains(want)).collect();
    for (index, want) in wanted.iter().take(ASKED).enumerate() {
        output::line(&format!("{}{want}", if index == 0 { "\n" } else { "" }))?;
    }
    if wanted.len() > ASKED {
        let more = wanted.len() - ASKED;
        output::line(&format!("Other lines would tell more: --json names {more} besides."))?;
    }
    pinned_along(reading, unit, args)?;
    output::line("\nWhat no photo tells:")?;
    for unknown in &reading.cannot_know {
        output::line(&format!("  - {unknown}"))?;
    }
    if reading.meanings.is_empty() {
        return Ok(());
    }
    output::line(&format!("\n{CAUTION}"))?;
    if let Some(sign) = reading.waits_for() {
        return output::line(&format!(
            "Next: do what comes first, look again, and measure the lines anew; then add --seen \"{}\"",
            sign.name()
        ));
    }
    let may_be_taken = |m: &Meaning| m.sure && m.change.is_some() && m.can_be_made;
    let Some(number) = reading.meanings.iter().position(may_be_taken) else {
        return output::line("Next: look at the cloth there, and pin what you see");
    };
    output::line(&format!(
        "Next: hangtrue causes {}{} --take {}, or pin what you see",
        args.project.display(),
        args.droops.as_ref().map_or_else(String::new, |d| format!(" {}", d.display())),
        number + 1
    ))
}

/// What was left over along a line, and how it is entered as a pinch once it is pinned.
fn pinned_along(reading: &ToileReading, unit: Unit, args: &ReadingArgs) -> Result<(), Failure> {
    // What hangs over along a line means nothing yet while something else comes first.
    if reading.waits_for().is_some() {
        return Ok(());
    }
    for offer in offers(&reading.lines) {
        let Some(line) = offer.marked() else { continue };
        output::line(&format!("\nLeft over: {}.", offer.words(unit)))?;
        let at = offer
            .places
            .iter()
            .map(|p| format!(" --at \"{:.0}% from {}=AMOUNT\"", 100.0 * (1.0 - p.at), names::SIDE));
        output::line(&format!(
            "If it is pinned there: hangtrue pin {} --piece {} --line \"{line}\"{}",
            args.project.display(),
            offer.view.piece(),
            at.collect::<String>()
        ))?;
    }
    Ok(())
}

/// So many of the lines that would tell more are named.
const ASKED: usize = 4;

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
    for sign in &meaning.signs {
        output::line(&format!("   {sign}"))?;
    }
    if let Some(change) = &meaning.change_words {
        output::line(&format!("   {}: {change}", meaning.change_heading()))?;
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
    output::line(&format!("Next: hangtrue walk {}", args.project.display()))
}
