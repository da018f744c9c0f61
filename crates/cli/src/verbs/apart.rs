//! Left and right apart, and together.

use super::weigh::weigh_rows;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::{Args, ValueEnum};
use hangtrue_adjust::{Change, JoinLegs, PartLegs, SAME_LEGS};
use hangtrue_pattern::Leg;
use std::path::PathBuf;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LegArg {
    /// The wearer's left.
    Left,
    /// The wearer's right.
    Right,
}

#[derive(Debug, Args)]
pub struct ApartArgs {
    /// The project file.
    pub project: PathBuf,
}

#[derive(Debug, Args)]
pub struct TogetherArgs {
    /// The project file.
    pub project: PathBuf,
    /// The leg whose pieces shall serve both; needed when the legs differ.
    #[arg(long, value_enum)]
    pub take: Option<LegArg>,
    /// What still counts as the same (default 0.5 mm).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub within: Option<String>,
}

impl From<LegArg> for Leg {
    fn from(leg: LegArg) -> Self {
        match leg {
            LegArg::Left => Self::Left,
            LegArg::Right => Self::Right,
        }
    }
}

pub fn apart(args: &ApartArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let change = Change::PartLegs(PartLegs);
    let outcome = change.apply(opened.pattern()?)?;
    opened.document.push(&change.words(opened.unit()), change);
    opened.save()?;
    let names: Vec<&str> = outcome.pattern.pieces.iter().map(|p| p.name.as_str()).collect();
    output::line(&format!("Left and right are apart: {}.", names.join(", ")))?;
    outcome.notes.iter().try_for_each(|note| output::line(&output::words(note)))
}

pub fn together(args: &TogetherArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let within = args.within.as_ref().map(|text| opened.length(text)).transpose()?;
    let change = Change::JoinLegs(JoinLegs {
        from: args.take.map(Leg::from),
        within: within.unwrap_or(SAME_LEGS),
    });
    let outcome = change.apply(opened.pattern()?)?;
    opened.document.push(&change.words(opened.unit()), change);
    opened.save()?;
    output::line("Left and right are together:")?;
    weigh_rows(&Ok(outcome), opened.unit()).iter().try_for_each(|line| output::line(line))
}
