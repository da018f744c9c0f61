//! Notes for the journal.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{NoteKind, OPEN_ROUND, RoundNote, TODAY};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct NoteArgs {
    /// The project file.
    pub project: PathBuf,
    #[command(flatten)]
    pub what: NoteWhat,
    /// The fitting it belongs to: its name, or “today” for the open one.
    #[arg(long = "fitting", alias = "round", default_value = "today", value_name = "NAME")]
    pub round: String,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct NoteWhat {
    /// What was seen.
    #[arg(long, value_name = "WORDS", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub seen: Option<String>,
    /// What was decided.
    #[arg(long, value_name = "WORDS", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub decided: Option<String>,
    /// Take all notes of the fitting out again.
    #[arg(long)]
    pub clear: bool,
}

pub fn run(args: &NoteArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let round = opened.document.round_meant(&args.round).to_owned();
    known_round(&opened, &round)?;
    let notes = &mut opened.document.journal.notes;
    let (seen, decided) = (&args.what.seen, &args.what.decided);
    for (kind, text) in [(NoteKind::Seen, seen), (NoteKind::Decided, decided)] {
        if let Some(text) = text {
            notes.push(RoundNote { round: round.clone(), kind, text: text.clone() });
        }
    }
    if args.what.clear {
        notes.retain(|n| n.round != round);
    }
    let count = notes.iter().filter(|n| n.round == round).count();
    opened.save()?;
    let shown = if round == OPEN_ROUND { "This fitting".into() } else { format!("“{round}”") };
    output::line(&format!("{shown} has {count} notes in the journal."))
}

/// Refuses a round that is not there, with those that are.
pub fn known_round(opened: &Opened, round: &str) -> Result<(), Failure> {
    if opened.document.has_round(round) {
        return Ok(());
    }
    let mut known: Vec<&str> = opened.document.rounds().map(|r| r.0).collect();
    known.push(TODAY);
    Err(Failure::Asked(format!(
        "there is no fitting called “{round}”; there are: {}",
        known.join(", ")
    )))
}
