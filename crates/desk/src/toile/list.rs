//! The photos of the rounds: taken in, opened, ticked for the journal, thrown away.

use super::{open, round_words};
use crate::cards::{aside, part};
use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::{OPEN_ROUND, RoundPhoto};
use hangtrue_files::album;

pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    part(ui, "Photos of the toile");
    aside(
        desk,
        ui,
        "Ask the wearer before you photograph them. They stand with their weight on both feet and look straight ahead; safety pins, not straight ones, where they sit or bend. The lens about 3 m away, square to the back, the whole leg in the picture (common practice, no published source).",
    );
    take_in(desk, ui);
    let photos = desk.document().journal.photos.clone();
    let (mine, older): (Vec<_>, Vec<_>) = photos.into_iter().partition(|p| p.round == OPEN_ROUND);
    if mine.is_empty() {
        ui.label("No photo of this round yet.");
    }
    for photo in &mine {
        row(desk, ui, photo);
    }
    if !older.is_empty() {
        part(ui, "Of rounds closed before");
    }
    for photo in &older {
        row(desk, ui, photo);
    }
    throwing_away(desk, ui);
}

fn take_in(desk: &mut Desk, ui: &mut Ui) {
    if desk.files.path().is_none() {
        aside(
            desk,
            ui,
            "Photos are kept in a folder beside the project, and this project is in no file yet. Save it first.",
        );
        ui.horizontal_wrapped(|ui| {
            if ui.button("Save the project…").clicked() {
                files::save(desk);
            }
            if ui.button("Save it by typing its place…").clicked() {
                desk.files.typed = Some((Asked::SaveAs, String::new(), None));
            }
        });
        return;
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a photo…").clicked() {
            files::ask(desk, Asked::TakePhoto);
        }
        if ui.button("Add one by typing its place…").clicked() {
            desk.files.typed = Some((Asked::TakePhoto, String::new(), None));
        }
    });
    aside(
        desk,
        ui,
        "Kept as pixels alone: place, time and camera are left behind, the camera's own file is not touched, and nothing is sent anywhere.",
    );
}

/// A photo: open it, tick it, throw it away.
fn row(desk: &mut Desk, ui: &mut Ui, photo: &RoundPhoto) {
    let file = &photo.file;
    ui.horizontal_wrapped(|ui| {
        if ui.button(bold(format!("Open {file}"))).clicked() {
            open(desk, file);
        }
        ui.label(photo.view.word());
        if photo.round != OPEN_ROUND {
            ui.small(round_words(&photo.round));
        }
    });
    let lines = photo.marks.as_ref().map_or(0, |m| m.lines.len());
    let words = match (photo.caption.trim(), lines) {
        ("", 0) => "nothing is marked on it yet".to_owned(),
        ("", n) => format!("lines traced: {n}"),
        (caption, n) => format!("{caption}; lines traced: {n}"),
    };
    aside(desk, ui, words);
    ui.horizontal_wrapped(|ui| {
        let mut ticked = photo.in_journal;
        let tick = ui.checkbox(&mut ticked, "in the journal");
        crate::kit::length_field::name_field(ui, &tick, &format!("{file} in the journal"));
        if tick.changed() {
            let words = format!("ticking {file}");
            desk.edit(&words, |d| {
                if let Some(photo) = d.journal.photo_mut(file) {
                    photo.in_journal = ticked;
                }
            });
        }
        let throw = ui.button("Throw away…");
        crate::kit::length_field::name_field(ui, &throw, &format!("Throw {file} away…"));
        if throw.clicked() {
            desk.cards.toile.removing = Some(file.clone());
        }
    });
}

/// Throwing away is asked about, because it cannot be undone.
fn throwing_away(desk: &mut Desk, ui: &mut Ui) {
    let Some(file) = desk.cards.toile.removing.clone() else { return };
    ui.separator();
    ui.label(format!(
        "Throw {file} away? The photo is gone then, and undo does not bring it back."
    ));
    ui.horizontal_wrapped(|ui| {
        if ui.button("Throw it away for good").clicked() {
            desk.cards.toile.removing = None;
            throw_away(desk, &file);
        }
        if ui.button("Keep it").clicked() {
            desk.cards.toile.removing = None;
        }
    });
}

fn throw_away(desk: &mut Desk, file: &str) {
    let Some(project) = desk.files.path().map(ToOwned::to_owned) else { return };
    if let Err(why) = album::throw_away(&project, file) {
        return desk.tell_fault(why.to_string());
    }
    desk.cards.toile.photos.forget(&project, file);
    let words = format!("throwing {file} away");
    desk.edit(&words, |d| d.journal.photos.retain(|p| p.file != file));
    desk.tell(format!("{file} was thrown away."));
}
