//! Starting a project from measures.

use crate::args::BeginArgs;
use crate::failure::Failure;
use crate::output;
use hangtrue_adjust::{Document, Replay};
use hangtrue_files::project;
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::Unit;
use serde::de::DeserializeOwned;
use std::path::Path;

pub fn run(args: &BeginArgs) -> Result<(), Failure> {
    if args.project.exists() && !args.replace {
        return Err(Failure::AlreadyThere(args.project.clone()));
    }
    let measures: Measures = read_ron(&args.measures)?;
    let plan = read_plan(args.plan.as_deref())?;
    let unit = Unit::from(args.unit);
    let document = Document::from_measures(&args.title, &args.client, unit, measures, plan);
    // A project whose block cannot be drafted is not worth starting.
    Replay::new(document.clone()).start()?;
    project::save(&args.project, &document)?;
    output::line(&format!(
        "Started {}. Next: hangtrue draft {0}, then hangtrue mark {0} --usual",
        args.project.display()
    ))
}

/// The plan in a file, or the usual one.
pub fn read_plan(path: Option<&Path>) -> Result<Plan, Failure> {
    path.map_or_else(|| Ok(Plan::default()), read_ron)
}

/// A small RON file.
fn read_ron<T: DeserializeOwned>(path: &Path) -> Result<T, Failure> {
    let text = std::fs::read_to_string(path)
        .map_err(|source| Failure::Unreadable { path: path.to_owned(), source })?;
    ron::from_str(&text)
        .map_err(|e| Failure::Measures { path: path.to_owned(), why: e.to_string() })
}
