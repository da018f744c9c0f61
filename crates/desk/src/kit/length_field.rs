//! A field for an exact length: `5 1/2`, `3/8`, `140 mm`. What cannot be read is
//! said beside it, and the value stays what it was.

use super::field::one_line;
use crate::kit::theme::Palette;
use egui::text::{CCursor, CCursorRange};
use egui::{Context, Id, Key, TextEdit, Ui};
use hangtrue_pattern::units::{INCH, Unit, read_length, show_length};

/// Under this name the label of the field written in last is kept.
const IN_HAND: &str = "length in hand";

/// The label of the field written in last.
pub(crate) fn in_hand(ui: &Ui) -> Option<String> {
    ui.data(|d| d.get_temp(Id::unique(IN_HAND)))
}

/// Under this name the label of the field is kept that is to have the cursor.
const WANTED: &str = "length wanted";

/// Under this name the label of the field is kept that is being typed into.
const BEING_TYPED: &str = "length being typed";

/// The field of that label gets the cursor when it is next shown.
pub(crate) fn put_cursor_into(ctx: &Context, label: &str) {
    ctx.data_mut(|d| d.insert_temp::<String>(Id::unique(WANTED), label.to_owned()));
}

/// Shows the field with its label to the left. True when the value changed.
pub fn length_field(
    ui: &mut Ui,
    palette: &Palette,
    label: &str,
    value: &mut f64,
    unit: Unit,
) -> bool {
    let mut changed = false;
    ui.horizontal(|ui| {
        ui.label(label);
        changed = bare_length_field(ui, palette, label, value, unit);
    });
    changed
}

/// The field alone; `label` is what a screen reader says, and must be unique on
/// its card.
pub fn bare_length_field(
    ui: &mut Ui,
    palette: &Palette,
    label: &str,
    value: &mut f64,
    unit: Unit,
) -> bool {
    let mut typed = Some(*value);
    let changed = optional_length_field(ui, palette, label, &mut typed, unit, "");
    if let (true, Some(new)) = (changed, typed) {
        *value = new;
        return true;
    }
    false
}

/// A field that may be empty; `hint` says what is used then.
pub fn optional_length_field(
    ui: &mut Ui,
    palette: &Palette,
    label: &str,
    value: &mut Option<f64>,
    unit: Unit,
    hint: &str,
) -> bool {
    let mut changed = false;
    ui.vertical(|ui| {
        let typed = typed_length(ui, label, value, unit, hint);
        changed = typed.changed;
        if let Some(why) = typed.refused {
            say_refused(ui, palette, &format!("Not yet: {why}"));
        } else if let Some(read) = typed.as_inches {
            say_refused(ui, palette, &read);
        }
    });
    changed
}

/// Says it under its field, in a column of its own, so that what stands beside the field
/// is not pushed away.
pub(crate) fn say_refused(ui: &mut Ui, palette: &Palette, why: &str) {
    let wide = (1.5 * ui.spacing().text_edit_width).min(ui.available_width());
    ui.scope(|ui| {
        ui.set_max_width(wide);
        ui.colored_label(palette.ochre, why);
    });
}

/// What became of a field in this picture.
#[derive(Default)]
pub(crate) struct Typed {
    pub changed: bool,
    /// Why what stands in it is no length.
    pub refused: Option<String>,
    /// A fraction without a unit that is typed where lengths are metric, as it is read.
    pub as_inches: Option<String>,
}

/// How a fraction without a unit is read, where others are not in inches.
fn fraction_read(text: &str, read: Option<f64>, unit: Unit) -> Option<String> {
    let is_metric = matches!(unit, Unit::Mm | Unit::Cm);
    let is_bare = !text.contains(|c: char| c.is_ascii_alphabetic() || matches!(c, '"' | '″'));
    let mm = read.filter(|_| {
        is_metric && is_bare && text.contains(['/', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞'])
    })?;
    Some(format!("{text} is read as inches: {}", show_length(mm, unit)))
}

/// Whether something is being typed into the field of that label: it has the cursor, and
/// was changed since it got it. What is half typed is not judged.
pub(crate) fn is_being_typed(ui: &Ui, label: &str) -> bool {
    ui.data(|d| d.get_temp::<String>(Id::unique(BEING_TYPED))).as_deref() == Some(label)
}

/// A field that a key leads into has its number marked: what is typed takes its place.
fn select_when_tabbed_into(ui: &Ui, field: &egui::Response, text: &str) {
    let by_pointer = ui.input(|i| i.pointer.any_down() || i.pointer.any_released());
    if by_pointer || !field.gained_focus() {
        return;
    }
    let Some(mut state) = TextEdit::load_state(ui.ctx(), field.id) else { return };
    let end = CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), end)));
    state.store(ui.ctx(), field.id);
}

/// The field by itself: whoever shows it says what was refused, where there is room.
pub(crate) fn typed_length(
    ui: &mut Ui,
    label: &str,
    value: &mut Option<f64>,
    unit: Unit,
    hint: &str,
) -> Typed {
    let id = ui.make_persistent_id(("length", label));
    let shown = || value.map(|v| show_length(v, unit)).unwrap_or_default();
    let being_typed: Option<String> = ui.data(|d| d.get_temp(id));
    let mut text = being_typed.clone().unwrap_or_else(shown);
    let mut changed = false;
    let mut refused = None;
    let wide = wide_enough(ui, if text.is_empty() { hint } else { &text });
    // A field that does not fit behind its words begins a line: its unit is never cut off.
    if ui.layout().main_wrap() && ui.available_size_before_wrap().x < wide {
        ui.end_row();
    }
    let field = one_line(&mut text).id(id).desired_width(wide).hint_text(hint);
    let response = ui.add(field);
    name_field(ui, &response, label);
    select_when_tabbed_into(ui, &response, &text);
    let wanted = ui.data(|d| d.get_temp::<String>(Id::unique(WANTED)));
    if wanted.as_deref() == Some(label) {
        ui.data_mut(|d| d.remove_temp::<String>(Id::unique(WANTED)));
        response.request_focus();
    }
    // A rounded value is shown with ≈ before it, which is no part of a length.
    let plain = text.trim().trim_start_matches('≈');
    let read = if plain.is_empty() && !hint.is_empty() {
        Ok(None)
    } else {
        read_length(plain, unit).map(Some)
    };
    if response.changed() {
        if let Ok(new) = read.clone()
            && new != *value
        {
            *value = new;
            changed = true;
        }
        ui.data_mut(|d| {
            d.insert_temp::<String>(id, text.clone());
            d.insert_temp::<String>(Id::unique(BEING_TYPED), label.to_owned());
        });
    }
    if !response.has_focus() && is_being_typed(ui, label) {
        ui.data_mut(|d| d.remove_temp::<String>(Id::unique(BEING_TYPED)));
    }
    if response.has_focus() {
        ui.data_mut(|d| d.insert_temp::<String>(Id::unique(IN_HAND), label.to_owned()));
        if let Some(step) = step_asked(ui, unit)
            && let Some(old) = *value
        {
            *value = Some(old + step);
            changed = true;
            ui.data_mut(|d| d.remove_temp::<String>(id));
        }
    } else if being_typed.is_some() && read.is_ok() {
        ui.data_mut(|d| d.remove_temp::<String>(id));
    }
    let as_inches = match &read {
        Ok(read) if response.has_focus() => fraction_read(plain, *read, unit),
        _ => None,
    };
    if let Err(why) = read {
        refused = Some(why.to_string());
    }
    Typed { changed, refused, as_inches }
}

/// As wide as fields are, or wider where what stands in it needs it.
pub(crate) fn wide_enough(ui: &Ui, text: &str) -> f32 {
    /// Room for the field's margins and for the cursor behind the text, points.
    const BEHIND: f32 = 26.0;
    let font = egui::TextStyle::Body.resolve(ui.style());
    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::BLACK);
    ui.spacing().text_edit_width.max(galley.size().x + BEHIND)
}

/// The step of the arrow keys in a length field, mm: one sixteenth of an inch or
/// one mm.
pub fn step_of(unit: Unit) -> f64 {
    match unit {
        Unit::Mm | Unit::Cm => 1.0,
        Unit::Eighths => INCH / 8.0,
        Unit::Sixteenths => INCH / 16.0,
        Unit::ThirtySeconds => INCH / 32.0,
    }
}

fn step_asked(ui: &Ui, unit: Unit) -> Option<f64> {
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    match (pressed(Key::ArrowUp), pressed(Key::ArrowDown)) {
        (true, false) => Some(step_of(unit)),
        (false, true) => Some(-step_of(unit)),
        _ => None,
    }
}

/// Gives a field the name a screen reader says.
pub fn name_field(ui: &Ui, response: &egui::Response, label: &str) {
    name_id(ui, response.id, label);
}

/// Gives a control the name a screen reader says.
pub fn name_id(ui: &Ui, id: Id, label: &str) {
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(label.to_owned()));
}
