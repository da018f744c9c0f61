//! The fitting journal.

use crate::args::OverArg;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::Args;
use hangtrue_files::journal::journal;
use hangtrue_files::print::report_pdf;
use hangtrue_files::save::write_output;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct JournalArgs {
    /// The project file.
    pub project: PathBuf,
    /// The PDF to write.
    #[arg(long)]
    pub out: PathBuf,
    /// Put the ticked photos in; without it there is no photo.
    #[arg(long)]
    pub with_photos: bool,
    #[command(flatten)]
    pub over: OverArg,
}

pub fn run(args: &JournalArgs) -> Result<(), Failure> {
    let over = args.over.over();
    check_outputs(&[Some(&args.out)], &[Some(&args.project)], over)?;
    let opened = Opened::open(&args.project)?;
    let photos = args.with_photos.then_some(args.project.as_path());
    let report = journal(&opened.replay, photos)?;
    write_output(&args.out, &report_pdf(&report)?, over)?;
    let (all, ticked) = opened
        .document
        .journal
        .photos
        .iter()
        .fold((0, 0), |(all, ticked), p| (all + 1, ticked + usize::from(p.in_journal)));
    output::line(&format!("Wrote {}.", args.out.display()))?;
    output::line(&match (args.with_photos, ticked) {
        (true, n) => format!("Of {all} photos {n} are ticked and in it."),
        (false, 0) => "No photo is in it.".to_owned(),
        (false, n) => format!("No photo is in it; {n} are ticked, put them in with --with-photos."),
    })
}
