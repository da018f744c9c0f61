//! Before and after: two photos side by side, of one scale and level.

use super::state::{Toile, round_words};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::name_id;
use crate::kit::say::{aside, part};
use egui::{Button, ComboBox, Ui};
use hangtrue_adjust::RoundPhoto;

pub(super) fn show(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let photos: Vec<RoundPhoto> =
        board.document().journal.photos.iter().filter(|p| p.marks.is_some()).cloned().collect();
    if photos.len() < 2 {
        return;
    }
    part(ui, "Before and after");
    let mut pair = own.pair.clone();
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
        requests.fit();
        own.fit_wanted = true;
    }
    aside(
        board,
        ui,
        "Turned so that level is level, of one scale, one line of both at the same height.",
    );
    let files = [pair.before.clone(), pair.after.clone()];
    let shown = pair.shown;
    for file in files.into_iter().flatten().filter(|_| shown) {
        if ui.button(format!("Mark {file}")).clicked() {
            own.open(&file);
            pair.shown = false;
        }
    }
    own.pair = pair;
}
