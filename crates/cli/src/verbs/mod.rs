//! One file a verb.

pub(crate) mod accept;
pub(crate) mod apart;
pub(crate) mod batch;
pub(crate) mod begin;
pub(crate) mod bring;
pub(crate) mod class;
pub(crate) mod close;
pub(crate) mod compare;
pub(crate) mod correct;
pub(crate) mod cut;
mod draft;
pub(crate) mod edit;
mod figure_args;
pub(crate) mod hand_on;
pub(crate) mod hang;
mod hang_weigh;
pub(crate) mod journal;
pub(crate) mod lay;
mod lay_told;
mod list;
pub(crate) mod look;
pub(crate) mod mark;
pub(crate) mod method;
pub(crate) mod note;
mod one_change;
pub(crate) mod photo;
pub(crate) mod pin;
pub(crate) mod print;
mod read;
pub(crate) mod reading;
pub(crate) mod send;
pub(crate) mod set_up;
pub(crate) mod sheet;
pub(crate) mod style;
pub(crate) mod trace;
pub(crate) mod true_up;
mod walk;
pub(crate) mod weigh;
pub(crate) mod words;

pub(crate) use weigh::weigh_rows;

use crate::args::{Command, Verb};
use crate::failure::Failure;

/// Runs a verb.
pub fn run(command: Command) -> Result<(), Failure> {
    match command.verb {
        Verb::Demo(args) => crate::demo::run(&args.out, args.over.over()),
        Verb::Begin(args) => begin::run(&args),
        Verb::Draft(args) => draft::run(&args.project, args.json.json),
        Verb::Mark(args) => mark::run(&args),
        Verb::Read(args) => read::run(&args.project, args.json.json),
        Verb::Hang(args) => hang::run(&args),
        Verb::Look(args) => look::run(&args),
        Verb::Reading(args) => reading::run(&args),
        Verb::Pin(args) => pin::run(&args),
        Verb::Weigh(args) => weigh::run(&args),
        Verb::Accept(args) => accept::run(&args),
        Verb::Apart(args) => apart::apart(&args),
        Verb::Together(args) => apart::together(&args),
        Verb::Walk(args) => walk::run(&args.project, args.json.json),
        Verb::Correct(args) => correct::run(&args),
        Verb::Style(args) => style::run(&args),
        Verb::True(args) => true_up::run(&args),
        Verb::Close(args) => close::run(&args),
        Verb::Note(args) => note::run(&args),
        Verb::Photo(args) => photo::run(&args),
        Verb::Journal(args) => journal::run(&args),
        Verb::HandOn(args) => hand_on::run(&args),
        Verb::List(args) => list::run(&args.project, args.json.json),
        Verb::Edit(args) => edit::run(&args),
        Verb::Compare(args) => compare::run(&args),
        Verb::Cut(args) => cut::run(&args),
        Verb::Lay(args) => lay::run(&args),
        Verb::Print(args) => print::run(&args),
        Verb::Sheet(args) => sheet::run(&args),
        Verb::Send(args) => send::run(&args),
        Verb::Bring(args) => bring::run(&args),
        Verb::Trace(args) => trace::run(&args),
        Verb::Batch(args) => batch::run(&args),
        Verb::Class(args) => class::run(&args),
        Verb::SetUp(args) => set_up::run(&args),
        Verb::Licences => set_up::licences(),
        Verb::Words(args) => words::run(&args),
    }
}
