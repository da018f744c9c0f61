//! Closing a round.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::CloseRound;
use hangtrue_files::{is_date, today};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct CloseArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name of the fitting.
    #[arg(long, value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub name: String,
    /// What was seen and decided.
    #[arg(long, default_value = "")]
    pub note: String,
    /// Date, year-month-day (default: today).
    #[arg(long)]
    pub date: Option<String>,
}

pub fn run(args: &CloseArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    if let Some(why) = opened.document.name_fault(None, &args.name) {
        return Err(Failure::Asked(why));
    }
    let date = match &args.date {
        None => today(),
        Some(text) if is_date(text) => text.clone(),
        Some(text) => {
            return Err(Failure::Asked(format!(
                "“{text}” is not a date; write it like 2026-11-25: year, month, day"
            )));
        }
    };
    let round = CloseRound { date, note: args.note.clone() };
    opened.document.close_round(&args.name, round);
    opened.save()?;
    output::line(&format!(
        "Fitting “{}” is closed, its pattern kept. Compare later with: hangtrue compare {} --from \"{0}\"",
        args.name,
        args.project.display()
    ))
}
