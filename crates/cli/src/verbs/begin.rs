//! Starting a project from measures.

use crate::args::{OverArg, UnitArg};
use crate::failure::Failure;
use crate::output;
use crate::project::check_outputs;
use clap::Args;
use clap::ValueEnum;
use hangtrue_adjust::{Document, Replay};
use hangtrue_files::project;
use hangtrue_files::ron_text;
use hangtrue_files::ron_words::in_words;
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::LegRoom;
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::measures::{Measure, Measures};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct BeginArgs {
    /// The project file to write.
    pub project: PathBuf,
    /// The file of measures; without it one to fill in is written beside the project.
    #[arg(long)]
    pub measures: Option<PathBuf>,
    /// Eases and widths, when they are not the usual ones.
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// How close the leg lies at its top.
    #[arg(long, value_enum, requires = "measures")]
    pub leg: Option<LegArg>,
    /// What is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// For whom.
    #[arg(long, default_value = "")]
    pub client: String,
    /// How lengths are shown.
    #[arg(long, value_enum, default_value_t = UnitArg::Mm)]
    pub unit: UnitArg,
    #[command(flatten)]
    pub over: OverArg,
}

/// How much room the leg has at its top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LegArg {
    /// Near the thigh.
    Close,
    /// As most trousers.
    Usual,
    /// Well off the thigh.
    Roomy,
}

impl From<LegArg> for LegRoom {
    fn from(leg: LegArg) -> Self {
        match leg {
            LegArg::Close => Self::Close,
            LegArg::Usual => Self::Usual,
            LegArg::Roomy => Self::Roomy,
        }
    }
}

pub fn run(args: &BeginArgs) -> Result<(), Failure> {
    let over = args.over.over();
    let Some(from) = &args.measures else { return write_form(args) };
    let made_from = [Some(from), args.plan.as_ref()];
    check_outputs(&[Some(&args.project)], &made_from, over)?;
    let measures: Measures = read_ron(
        from,
        "file of measures",
        "write it like {waist_girth: \"30 in\", hip_girth: 1000, …}, a measure a line",
    )?;
    let unit = Unit::from(args.unit);
    let mut plan = read_plan(args.plan.as_deref(), unit)?;
    if let Some(leg) = args.leg {
        plan.leg_room = leg.into();
    }
    output::speak_in(unit);
    // What else is wrong is named too: each fault costs a walk back to the tape.
    if let [first, rest @ ..] = &measures.faults()[..]
        && !rest.is_empty()
    {
        let rest: Vec<&str> = rest.iter().map(|fault| fault.measure().name()).collect();
        let first = first.in_unit(unit);
        return Err(Failure::Asked(format!("{first}; look also at: {}", rest.join(", "))));
    }
    let document = Document::from_measures(&args.title, &args.client, unit, measures, plan);
    // A project whose block cannot be drafted is not worth starting.
    Replay::new(document.clone()).start()?;
    project::save_new_over(&args.project, &document, over)?;
    output::line(&format!(
        "Started {}. Next: hangtrue draft {0}, then hangtrue mark {0} --usual",
        args.project.display()
    ))
}

/// Writes a file of measures to fill in, beside the project that is to be.
fn write_form(args: &BeginArgs) -> Result<(), Failure> {
    let form = args.project.with_extension("measures.ron");
    let unit = args.unit.to_possible_value().map(|v| v.get_name().to_owned()).unwrap_or_default();
    let next = format!(
        "fill it in, then: hangtrue begin {} --measures {} --unit {unit}",
        args.project.display(),
        form.display()
    );
    check_outputs(&[Some(&args.project)], &[args.plan.as_ref()], args.over.over())?;
    if form.symlink_metadata().is_ok() {
        return Err(Failure::Asked(format!("“{}” is there already: {next}", form.display())));
    }
    write_output(&form, form_of(Unit::from(args.unit)).as_bytes(), Over::Never)?;
    output::line(&format!("Wrote {}: {next}", form.display()))
}

/// Every measure with how it is taken; those that are needed come first, empty.
fn form_of(unit: Unit) -> String {
    let like = match unit {
        Unit::Mm => "\"780 mm\"",
        Unit::Cm => "\"78 cm\"",
        _ => "\"30 3/4 in\"",
    };
    let mut text = format!(
        "// The measures of one body. Write each between the quotation marks, like {like}.\n\
         // Over light clothes, the tape close but not tight.\n\
         {{\n    // These are needed.\n"
    );
    for measure in Measure::REQUIRED {
        text += &format!("    // {}\n    {}: \"\",\n", how(measure), measure.key());
    }
    text += "\n    // These may be added: take the two strokes before the name away. What is not\n    // taken follows from the others by the proportions of many bodies.\n";
    let (drawing, kept): (Vec<_>, Vec<_>) =
        Measure::ALL.into_iter().filter(|m| m.is_optional()).partition(|m| m.draws_the_block());
    for measure in drawing.into_iter().chain(kept) {
        text += &format!("    // {}\n    // {}: \"\",\n", how(measure), measure.key());
    }
    text + "}\n"
}

/// How a measure is taken, what is done with it, and with what care.
fn how(measure: Measure) -> String {
    let more = [measure.kept(), measure.care()].into_iter().flatten();
    let more: String = more.map(|words| format!(" {words}")).collect();
    format!("{}{more}", measure.definition())
}

/// The plan in a file, or the usual one of makers who work in that unit.
pub fn read_plan(path: Option<&Path>, unit: Unit) -> Result<Plan, Failure> {
    let like = "write it like (hip_ease: 40, hem_ease: 80), lengths in mm";
    path.map_or_else(|| Ok(Plan::usual(unit)), |path| read_ron(path, "plan of eases", like))
}

/// A small RON file.
pub(super) fn read_ron<T: DeserializeOwned>(
    path: &Path,
    kind: &'static str,
    like: &'static str,
) -> Result<T, Failure> {
    let text = project::read_text(path)?;
    ron_text::read(&text).map_err(|e| Failure::NotAFile {
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
