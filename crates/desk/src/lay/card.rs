//! The card: the cloth, finding a lay, the pieces, what is wrong and the length needed.

use super::state::LayRoom;
use super::{fields, work};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::length_field::{bare_length_field, name_field};
use crate::kit::number_field::{Number, number_field};
use crate::kit::say::{aside, fault, part, told};
use egui::{Button, Label, ProgressBar, Ui};
use hangtrue_adjust::Document;
use hangtrue_files::lay::{LayFile, caution, how_it_lies, told as told_of};
use hangtrue_lay::{Lay, Place, choose};
use hangtrue_pattern::words::InUnit;

/// The button that opens it.
pub(crate) fn invite(own: &mut LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "The lay plan");
    aside(
        board,
        ui,
        "The pieces on the cloth: how much to buy, and where each lies before it is cut.",
    );
    if ui.button("Lay the pieces on cloth").clicked() {
        own.open = true;
        requests.turn_away();
    }
}

/// Shows the card.
pub(crate) fn show(own: &mut LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    work::look(own, board, requests, ui.ctx());
    if ui.button("Back to the sheets").clicked() {
        (own.open, own.work, own.held) = (false, None, None);
        return;
    }
    fields::which(own, ui);
    fields::width(own, board, requests, ui);
    searching(own, board, ui);
    if let Some(Err(why)) = own.made.as_ref().map(|m| m.set.clone()) {
        fault(board, ui, &why);
    }
    if let Some(Err(why)) = own.shown.as_ref().map(|s| s.lay.as_ref().map(|_| ())) {
        fault(board, ui, why);
    }
    needed(own, board, ui);
    pieces(own, board, requests, ui);
    saving(own, board, requests, ui);
    fields::cloth(own, board, requests, ui);
    fields::plan(own, board, requests, ui);
}

fn searching(own: &mut LayRoom, board: &Board, ui: &mut Ui) {
    if let Some(work) = &own.work {
        let (words, done) = (work.job.words.clone(), work.job.part as f32);
        // Beside large letters the words would be cut off in the bar.
        ui.add(Label::new(words).wrap());
        ui.add(ProgressBar::new(done));
        if ui.button("Stop looking").clicked() {
            own.work = None;
        }
        return;
    }
    if let Some(why) = &own.fault {
        fault(board, ui, why);
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Look for");
        let number = Number {
            label: "Seconds to look",
            limits: 1.0..=600.0,
            step: 1.0,
            unit: " s",
            decimals: 1,
        };
        number_field(ui, &board.palette, &number, &mut own.seconds);
    });
    let is_there = own.shown.as_ref().is_some_and(|s| s.lay.is_ok());
    if ui.add_enabled(is_there, Button::new("Find a short lay")).clicked() {
        work::begin(own, board, ui.ctx());
    }
}

/// What is wrong, the length, and the caution.
fn needed(own: &LayRoom, board: &Board, ui: &mut Ui) {
    let Some(shown) = &own.shown else { return };
    let (Some(on), Ok((lay, faults))) = (shown.on_cloth(board), &shown.lay) else { return };
    if lay.laid().next().is_none() {
        aside(board, ui, "Nothing is laid yet: find a lay, then move pieces as you like.");
        return;
    }
    part(ui, "Cloth needed");
    for one in &faults.all {
        let words = format!("To put right: {}", one.words(lay).in_unit(board.unit()));
        told(board, ui, words, true);
    }
    for said in told_of(&on) {
        ui.add(Label::new(format!("{}.", said.in_unit(board.unit()))).wrap());
    }
    aside(board, ui, caution());
}

/// The pieces, one of them in hand.
fn pieces(own: &mut LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some((lay, faults)) = own.shown.as_ref().and_then(|s| s.lay.as_ref().ok()) else {
        return;
    };
    let (lay, faults) = (lay.clone(), faults.clone());
    part(ui, "The pieces");
    for (index, piece) in lay.parts.iter().enumerate() {
        let how = lay.places[index].map(|place| how_it_lies(piece, place)).unwrap_or_default();
        let wrong = match lay.places[index] {
            None => "not laid yet",
            Some(_) if faults.names(index) => "to put right",
            Some(_) => "",
        };
        let more: Vec<&str> = [how.as_str(), wrong].into_iter().filter(|w| !w.is_empty()).collect();
        let words = match more.is_empty() {
            true => piece.name(),
            false => format!("{}: {}", piece.name(), more.join(", ")),
        };
        let is_chosen = own.chosen == Some(index);
        let button = ui.add(Button::selectable(is_chosen, words).wrap());
        let mut spoken = format!("Take {} {} in hand", piece.piece, piece.copy);
        if !more.is_empty() {
            spoken += &format!(" ({})", more.join(", "));
        }
        name_field(ui, &button, &spoken);
        if button.clicked() {
            own.chosen = if is_chosen { None } else { Some(index) };
        }
    }
    let Some(index) = own.chosen.filter(|i| *i < lay.parts.len()) else {
        aside(board, ui, "Take a piece in hand here, or pull it on the cloth.");
        return;
    };
    let before = lay.places[index].unwrap_or(Place {
        x: 0.0,
        y: lay.bed.low,
        turned: false,
        on_fold: false,
    });
    let mut place = before;
    for (label, value) in [("Along the cloth", &mut place.x), ("Across the cloth", &mut place.y)] {
        ui.horizontal_wrapped(|ui| {
            ui.label(label);
            bare_length_field(ui, &board.palette, label, value, board.unit());
        });
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Turn it by half").clicked() {
            place.turned = !place.turned;
        }
        if lay.parts[index].may_lie_on_fold() {
            ui.checkbox(&mut place.on_fold, "On the fold");
            if place.on_fold {
                place.y = 0.0;
            }
        }
    });
    aside(
        board,
        ui,
        "On the cloth: pull it, or press the arrow keys (with Shift by less); T turns it by half.",
    );
    if place != before || lay.places[index].is_none() {
        put(own, requests, &lay, (index, place), false);
    }
}

/// Puts a part there, kept with the project. Pulled or turned it is one step of undo; moved
/// bit by bit, by keys or a number that is typed, all of the way is one.
pub(super) fn put(
    own: &LayRoom,
    requests: &mut Requests,
    lay: &Lay,
    (index, place): (usize, Place),
    pulled: bool,
) {
    let Some(shown) = &own.shown else { return };
    let before = lay.places[index];
    let mut lay = lay.clone();
    lay.places[index] = Some(place);
    let (of, mut cloth) = (shown.of, shown.cloth.clone());
    cloth.pieces = lay.to_keep();
    let name = lay.parts[index].name();
    let lies_otherwise =
        before.is_some_and(|b| (b.turned, b.on_fold) != (place.turned, place.on_fold));
    let change = move |document: &mut Document| choose(document, of, cloth);
    if pulled || lies_otherwise {
        requests.edit(&format!("{name} put on the cloth"), change);
    } else {
        requests.edit_on(&format!("{name} moved on the cloth"), change);
    }
}

/// As a small picture, and at full size.
fn saving(own: &mut LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let laid = own.shown.as_ref().and_then(|s| s.lay.as_ref().ok());
    if laid.is_none_or(|(lay, _)| lay.laid().next().is_none()) {
        return;
    }
    part(ui, "On paper and at full size");
    if ui.button("Save the plan as PDF…").clicked() {
        requests.ask(Asked::SaveLayPlan);
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Full size as");
        for (file, name) in [(LayFile::Pdf, "PDF"), (LayFile::Svg, "SVG"), (LayFile::Dxf, "DXF")] {
            let button = ui.add(Button::selectable(own.file == file, name));
            name_field(ui, &button, &format!("Full size as {name}"));
            if button.clicked() {
                own.file = file;
            }
        }
    });
    if ui.button("Save it at full size…").clicked() {
        requests.ask(Asked::SaveLay(own.file));
    }
    aside(board, ui, "At full size all lengths are true: measure one before you cut from it.");
}
