//! Truing what the walk found.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{Change, SEEN, TrueDart, fold_darts, left_to_true};
use hangtrue_pattern::Pattern;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct TrueArgs {
    /// The project file.
    pub project: PathBuf,
    /// Only this seam.
    #[arg(long = "seam", alias = "join")]
    pub join: Option<String>,
    /// Say what would be trued and change nothing.
    #[arg(long)]
    pub only_say: bool,
}

pub fn run(args: &TrueArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_for(&args.project, !args.only_say)?;
    let mut pattern = (**opened.pattern()?).clone();
    if let Some(join) = &args.join {
        known_join(&pattern, join)?;
    }
    let mut said = Vec::new();
    let mut done = 0;
    // Lengths move corners, so corners are looked at after them, darts last.
    for stage in [lengths, corners, darts] {
        for change in stage(&pattern, args.join.as_deref())? {
            let words = change.words(opened.unit());
            let outcome = change.apply(&pattern)?;
            pattern = outcome.pattern;
            said.push(words.clone());
            let shown = outcome.changed.iter().map(|c| c.shown(opened.unit(), SEEN));
            said.extend(shown.map(|row| format!("    {} {}", row.measure, row.change)));
            opened.document.push(&words, change);
            done += 1;
        }
    }
    said.push(match (done, args.only_say) {
        (0, _) => "Everything matches: there is nothing to true.".to_owned(),
        (_, true) => "Only said, nothing changed.".to_owned(),
        (n, false) => {
            opened.save()?;
            format!("{n} trued. Walk again with: hangtrue walk {}", args.project.display())
        }
    });
    said.iter().try_for_each(|line| output::line(line))
}

fn known_join(pattern: &Pattern, name: &str) -> Result<(), Failure> {
    if pattern.joins.iter().any(|j| j.name == name) {
        return Ok(());
    }
    let known: Vec<&str> = pattern.joins.iter().map(|j| j.name.as_str()).collect();
    Err(Failure::Asked(format!(
        "there is no seam called “{name}”; there are: {}",
        known.join(", ")
    )))
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
