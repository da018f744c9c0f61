//! The card at the side: one step after the other, each with one sentence of what
//! to do.

use super::work::Fault;
use super::{End, Photo, known, marks, outline, take};
use crate::desk::desk::Desk;
use crate::kit::length_field::name_field;
use egui::{ScrollArea, TextEdit, Ui};
use hangtrue_files::photo::Place;

/// The steps from a photo to a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Known,
    Marks,
    Outline,
    Grain,
    Take,
}

impl Step {
    pub const ALL: [Self; 5] = [Self::Known, Self::Marks, Self::Outline, Self::Grain, Self::Take];

    pub fn name(self) -> &'static str {
        match self {
            Self::Known => "1 Size",
            Self::Marks => "2 Marks",
            Self::Outline => "3 Outline",
            Self::Grain => "4 Grain",
            Self::Take => "5 Bring in",
        }
    }

    /// The step after it, and how the button to it is called.
    fn next(self) -> Option<(Self, &'static str)> {
        match self {
            Self::Known => Some((Self::Marks, "Go on: click the marks")),
            Self::Marks => Some((Self::Outline, "Go on: the outline")),
            Self::Outline => Some((Self::Grain, "Go on: the grain")),
            Self::Grain => Some((Self::Take, "Go on: bring it in")),
            Self::Take => None,
        }
    }
}

/// Shows the card; says how the work ends, if it does.
pub(super) fn show(desk: &mut Desk, photo: &mut Photo, ui: &mut Ui) -> Option<End> {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for step in Step::ALL {
            if ui.selectable_label(photo.step == step, step.name()).clicked() {
                photo.go_to(step);
            }
        }
    });
    ui.separator();
    let (mut end, before) = (None, photo.step);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        match photo.step {
            Step::Known => known::show(desk, photo, ui),
            Step::Marks => marks::show(desk, photo, ui),
            Step::Outline => outline::show(desk, photo, ui),
            Step::Grain => outline::grain(desk, photo, ui),
            Step::Take => end = take::show(desk, photo, ui),
        }
        if let Some((next, words)) = photo.step.next() {
            ui.add_space(10.0);
            if ui.button(words).clicked() {
                photo.go_to(next);
            }
        }
        ui.add_space(30.0);
    });
    if photo.step != before {
        desk.notice = None;
    }
    end
}

/// What to do, in one sentence.
pub(super) fn sentence(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(4.0);
}

/// A refusal where it happened.
pub(super) fn refused(desk: &Desk, ui: &mut Ui, fault: &Fault) {
    crate::cards::fault(desk, ui, &fault.words);
}

/// A field for a place in the photo: "120.5, 85". True when it changed.
pub(super) fn place_field(desk: &Desk, ui: &mut Ui, label: &str, place: &mut Place) -> bool {
    let shown = format!("{:.1}, {:.1}", place.0, place.1);
    let read = |text: &str| {
        let (x, y) = text.split_once([',', ';'])?;
        let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| (0.0..1e5).contains(v));
        Some((number(x)?, number(y)?))
    };
    let why = "write it as two numbers, like 120.5, 85";
    match typed(desk, ui, label, (&shown, 138.0), read, why) {
        Some(new) => std::mem::replace(place, new) != new,
        None => false,
    }
}

/// A field for a whole number that may still be empty. True when it changed.
pub(super) fn count_field(desk: &Desk, ui: &mut Ui, label: &str, count: &mut Option<i32>) -> bool {
    let shown = count.map(|c| c.to_string()).unwrap_or_default();
    let read = |text: &str| match text.trim() {
        "" => Some(None),
        text => text.parse::<i32>().ok().filter(|c| c.abs() < 10_000).map(Some),
    };
    match typed(desk, ui, label, (&shown, 44.0), read, "a whole number") {
        Some(new) => std::mem::replace(count, new) != new,
        None => false,
    }
}

/// A field that holds what is typed until it can be read; gives it when it changed.
fn typed<T>(
    desk: &Desk,
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
        let width = width * desk.settings.letters;
        let response = ui.add(TextEdit::singleline(&mut text).id(id).desired_width(width));
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
            ui.colored_label(desk.palette.ochre, format!("Not yet: {why}"));
        }
    });
    new
}
