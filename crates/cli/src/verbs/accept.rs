//! Answering a pinch by a method.

use super::method::{MethodArg, MethodArgs};
use super::method::{method, pinned};
use super::weigh::{Did, weigh_rows};
use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{Change, PinchChange};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct AcceptArgs {
    /// The project file.
    pub project: PathBuf,
    /// The pinch.
    pub pinch: String,
    /// The method.
    #[arg(long, value_enum)]
    pub by: MethodArg,
    #[command(flatten)]
    pub json: JsonArg,
    #[command(flatten)]
    pub method: MethodArgs,
}

pub fn run(args: &AcceptArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let pinch = pinned(&opened, &args.pinch)?.clone();
    let method = method(args.by, &args.method, &opened, &pinch.piece)?;
    let change = PinchChange { pinch, method };
    let change = Change::Pinch(change);
    let outcome = change.apply_for(opened.pattern()?, opened.document.body())?;
    opened.document.pinned.retain(|p| p.name != args.pinch);
    opened.document.push(&args.pinch, change);
    opened.save()?;
    if args.json.json {
        return output::json(&Did::from(&outcome));
    }
    output::line(&format!("Accepted “{}”:", args.pinch))?;
    for line in weigh_rows(&Ok(outcome), opened.unit()) {
        output::line(&line)?;
    }
    output::line(&format!("Next: hangtrue walk {}", args.project.display()))
}
