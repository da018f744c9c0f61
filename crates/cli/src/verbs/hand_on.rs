//! Handing a project on without its photos.

use crate::args::OverArg;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::Args;
use hangtrue_files::project;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct HandOnArgs {
    /// The project file.
    pub project: PathBuf,
    /// The project file to write.
    #[arg(long)]
    pub out: PathBuf,
    /// Leave the client's name out too.
    #[arg(long)]
    pub without_name: bool,
    /// Leave the notes of the journal out too.
    #[arg(long)]
    pub without_notes: bool,
    #[command(flatten)]
    pub over: OverArg,
}

pub fn run(args: &HandOnArgs) -> Result<(), Failure> {
    let over = args.over.over();
    check_outputs(&[Some(&args.out)], &[Some(&args.project)], over)?;
    let opened = Opened::open(&args.project)?;
    let photos = opened.document.journal.photos.len();
    let mut document = opened.document.without_photos();
    if args.without_name {
        document.client.clear();
    }
    if args.without_notes {
        document = document.without_notes();
    }
    project::save_new_over(&args.out, &document, over)?;
    output::line(&format!(
        "Wrote {} without the {photos} photos; the body\u{2019}s measures, the pins, how the lines hung{}{} are in it.",
        args.out.display(),
        if args.without_name { "" } else { ", the name" },
        if args.without_notes { "" } else { ", the notes" },
    ))
}
