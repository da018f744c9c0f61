//! The digitised piece: its names, what is told of it, and taking it in.

use super::fields::{refused, sentence};
use super::named::Named;
use super::photo::{Ending, Photo};
use super::said::{Said, SaidPhoto};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::exchange::take_in;
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::say::{aside, fault, part};
use crate::kit::sheet::Sheets;
use egui::{Button, Ui};
use hangtrue_files::photo::{Doubt, OutlineSeen, Traced};
use hangtrue_pattern::units::{Unit, show_fine, show_length};
use hangtrue_pattern::words::{InUnit, Words};

/// Why a doubtful outline is not taken in.
const UNSEEN: &str =
    "First look at the doubtful places, and say above that the line is right there";

/// The error to expect, in words.
fn expected(traced: &Traced, unit: Unit) -> String {
    format!(
        "Expect the outline to be right within {} (root mean square) and {} at its worst place (95 in 100), as far as the marks are right.",
        show_fine(traced.expected.rms, unit),
        show_fine(traced.expected.worst, unit)
    )
}

/// More than this at the worst place is more than a seam forgives, mm (common
/// practice, no published source).
const MUCH: f64 = 3.0;

/// Says the error to expect, and what makes it smaller when it is large.
pub(super) fn say_expected(board: &Board, ui: &mut Ui, said: &Said, traced: &Traced) {
    sentence(ui, &expected(traced, board.unit()));
    let as_set =
        |p: &SaidPhoto| matches!(p.outline, OutlineSeen::Placed { snap, .. } if snap == 0.0);
    if said.photos.iter().any(as_set) {
        let words = "The line is taken as you set it, without looking for the card's edge: how exactly a hand does that is not in this number.";
        ui.add(egui::Label::new(egui::RichText::new(words).color(board.palette.ochre)).wrap());
    }
    if traced.expected.worst > MUCH {
        let words = "That is much for a pattern. Let what is known lie round the card: a cutting mat under it, a larger sheet, or more marks.";
        ui.add(egui::Label::new(egui::RichText::new(words).color(board.palette.ochre)).wrap());
    }
}

pub(super) fn show(photo: &mut Photo, board: &Board, ui: &mut Ui) -> Option<Ending> {
    sentence(ui, "Look at the piece, give it and its seams their names, and bring it in.");
    match &photo.found {
        None => {
            aside(
                board,
                ui,
                "There is no outline yet: turn to “3 Outline” and have the edge found.",
            );
            return None;
        }
        Some((_, Err(why))) => {
            refused(board, ui, why);
            return None;
        }
        Some((_, Ok(_))) if photo.found_now().is_none() => {
            let words = match (photo.work.is_some(), photo.said.nameless_job()) {
                (true, _) => "The outline is being drawn anew…".to_owned(),
                (false, Err(lacking)) => {
                    format!("photo {}: {}", lacking.photo + 1, lacking.words)
                }
                (false, Ok(_)) => "The outline is older than the marks: find it again.".to_owned(),
            };
            aside(board, ui, words);
            return None;
        }
        Some(_) => {}
    }
    names(photo, board, ui);
    let take = std::mem::take(&mut photo.take);
    let mut end = None;
    match take.named.as_ref().map(|n| &n.result) {
        Some(Err(why)) => fault(board, ui, why),
        Some(Ok((traced, sheets))) => {
            let bounds = traced.piece().bounds();
            let (wide, high) = (bounds.width(), bounds.height());
            let unit = board.unit();
            let size =
                format!("{} wide, {} high.", show_length(wide, unit), show_length(high, unit));
            sentence(ui, &size);
            say_expected(board, ui, &photo.said, traced);
            photo.take.replace = take.replace;
            if !board.blank {
                take_in::clash(board, ui, &traced.pattern, &mut photo.take.replace);
            }
            photo.take.looked_at = take.looked_at.clone();
            let looked_at = doubtful(board, ui, traced, &mut photo.take.looked_at);
            ui.add_space(6.0);
            end = buttons(board, ui, looked_at);
            ui.add_space(6.0);
            let words = ("The digitised piece", 220.0);
            take_in::draw(board, ui, &traced.pattern, sheets, words);
            notes(board, ui, traced, !photo.said.piece.trim().is_empty());
        }
        None => {}
    }
    photo.take.named = take.named;
    end
}

/// Says what is doubtful, and asks whether it was looked at; whether nothing of it
/// is open.
fn doubtful(board: &Board, ui: &mut Ui, traced: &Traced, looked_at: &mut Vec<Doubt>) -> bool {
    say_doubts(board, ui, traced);
    if traced.doubts.is_empty() {
        return true;
    }
    let mut all = *looked_at == traced.doubts;
    let words = "I looked at the ringed places in the photo, and the line is right there";
    if ui.checkbox(&mut all, words).changed() {
        *looked_at = if all { traced.doubts.clone() } else { Vec::new() };
    }
    all
}

/// The doubtful places of an outline, in words.
pub(super) fn say_doubts(board: &Board, ui: &mut Ui, traced: &Traced) {
    for doubt in &traced.doubts {
        let words = format!("Doubtful {}.", doubt.why.in_unit(board.unit()));
        ui.add(egui::Label::new(egui::RichText::new(words).color(board.palette.ochre)).wrap());
    }
}

fn notes(board: &Board, ui: &mut Ui, traced: &Traced, has_name: bool) {
    // The photo knows no name; the maker has given one.
    let told =
        |note: &&Words| !(has_name && note.to_string().starts_with("a piece without a name"));
    let notes: Vec<&Words> = traced.notes.iter().filter(told).collect();
    if notes.is_empty() {
        return;
    }
    part(ui, "To look at");
    for note in notes {
        ui.add(egui::Label::new(note.in_unit(board.unit())).wrap());
    }
}

/// The fields of the names, with the lengths of the seams.
fn names(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let Some(found) = photo.found_now() else { return };
    let proposed = found.traced.piece();
    let lengths: Vec<f64> = proposed.seams.iter().map(|s| s.sewn_length()).collect();
    let by_shape: Vec<String> = proposed.seams.iter().map(|s| s.name.clone()).collect();
    let own_name = proposed.name.clone();
    let mut piece = photo.said.piece.clone();
    // Names for another number of corners are those of another outline.
    let mut seams = if photo.said.seams.len() == by_shape.len() {
        photo.said.seams.clone()
    } else {
        by_shape.clone()
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Name of the piece");
        let field = one_line(&mut piece).hint_text(own_name).desired_width(170.0);
        let response = ui.add(field);
        name_field(ui, &response, "Name of the piece");
    });
    part(ui, "Seams, as proposed by the shape");
    for (index, name) in seams.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            let response = ui.add(one_line(name).desired_width(170.0));
            name_field(ui, &response, &format!("Name of seam {}", index + 1));
            ui.label(show_length(lengths[index], board.unit()));
        });
    }
    let changed = photo.take.named.as_ref().is_none_or(|n| n.piece != piece || n.seams != seams);
    if changed {
        let traced = found.traced.clone();
        let own: &[String] = if seams == by_shape { &[] } else { &seams };
        let result = traced.named(&piece, own).map_err(|e| e.to_string()).map(|traced| {
            let sheets = Sheets::of(&traced.pattern, 0.3);
            (traced, sheets)
        });
        photo.take.named = Some(Named { piece: piece.clone(), seams: seams.clone(), result });
    }
    photo.said.piece = piece;
    photo.said.seams = if seams == by_shape { Vec::new() } else { seams };
}

fn buttons(board: &Board, ui: &mut Ui, looked_at: bool) -> Option<Ending> {
    let mut end = None;
    let saved = !board.is_unsaved();
    ui.horizontal_wrapped(|ui| {
        let open = board.replay.current().is_ok();
        // Before a project is chosen there is none to bring the piece into.
        if !board.blank {
            let into = ui.add_enabled(open && looked_at, Button::new("Bring into this project"));
            if into.clicked() {
                end = Some(Ending::Into);
            }
        }
        let new = ui.add_enabled(saved && looked_at, Button::new("Start a new project"));
        if new.clicked() {
            end = Some(Ending::New);
        }
    });
    // Why they are closed is read, not only pointed at.
    if !looked_at {
        aside(board, ui, UNSEEN);
    } else if !saved {
        aside(board, ui, "To start a new project, first save the work on the table.");
    }
    end
}

/// The piece that is to be taken in.
fn piece(photo: &Photo) -> Option<&Traced> {
    photo.found_now()?;
    let named = photo.take.named.as_ref()?.result.as_ref().ok().map(|named| &named.0);
    named.filter(|t| t.doubts.is_empty() || t.doubts == photo.take.looked_at)
}

/// What the photos are called in the change.
fn called(photo: &Photo) -> String {
    let first = std::path::Path::new(&photo.said.photos[0].file);
    first.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
}

pub(super) fn bring_into(photo: &Photo, board: &Board, requests: &mut Requests) -> bool {
    let Some(traced) = piece(photo) else { return false };
    let from = called(photo);
    take_in::bring_into(board, requests, ("traced", &from), &traced.pattern, photo.take.replace)
}

pub(super) fn start_new(photo: &Photo, board: &Board, requests: &mut Requests) -> bool {
    let Some(traced) = piece(photo) else { return false };
    let from = called(photo);
    let title = traced.piece().name.clone();
    let document = traced.clone().document(&title, "", board.unit());
    take_in::start_new(requests, document, &from);
    true
}
