//! What a change on the table did: what it kept and broke, what else changed, and
//! what the paper cannot hold.

use super::{aside, part};
use crate::desk::Desk;
use crate::theme::bold;
use egui::Ui;
use hangtrue_adjust::Effect;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;

/// Less than this is no change to be told of, mm, degrees or mm².
const NO_CHANGE: f64 = 0.05;

/// Shows it on a card.
pub(super) fn show(desk: &Desk, ui: &mut Ui, effect: &Effect) {
    let palette = desk.palette;
    for kept in &effect.kept {
        ui.horizontal_wrapped(|ui| {
            if kept.kept() {
                super::mark(ui, true, palette.sage);
                ui.colored_label(palette.sage, bold("kept"));
                ui.label(&kept.measure);
            } else {
                super::mark(ui, false, palette.ochre);
                ui.colored_label(palette.ochre, bold("broken"));
                ui.label(format!("{} by {}", kept.measure, signed(kept.change(), desk)));
            }
        });
    }
    if !effect.changed.is_empty() {
        part(ui, "What changes");
        for changed in &effect.changed {
            let name = changed.measure.replace(" (mm²)", "").replace(" (degrees)", "");
            super::row(ui, &name, &amount_words(&changed.measure, changed.change(), desk));
        }
    }
    for residue in effect.residue.iter().filter(|r| r.amount.abs() > NO_CHANGE) {
        let words = format!(
            "Left over: {} {}",
            show_length(residue.amount, desk.unit()),
            residue.words.in_unit(desk.unit())
        );
        ui.add(egui::Label::new(words).wrap());
    }
    for note in &effect.notes {
        aside(desk, ui, note.in_unit(desk.unit()));
    }
}

/// A change with its sign, in the project's unit.
pub(super) fn signed(change: f64, desk: &Desk) -> String {
    let sign = if change > 0.0 { "+" } else { "" };
    format!("{sign}{}", show_length(change, desk.unit()))
}

fn amount_words(measure: &str, value: f64, desk: &Desk) -> String {
    if measure.contains("area") {
        format!("{:+.1} cm²", value / 100.0).replace('-', "−")
    } else if measure.contains("lean") {
        format!("{value:+.2}°").replace('-', "−")
    } else {
        signed(value, desk)
    }
}
