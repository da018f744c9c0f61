//! Drafting a block for every row of a table.

use super::begin::read_plan;
use crate::args::{JsonArg, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::check_outputs;
use clap::Args;
use hangtrue_files::batch::{ColumnMap, run_batch, write_csv, write_json_lines};
use hangtrue_files::project::read_text;
use hangtrue_files::read;
use hangtrue_files::save::write_output;
use hangtrue_pattern::units::Unit;
use std::io::{BufReader, Write};
use std::path::{Path, PathBuf};
use std::time::Instant;

#[derive(Debug, Args)]
pub struct BatchArgs {
    /// The table: a CSV whose first line names the columns.
    pub table: PathBuf,
    /// Which column is which measure, a small RON file (see assets/columns).
    #[arg(long)]
    pub columns: PathBuf,
    /// Eases and widths, when they are not the usual ones.
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// Where to write the results (default: the terminal).
    #[arg(long)]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub over: OverArg,
}

/// Which column is which measure, as a file says.
pub(super) fn column_map(path: &Path) -> Result<ColumnMap, Failure> {
    ColumnMap::read(&read_text(path)?).map_err(|e| Failure::NotAFile {
        path: path.to_owned(),
        kind: "column map",
        why: e.to_string(),
        like: "see assets/columns for one that works",
    })
}

pub fn run(args: &BatchArgs) -> Result<(), Failure> {
    let over = args.over.over();
    let made_from = [Some(&args.table), Some(&args.columns), args.plan.as_ref()];
    check_outputs(&[args.out.as_ref()], &made_from, over)?;
    let map = column_map(&args.columns)?;
    // What a batch writes is in mm.
    let plan = read_plan(args.plan.as_deref(), Unit::Mm)?;
    let table = read::open(&args.table, read::LARGEST_TABLE)?;
    let begun = Instant::now();
    let rows = run_batch(BufReader::new(table), &map, &plan)
        .map_err(|source| Failure::Table { path: args.table.clone(), source: Box::new(source) })?;
    let write = |to: &mut dyn Write| {
        if args.json.json { write_json_lines(rows, to) } else { write_csv(rows, to) }
    };
    let (drafted, refused) = match &args.out {
        Some(path) => {
            let mut bytes = Vec::new();
            let tally = write(&mut bytes)?;
            write_output(path, &bytes, over)?;
            tally
        }
        None => write(&mut output::Streamed::new(args.json.json))?,
    };
    // On standard error, so that a table on standard output stays a table.
    output::complain(&format!(
        "{drafted} of {} rows drafted, {refused} refused, in {:.2} s",
        drafted + refused,
        begun.elapsed().as_secs_f64()
    ));
    Ok(())
}
