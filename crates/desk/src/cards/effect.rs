//! What a change on the table did: what it kept and broke, what else changed, and
//! what the paper cannot hold.

use crate::board::Board;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::{Applied, Compared, Effect, Quantity};
use hangtrue_pattern::units::{show_change, show_length};
use hangtrue_pattern::words::InUnit;

/// Less than this is no change to be told of, mm, degrees or mm².
const NO_CHANGE: f64 = 0.05;

/// Shows it on a card.
pub(super) fn show(board: &Board, ui: &mut Ui, effect: &Effect) {
    let palette = board.palette;
    for kept in &effect.kept {
        ui.horizontal_wrapped(|ui| {
            if kept.kept() {
                crate::kit::say::mark(ui, true, palette.sage);
                ui.colored_label(palette.sage, bold("kept"));
                ui.label(kept.measure.to_string());
            } else {
                crate::kit::say::mark(ui, false, palette.ochre);
                ui.colored_label(palette.ochre, bold("changes"));
                ui.label(format!("{} by {}", kept.measure, signed(kept.change(), board)));
            }
        });
    }
    if !effect.changed.is_empty() {
        part(ui, "What changes");
        for changed in &effect.changed {
            let name = changed.measure.to_string();
            crate::kit::say::row(ui, &name, &amount_words(changed, board));
        }
    }
    for residue in effect.residue.iter().filter(|r| r.amount.abs() > NO_CHANGE) {
        let words = format!(
            "Left over: {} {}",
            show_length(residue.amount, board.unit()),
            residue.words.in_unit(board.unit())
        );
        ui.add(egui::Label::new(words).wrap());
    }
    for note in &effect.notes {
        aside(board, ui, note.in_unit(board.unit()));
    }
}

/// What the change on the table did, or why it cannot be made.
pub(super) fn of_trial(board: &Board, ui: &mut Ui) {
    let Some(at) = board.trial_index() else { return };
    match board.replay.states().get(at).map(|s| &s.applied) {
        Some(Applied::Done(done)) => show(board, ui, done),
        Some(Applied::Failed(why)) => fault(board, ui, &why.in_unit(board.unit())),
        _ => {}
    }
}

/// A change with its sign, in the project's unit.
pub(super) fn signed(change: f64, board: &Board) -> String {
    let shown = show_length(change, board.unit());
    let is_none = !shown.contains(|c: char| c.is_ascii_digit() && c != '0');
    if change > 0.0 && !is_none { format!("+{shown}") } else { shown }
}

fn amount_words(changed: &Compared, board: &Board) -> String {
    let value = changed.change();
    match changed.measure.quantity() {
        Quantity::Area => format!("{} cm²", show_change(value / 100.0, 1)),
        Quantity::Angle => format!("{}°", show_change(value, 2)),
        Quantity::Length => signed(value, board),
    }
}
