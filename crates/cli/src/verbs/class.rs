//! A class: the sheets of every pupil of a list in one run.

use super::batch::column_map;
use super::begin::read_plan;
use super::cut::args::{ClosureArg, SetArg, WaistArg};
use super::print::{ScaleArg, paper_named};
use crate::args::{JsonArg, OverArg, UnitArg};
use crate::failure::Failure;
use crate::output;
use crate::project::check_outputs;
use clap::Args;
use hangtrue_adjust::{CuttingPlan, Usual};
use hangtrue_files::class::{ClassDone, ClassList, ClassWork, Pupil, run_class};
use hangtrue_files::print::{Paper, TileOptions};
use hangtrue_files::{read, today};
use hangtrue_pattern::units::Unit;
use serde_json::json;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct ClassArgs {
    /// The list: a CSV, a pupil a line; `hangtrue sheet class` writes one to fill in.
    pub list: PathBuf,
    /// The folder for the sheets; made when it is not there.
    #[arg(long)]
    pub out: PathBuf,
    /// Full size, or smaller and not for cutting.
    #[arg(long, value_enum, default_value_t = ScaleArg::Full)]
    pub scale: ScaleArg,
    /// The set of seam allowances.
    #[arg(long, value_enum, default_value_t = SetArg::None)]
    pub set: SetArg,
    /// How the waist is finished.
    #[arg(long, value_enum, default_value_t = WaistArg::None)]
    pub waist: WaistArg,
    /// Height of the waistband, depth of the facing, or width of the elastic (default: the
    /// usual).
    #[arg(long, requires = "waist", value_name = "LENGTH", allow_hyphen_values = true)]
    pub waist_width: Option<String>,
    /// How the trousers are opened.
    #[arg(long, value_enum, default_value_t = ClosureArg::PullOn)]
    pub closure: ClosureArg,
    /// Height of a straight band: the same as --waist band --waist-width.
    #[arg(long, value_name = "LENGTH", conflicts_with_all = ["waist", "waist_width"])]
    pub band: Option<String>,
    /// A4, A3, A0, Letter, or a roll's width like "roll 914 mm" (default: A4, or Letter when
    /// lengths are in inches).
    #[arg(long)]
    pub paper: Option<String>,
    /// The unit of bare numbers where the column does not say it, and of what is printed.
    #[arg(long, value_enum, default_value_t = UnitArg::Cm)]
    pub unit: UnitArg,
    /// Which column is which measure, a small RON file, where the columns have other names
    /// than the measures.
    #[arg(long)]
    pub columns: Option<PathBuf>,
    /// Eases and widths, when they are not the usual ones.
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// What is made.
    #[arg(long, default_value = "Trousers")]
    pub title: String,
    /// Save a project for every pupil too.
    #[arg(long)]
    pub projects: bool,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub over: OverArg,
}

pub fn run(args: &ClassArgs) -> Result<(), Failure> {
    let unit = Unit::from(args.unit);
    let made_from = [Some(&args.list), args.columns.as_ref(), args.plan.as_ref()];
    check_outputs(&[], &made_from, args.over.over())?;
    output::speak_in(unit);
    let work = work(args, unit)?;
    let list = list(args, unit)?;
    // On standard error: what is told at the end is the result.
    let mut heard = |pupil: &Pupil, done: usize, of: usize| {
        output::complain(&format!("{done} of {of}: {}", told(pupil)));
        true
    };
    let done = run_class(list, &work, &args.out, &mut heard).map_err(Box::new)?;
    if args.json.json {
        return output::line(&as_json(&done).to_string());
    }
    output::line(&format!("{} ({}).", done.told(), args.out.display()))?;
    for path in &done.overview {
        output::line(&format!("Wrote {}.", path.display()))?;
    }
    match work.reduced {
        Some(reduced) => {
            output::line(&format!("All of it is {}: not for cutting.", reduced.name()))
        }
        None => output::line(&format!(
            "Print at 100 %, and measure the test squares before cutting. {}",
            super::cut::CAUTION
        )),
    }
}

fn work(args: &ClassArgs, unit: Unit) -> Result<ClassWork, Failure> {
    let usual = Usual::of(unit);
    let paper = match &args.paper {
        Some(name) => paper_named(name)?,
        None => Paper::of(usual.paper, usual.roll),
    };
    let cutting = cutting(args, unit)?;
    Ok(ClassWork {
        plan: read_plan(args.plan.as_deref(), unit)?,
        unit,
        cutting,
        paper,
        tiles: TileOptions { margin: usual.margin, overlap: usual.overlap, unit },
        reduced: args.scale.reduced(),
        title: args.title.clone(),
        today: today(),
        projects: args.projects,
        over: args.over.over(),
    })
}

/// What is cut for every pupil.
fn cutting(args: &ClassArgs, unit: Unit) -> Result<CuttingPlan, Failure> {
    let mut plan = CuttingPlan { set: Some(args.set.into()), ..CuttingPlan::default() };
    plan.open_by(args.closure.into());
    let waist = if args.band.is_some() { WaistArg::Band } else { args.waist };
    let width = args.band.as_ref().or(args.waist_width.as_ref());
    plan.waist = waist.finish(width, (plan.closure, unit))?;
    Ok(plan)
}

fn list(args: &ClassArgs, unit: Unit) -> Result<ClassList, Failure> {
    let map = args.columns.as_deref().map(column_map).transpose()?;
    let table = read::bytes(&args.list, read::LARGEST_TABLE)?;
    ClassList::read(&table, map.as_ref(), unit)
        .map_err(|source| Failure::Class { path: args.list.clone(), source: Box::new(source) })
}

fn told(pupil: &Pupil) -> String {
    match &pupil.made {
        Ok(made) if made.sheets == 1 => format!("{}, 1 sheet", pupil.name),
        Ok(made) => format!("{}, {} sheets", pupil.name, made.sheets),
        Err(why) => format!("{} (line {}), refused: {why}", pupil.name, pupil.line),
    }
}

fn as_json(done: &ClassDone) -> serde_json::Value {
    let pupils = done.pupils.iter().map(|pupil| match &pupil.made {
        Ok(made) => json!({
            "line": pupil.line, "name": pupil.name, "sheets": made.sheets,
            "pdf": made.pdf, "project": made.project, "notes": made.notes,
        }),
        Err(why) => json!({"line": pupil.line, "name": pupil.name, "refused": why}),
    });
    let (made, sheets) = done.tally();
    json!({
        "pupils": pupils.collect::<Vec<_>>(), "printed": made, "sheets": sheets,
        "overview": done.overview,
    })
}
