//! Drafting a block for every row of a table.

use super::begin::read_plan;
use crate::args::BatchArgs;
use crate::failure::Failure;
use hangtrue_files::batch::{ColumnMap, run_batch, write_csv, write_json_lines};
use hangtrue_files::save::write_whole;
use std::fs::File;
use std::io::{BufReader, Write};
use std::path::Path;
use std::time::Instant;

pub fn run(args: &BatchArgs, json: bool) -> Result<(), Failure> {
    let columns = std::fs::read_to_string(&args.columns).map_err(unreadable(&args.columns))?;
    let map = ColumnMap::read(&columns)?;
    let plan = read_plan(args.plan.as_deref())?;
    let table = File::open(&args.table).map_err(unreadable(&args.table))?;
    let begun = Instant::now();
    let rows = run_batch(BufReader::new(table), &map, &plan)?;
    let write = |to: &mut dyn Write| {
        if json { write_json_lines(rows, to) } else { write_csv(rows, to) }
    };
    let (drafted, refused) = match &args.out {
        Some(path) => {
            let mut bytes = Vec::new();
            let tally = write(&mut bytes)?;
            write_whole(path, &bytes)?;
            tally
        }
        None => write(&mut std::io::stdout().lock())?,
    };
    // On standard error, so that a table on standard output stays a table.
    eprintln!(
        "{drafted} of {} rows drafted, {refused} refused, in {:.2} s",
        drafted + refused,
        begun.elapsed().as_secs_f64()
    );
    Ok(())
}

fn unreadable(path: &Path) -> impl FnOnce(std::io::Error) -> Failure {
    let path = path.to_owned();
    move |source| Failure::Unreadable { path, source }
}
