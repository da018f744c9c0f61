//! The photos of the rounds: taken in, opened, ticked for the journal, thrown away.

use super::state::{Toile, round_words};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests};
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::worn::BEST_LENS_HEIGHT;
use hangtrue_adjust::{OPEN_ROUND, RoundPhoto};
use hangtrue_pattern::units::Unit;

pub(super) fn show(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Photos of the toile");
    let away = match board.unit() {
        Unit::Mm | Unit::Cm => "3 m",
        _ => "10 ft",
    };
    aside(
        board,
        ui,
        format!(
            "Ask the wearer before you photograph them. They stand with their weight on both feet and look straight ahead; safety pins, not straight ones, where they sit or bend. The lens about {away} away, square to the back, the whole leg in the picture (common practice, no published source)."
        ),
    );
    aside(board, ui, BEST_LENS_HEIGHT);
    take_in(board, requests, ui);
    let photos = board.document().journal.photos.clone();
    let (mine, older): (Vec<_>, Vec<_>) = photos.into_iter().partition(|p| p.round == OPEN_ROUND);
    if mine.is_empty() {
        ui.label("No photo of this fitting yet.");
    }
    for photo in &mine {
        row(own, board, requests, ui, photo);
    }
    if !older.is_empty() {
        part(ui, "Of fittings closed before");
    }
    for photo in &older {
        row(own, board, requests, ui, photo);
    }
    throwing_away(own, board, requests, ui);
}

fn take_in(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    if board.filed.path().is_none() {
        aside(
            board,
            ui,
            "Photos are kept in a folder beside the project, and this project is in no file yet. Save it first.",
        );
        if ui.button("Save the project…").clicked() {
            requests.ask_for(Request::Save);
        }
        return;
    }
    if ui.button("Add a photo…").clicked() {
        requests.ask(Asked::TakePhoto);
    }
    aside(
        board,
        ui,
        "Kept as pixels alone: place, time and camera are left behind, the camera's own file is not touched, and nothing is sent anywhere.",
    );
}

/// A photo: open it, tick it, throw it away.
fn row(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui, photo: &RoundPhoto) {
    let file = &photo.file;
    ui.horizontal_wrapped(|ui| {
        if ui.button(bold(format!("Open {file}"))).clicked() {
            own.open(file);
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
    aside(board, ui, words);
    ui.horizontal_wrapped(|ui| {
        let mut ticked = photo.in_journal;
        let tick = ui.checkbox(&mut ticked, "in the journal");
        crate::kit::length_field::name_field(ui, &tick, &format!("{file} in the journal"));
        if tick.changed() {
            let words = format!("ticking {file}");
            let file = file.clone();
            requests.edit(&words, move |d| {
                if let Some(photo) = d.journal.photo_mut(&file) {
                    photo.in_journal = ticked;
                }
            });
        }
        let throw = ui.button("Throw away…");
        crate::kit::length_field::name_field(ui, &throw, &format!("Throw {file} away…"));
        if throw.clicked() {
            own.removing = Some(file.clone());
        }
    });
}

/// Throwing away is asked about, because it cannot be undone.
fn throwing_away(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(file) = own.removing.clone() else { return };
    ui.separator();
    ui.label(format!(
        "Throw {file} away? When you save, the photo is gone, and undo does not bring it back."
    ));
    ui.horizontal_wrapped(|ui| {
        if ui.button("Throw it away for good").clicked() {
            own.removing = None;
            throw_away(own, board, requests, &file);
        }
        if ui.button("Keep it").clicked() {
            own.removing = None;
        }
    });
}

fn throw_away(own: &mut Toile, board: &Board, requests: &mut Requests, file: &str) {
    if let Err(why) = own.doubts.thrown(board, file) {
        return requests.tell_fault(hangtrue_pattern::words::Words::why(why));
    }
    if own.open.as_deref() == Some(file) {
        own.open = None;
    }
    let words = format!("throwing {file} away");
    let gone = file.to_owned();
    requests.edit(&words, move |d| d.journal.photos.retain(|p| p.file != gone));
    requests.tell(format!(
        "{file} is in the project no more. The photo itself goes when you save; until then undo brings it back."
    ));
}
