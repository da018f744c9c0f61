//! What was seen on the body and what was decided, for the journal.

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::name_field;
use crate::kit::say::part;
use egui::{TextEdit, Ui};
use hangtrue_adjust::{NoteKind, OPEN_ROUND, RoundNote};

/// What is being written and is no note yet.
#[derive(Debug, Default)]
pub(crate) struct NotesCard {
    seen: String,
    decided: String,
}

/// Shows the notes of this round.
pub(super) fn show(own: &mut NotesCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Notes for the journal");
    kept(board, requests, ui);
    for (kind, words, text) in [
        (NoteKind::Seen, "Seen on the body", &mut own.seen),
        (NoteKind::Decided, "Decided", &mut own.decided),
    ] {
        let field = TextEdit::multiline(text).desired_rows(2).desired_width(f32::INFINITY);
        ui.label(words);
        let field = ui.add(field);
        name_field(ui, &field, words);
        let button = ui.add_enabled(!text.trim().is_empty(), egui::Button::new("Note it"));
        name_field(ui, &button, &format!("Note it: {}", words.to_lowercase()));
        if button.clicked() {
            let text = std::mem::take(text).trim().to_owned();
            let note = RoundNote { round: OPEN_ROUND.into(), kind, text };
            requests.edit("a note", move |d| d.journal.notes.push(note));
        }
    }
}

/// The notes kept so far, each to be taken away.
fn kept(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let notes: Vec<(usize, RoundNote)> =
        board.document().journal.notes.iter().cloned().enumerate().collect();
    for (index, note) in notes.into_iter().filter(|n| n.1.round == OPEN_ROUND) {
        let kind = match note.kind {
            NoteKind::Seen => "Seen",
            NoteKind::Decided => "Decided",
        };
        ui.add(egui::Label::new(format!("{kind}: {}", note.text)).wrap());
        let button = ui.small_button("Take away");
        name_field(ui, &button, &format!("Take the note away: {}", note.text));
        if button.clicked() {
            requests.edit("a note taken away", move |d| {
                d.journal.notes.remove(index);
            });
        }
    }
}
