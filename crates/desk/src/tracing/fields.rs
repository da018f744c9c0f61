//! Fields and words of the steps.

use super::work::Fault;
use crate::board::Board;
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::say::fault as tell_fault;
use egui::Ui;
use hangtrue_files::photo::Place;
use hangtrue_pattern::words::InUnit;

/// What to do, in one sentence.
pub(super) fn sentence(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(4.0);
}

/// A refusal where it happened.
pub(super) fn refused(board: &Board, ui: &mut Ui, fault: &Fault) {
    tell_fault(board, ui, &fault.words.in_unit(board.unit()));
}

/// A field for a place in the photo: "120.5, 85". True when it changed.
pub(super) fn place_field(board: &Board, ui: &mut Ui, label: &str, place: &mut Place) -> bool {
    let shown = format!("{:.1}, {:.1}", place.0, place.1);
    let read = |text: &str| {
        let (x, y) = text.split_once([',', ';'])?;
        let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| (0.0..1e5).contains(v));
        Some((number(x)?, number(y)?))
    };
    let why = "write it as two numbers, like 120.5, 85";
    match typed(board, ui, label, (&shown, 138.0), read, why) {
        Some(new) => std::mem::replace(place, new) != new,
        None => false,
    }
}

/// A field for a whole number that may still be empty. True when it changed.
pub(super) fn count_field(
    board: &Board,
    ui: &mut Ui,
    label: &str,
    count: &mut Option<i32>,
) -> bool {
    let shown = count.map(|c| c.to_string()).unwrap_or_default();
    let read = |text: &str| match text.trim() {
        "" => Some(None),
        text => text.parse::<i32>().ok().filter(|c| c.abs() < 10_000).map(Some),
    };
    match typed(board, ui, label, (&shown, 44.0), read, "a whole number") {
        Some(new) => std::mem::replace(count, new) != new,
        None => false,
    }
}

/// A field that holds what is typed until it can be read; gives it when it changed.
fn typed<T>(
    board: &Board,
    ui: &mut Ui,
    label: &str,
    (shown, width): (&str, f32),
    read: impl Fn(&str) -> Option<T>,
    why: &str,
) -> Option<T> {
    let id = ui.make_persistent_id(("photo field", label));
    let being_typed: Option<String> = ui.data(|d| d.get_temp(id));
    let mut text = being_typed.clone().unwrap_or_else(|| shown.to_owned());
    let mut new = None;
    ui.vertical(|ui| {
        let width = width * board.settings.letters;
        let response = ui.add(one_line(&mut text).id(id).desired_width(width));
        name_field(ui, &response, label);
        let value = read(&text);
        let readable = value.is_some();
        if response.changed() {
            new = value;
            ui.data_mut(|d| d.insert_temp(id, text.clone()));
        }
        if !response.has_focus() && being_typed.is_some() && readable {
            ui.data_mut(|d| d.remove_temp::<String>(id));
        }
        if !readable {
            ui.colored_label(board.palette.ochre, format!("Not yet: {why}"));
        }
    });
    new
}
