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
    let json = command.json;
    match command.verb {
        Verb::Demo(args) => crate::demo::run(&args.out),
        Verb::Begin(args) => begin::run(&args),
        Verb::Draft(args) => draft::run(&args.project, json),
        Verb::Mark(args) => mark::run(&args),
        Verb::Read(args) => read::run(&args.project, json),
        Verb::Pin(args) => pin::run(&args),
        Verb::Weigh(args) => weigh::run(&args, json),
        Verb::Accept(args) => accept::run(&args, json),
        Verb::Walk(args) => walk::run(&args.project, json),
        Verb::True(args) => true_up::run(&args),
        Verb::Close(args) => close::run(&args),
        Verb::List(args) => list::run(&args.project, json),
        Verb::Edit(args) => edit::run(&args),
        Verb::Compare(args) => compare::run(&args, json),
        Verb::Print(args) => print::run(&args),
        Verb::Send(args) => send::run(&args),
        Verb::Bring(args) => bring::run(&args, json),
        Verb::Batch(args) => batch::run(&args, json),
    }
}
