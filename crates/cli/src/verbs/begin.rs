//! Starting a project from measures.

use crate::args::BeginArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::check_outputs;
use hangtrue_adjust::{Document, Replay};
use hangtrue_files::project;
use hangtrue_files::ron_words::in_words;
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::Unit;
use serde::de::DeserializeOwned;
use std::path::Path;

pub fn run(args: &BeginArgs) -> Result<(), Failure> {
    let over = args.over.over();
    let made_from = [Some(&args.measures), args.plan.as_ref()];
    check_outputs(&[Some(&args.project)], &made_from, over)?;
    let measures: Measures = read_ron(
        &args.measures,
        "file of measures",
        "write it like {waist_girth: \"30 in\", hip_girth: 1000, …}, a measure a line",
    )?;
    let plan = read_plan(args.plan.as_deref())?;
    let unit = Unit::from(args.unit);
    output::speak_in(unit);
    let document = Document::from_measures(&args.title, &args.client, unit, measures, plan);
    // A project whose block cannot be drafted is not worth starting.
    Replay::new(document.clone()).start()?;
    project::save_new_over(&args.project, &document, over)?;
    output::line(&format!(
        "Started {}. Next: hangtrue draft {0}, then hangtrue mark {0} --usual",
        args.project.display()
    ))
}

/// The plan in a file, or the usual one.
pub fn read_plan(path: Option<&Path>) -> Result<Plan, Failure> {
    let like = "write it like (hip_ease: 40, hem_ease: 80), lengths in mm";
    path.map_or_else(|| Ok(Plan::default()), |path| read_ron(path, "plan of eases", like))
}

/// A small RON file.
fn read_ron<T: DeserializeOwned>(
    path: &Path,
    kind: &'static str,
    like: &'static str,
) -> Result<T, Failure> {
    let text = project::read_text(path)?;
    ron::from_str(&text).map_err(|e| Failure::NotAFile {
        path: path.to_owned(),
        kind,
        why: format!(
            "line {}, column {}: {}",
            e.span.start.line,
            e.span.start.col,
            in_words(&e.code)
        ),
        like,
    })
}
