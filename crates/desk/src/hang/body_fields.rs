//! What a tape does not say about the body, beside the picture; and the measures of a body
//! for a pattern that was brought in.

use super::state::Hang;
use super::work;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::typed_length;
use crate::kit::measure_row::{Rows, measure_row};
use crate::kit::remark::{Remark, room_of, say_in_room};
use crate::kit::say::{aside, fault, part};
use egui::{Align, Label, Layout, Ui, vec2};
use hangtrue_adjust::figure::{BREADTHS, HANDLES};
use hangtrue_pattern::Measure;

/// Shows the fields.
pub(super) fn show(own: &mut Hang, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "What the tape does not say");
    if let Some(Err(why)) = work::bare_body(own, board) {
        fault(board, ui, &why);
    }
    aside(
        board,
        ui,
        "How far it differs from a usual body; the measures are met all the same. Minus is the other way. Kept with the project.",
    );
    for handle in &HANDLES {
        let mut handles = board.document().figure.handles;
        let now = *(handle.of)(&mut handles);
        let mut value = Some(now).filter(|v| *v != 0.0);
        if field(board, ui, handle.name, handle.means, &mut value, "0") {
            let (of, new) = (handle.of, value.unwrap_or(0.0));
            let words = format!("the body: {}", handle.name.to_lowercase());
            requests.edit_on(&words, move |d| *of(&mut d.figure.handles) = new);
        }
    }
    aside(board, ui, "Breadths and depths, where somebody took them; else they are guessed.");
    for breadth in &BREADTHS {
        let mut breadths = board.document().figure.breadths;
        let mut value = *(breadth.of)(&mut breadths);
        if field(board, ui, breadth.name, "", &mut value, "guessed") {
            let (of, words) = (breadth.of, format!("the body: {}", breadth.name.to_lowercase()));
            requests.edit_on(&words, move |d| *of(&mut d.figure.breadths) = value);
        }
    }
    if board.document().body().is_none() {
        part(ui, "Its measures");
        measures(board, requests, ui);
    }
}

/// A field with its name before it, and what it means where there is room.
fn field(
    board: &Board,
    ui: &mut Ui,
    name: &str,
    means: &str,
    value: &mut Option<f64>,
    hint: &str,
) -> bool {
    let (palette, letters) = (board.palette, board.settings.letters);
    let mut changed = false;
    let mut said = None;
    let high = ui.spacing().interact_size.y + 4.0;
    let left = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(ui.available_width(), high), left, |ui| {
        ui.set_min_height(high);
        ui.allocate_ui_with_layout(vec2(136.0 * letters, high), left, |ui| {
            ui.set_min_width(136.0 * letters);
            let label = ui.add(Label::new(name).wrap());
            if !means.is_empty() {
                label.on_hover_text(means);
            }
        });
        let typed = typed_length(ui, name, value, board.unit(), hint);
        changed = typed.changed;
        said = typed.refused.map(Remark::refused).or_else(|| typed.as_inches.map(Remark::note));
    });
    if said.is_some() {
        let room = room_of(ui, 1.0);
        say_in_room(ui, &palette, room, said);
    }
    changed
}

/// What is missing where a pattern was brought in.
pub(super) fn no_body(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    if let Err(why) = board.replay.current() {
        return fault(board, ui, &why.to_string());
    }
    ui.label("This pattern was brought in and knows no body. Write down whom it is to hang on: the five needed measures are enough.");
    measures(board, requests, ui);
}

/// The measures of a body beside a pattern that has none of its own.
fn measures(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let rows = Rows { palette: board.palette, unit: board.unit(), letters: board.settings.letters };
    let mut new = board.document().figure.measures.clone();
    let mut changed = None;
    for measure in Measure::ALL {
        if measure_row(ui, rows, measure, &mut new, None, "needed") {
            changed = Some(measure);
        }
    }
    if let Some(measure) = changed {
        let words = format!("the body: {measure}");
        requests.edit_on(&words, move |d| d.figure.measures = new);
    }
}
