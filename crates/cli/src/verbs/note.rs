//! Notes for the journal.

use crate::args::NoteArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{NoteKind, RoundNote};

pub fn run(args: &NoteArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    known_round(&opened, &args.round)?;
    let round = args.round.clone();
    let notes = &mut opened.document.journal.notes;
    let (seen, decided) = (&args.what.seen, &args.what.decided);
    for (kind, text) in [(NoteKind::Seen, seen), (NoteKind::Decided, decided)] {
        if let Some(text) = text {
            notes.push(RoundNote { round: round.clone(), kind, text: text.clone() });
        }
    }
    if args.what.clear {
        notes.retain(|n| n.round != round);
    }
    let count = notes.iter().filter(|n| n.round == round).count();
    opened.save()?;
    output::line(&format!("“{round}” has {count} notes in the journal."))
}

/// Refuses a round that is not there, with those that are.
pub fn known_round(opened: &Opened, round: &str) -> Result<(), Failure> {
    if opened.document.has_round(round) {
        return Ok(());
    }
    let mut known: Vec<&str> = opened.document.rounds().map(|r| r.0).collect();
    known.push("now");
    Err(Failure::Asked(format!(
        "there is no round called “{round}”; there are: {}",
        known.join(", ")
    )))
}
