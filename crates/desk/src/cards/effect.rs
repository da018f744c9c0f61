//! What a change on the table did: what it kept and broke, what else changed, and
//! what the paper cannot hold.

use crate::board::Board;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::{Applied, Effect, SEEN};
use hangtrue_pattern::words::InUnit;

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
                let shown = kept.shown(board.unit(), SEEN);
                ui.label(format!("{} by {}", shown.measure, shown.change));
            }
        });
    }
    if !effect.changed.is_empty() {
        part(ui, "What changes");
        for changed in &effect.changed {
            let shown = changed.shown(board.unit(), SEEN);
            crate::kit::say::row(ui, &shown.measure, &shown.change);
        }
    }
    for residue in effect.residue.iter().filter(|r| r.amount.abs() > SEEN) {
        ui.add(egui::Label::new(residue.sentence().in_unit(board.unit())).wrap());
    }
    for cost in &effect.costs {
        let words = cost.words().in_unit(board.unit());
        if cost.takes_much() {
            ui.add(egui::Label::new(egui::RichText::new(words).color(palette.ochre)).wrap());
        } else {
            aside(board, ui, words);
        }
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
