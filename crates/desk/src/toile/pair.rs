//! Before and after: two photos side by side, of one scale and level.

use super::{open, round_words};
use crate::cards::{aside, part};
use crate::desk::desk::Desk;
use crate::kit::length_field::name_id;
use egui::{Button, ComboBox, Ui};
use hangtrue_adjust::RoundPhoto;

/// The two photos and whether they lie in place of the table.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pair {
    pub before: Option<String>,
    pub after: Option<String>,
    pub shown: bool,
}

impl Pair {
    /// Both, when they are chosen and shown.
    pub fn both(&self) -> Option<(String, String)> {
        if self.shown { self.before.clone().zip(self.after.clone()) } else { None }
    }
}

pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    let photos: Vec<RoundPhoto> =
        desk.document().journal.photos.iter().filter(|p| p.marks.is_some()).cloned().collect();
    if photos.len() < 2 {
        return;
    }
    part(ui, "Before and after");
    let mut pair = desk.cards.toile.pair.clone();
    let there = |file: &Option<String>| photos.iter().any(|p| Some(&p.file) == file.as_ref());
    if !there(&pair.before) {
        pair.before = Some(photos[0].file.clone());
    }
    if !there(&pair.after) {
        pair.after = photos.last().map(|p| p.file.clone());
    }
    for (label, chosen) in [("Before", &mut pair.before), ("After", &mut pair.after)] {
        ui.horizontal_wrapped(|ui| {
            ui.label(label);
            let now = chosen.clone().unwrap_or_default();
            let shown = ComboBox::from_id_salt(label).selected_text(&now).show_ui(ui, |ui| {
                for photo in &photos {
                    let words = format!("{}, {}", photo.file, round_words(&photo.round));
                    ui.selectable_value(chosen, Some(photo.file.clone()), words);
                }
            });
            name_id(ui, shown.response.id, &format!("{label}: {now}"));
        });
    }
    let words = if pair.shown { "Back to the table" } else { "Lay them side by side" };
    if ui.add(Button::new(words).selected(pair.shown)).clicked() {
        pair.shown = !pair.shown;
        desk.fit_wanted = true;
        desk.cards.toile.fit_wanted = true;
    }
    aside(
        desk,
        ui,
        "Turned so that level is level, of one scale, one line of both at the same height.",
    );
    let files = [pair.before.clone(), pair.after.clone()];
    let shown = pair.shown;
    for file in files.into_iter().flatten().filter(|_| shown) {
        if ui.button(format!("Mark {file}")).clicked() {
            open(desk, &file);
            pair.shown = false;
        }
    }
    desk.cards.toile.pair = pair;
}
