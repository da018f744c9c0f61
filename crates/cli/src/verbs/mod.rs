//! One file a verb.

mod accept;
mod batch;
mod begin;
mod bring;
mod close;
mod compare;
mod draft;
mod edit;
mod list;
mod mark;
mod method;
mod pin;
mod print;
mod read;
mod send;
mod true_up;
mod walk;
mod weigh;

pub(crate) use weigh::weigh_rows;

use crate::args::{Command, Verb};
use crate::failure::Failure;

/// Runs a verb.
pub fn run(command: Command) -> Result<(), Failure> {
    match command.verb {
        Verb::Demo(args) => crate::demo::run(&args.out),
        Verb::Begin(args) => begin::run(&args),
        Verb::Draft(args) => draft::run(&args.project, args.json.json),
        Verb::Mark(args) => mark::run(&args),
        Verb::Read(args) => read::run(&args.project, args.json.json),
        Verb::Pin(args) => pin::run(&args),
        Verb::Weigh(args) => weigh::run(&args),
        Verb::Accept(args) => accept::run(&args),
        Verb::Walk(args) => walk::run(&args.project, args.json.json),
        Verb::True(args) => true_up::run(&args),
        Verb::Close(args) => close::run(&args),
        Verb::List(args) => list::run(&args.project, args.json.json),
        Verb::Edit(args) => edit::run(&args),
        Verb::Compare(args) => compare::run(&args),
        Verb::Print(args) => print::run(&args),
        Verb::Send(args) => send::run(&args),
        Verb::Bring(args) => bring::run(&args),
        Verb::Batch(args) => batch::run(&args),
    }
}
