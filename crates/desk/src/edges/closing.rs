//! Closing a round: its name, date and note.

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::say::{aside, fault};
use crate::kit::theme::bold;
use egui::{Rect, TextEdit, Ui, pos2};
use hangtrue_adjust::{Change, CloseRound};

/// The form of a round that is being closed, or that was and is written anew.
#[derive(Debug, Clone)]
pub(super) struct Closing {
    /// The index of the closed round; none for one being closed now.
    at: Option<usize>,
    name: String,
    date: String,
    note: String,
    /// It was not shown yet: the first time the cursor is put into its first field.
    fresh: bool,
}

impl Closing {
    /// A round that was closed, to be written anew.
    pub fn again(at: usize, name: &str, close: &CloseRound) -> Self {
        let CloseRound { date, note } = close.clone();
        Self { at: Some(at), name: name.to_owned(), date, note, fresh: true }
    }

    /// The open round, to be closed.
    pub fn now(board: &Board) -> Self {
        let (name, date) = (board.document().fitting(), board.today.clone());
        Self { at: None, name, date, note: String::new(), fresh: true }
    }

    /// Whether it is the form of that closed round.
    pub fn is_of(&self, index: usize) -> bool {
        self.at == Some(index)
    }
}

/// Offers to close the round.
pub(super) fn show(own: &mut Option<Closing>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    match &own {
        None => {
            let any = !board.document().changes.is_empty();
            if ui.add_enabled(any, egui::Button::new("Close this fitting…")).clicked() {
                *own = Some(Closing::now(board));
            }
        }
        Some(Closing { at: None, .. }) => {
            ui.separator();
            ui.label(bold("Close this fitting"));
            form(own, board, requests, ui);
        }
        Some(_) => {}
    }
}

/// Name, date and note of a round.
pub(super) fn form(own: &mut Option<Closing>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(Closing { at, mut name, mut date, mut note, mut fresh }) = own.clone() else {
        return;
    };
    let top = ui.cursor().min;
    for (label, text, rows) in
        [("Name", &mut name, 1), ("Date", &mut date, 1), ("Note", &mut note, 3)]
    {
        ui.label(label);
        let field = if rows == 1 { one_line(text) } else { TextEdit::multiline(text) };
        let field = ui.add(field.desired_rows(rows).desired_width(f32::INFINITY));
        name_field(ui, &field, &format!("{label} of the fitting"));
        if std::mem::take(&mut fresh) {
            field.request_focus();
        }
    }
    let wrong = board.document().name_fault(at, name.trim());
    if let Some(why) = &wrong {
        fault(board, ui, why);
    } else if name.trim().is_empty() {
        aside(board, ui, "Give the fitting a name first.");
    }
    let (mut done, mut left) = (false, false);
    ui.horizontal_wrapped(|ui| {
        let words = if at.is_some() { "Keep it like this" } else { "Close it" };
        let named = !name.trim().is_empty() && wrong.is_none();
        done = ui.add_enabled(named, egui::Button::new(words)).clicked();
        left = ui.button("Not yet").clicked();
    });
    if own.as_ref().is_some_and(|c| c.fresh) {
        // All of it comes into view, its name at least.
        let form = Rect::from_min_max(top, pos2(ui.max_rect().right(), ui.cursor().top()));
        ui.scroll_to_rect(form, None);
    }
    if left {
        *own = None;
        return;
    }
    if !done {
        *own = Some(Closing { at, name, date, note, fresh });
        return;
    }
    *own = None;
    let name = name.trim().to_owned();
    let close = CloseRound { date, note };
    match at {
        None => {
            let said =
                format!("the fitting “{name}” is closed. What you change now belongs to the next.");
            requests.edit(&format!("closing “{name}”"), move |d| d.close_round(&name, close));
            requests.tell(said);
        }
        Some(index) => requests.edit(&format!("the note of “{name}”"), move |d| {
            d.rename(index, &name);
            d.changes[index].change = Change::CloseRound(close);
        }),
    }
}
