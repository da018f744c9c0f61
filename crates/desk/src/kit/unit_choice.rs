//! Choosing how lengths are shown.

use super::length_field::name_id;
use egui::{ComboBox, Ui};
use hangtrue_pattern::units::Unit;

/// Every unit and its words.
const UNITS: [(Unit, &str); 5] = [
    (Unit::Cm, "Centimetres"),
    (Unit::Mm, "Millimetres"),
    (Unit::Eighths, "Inches to 1/8"),
    (Unit::Sixteenths, "Inches to 1/16"),
    (Unit::ThirtySeconds, "Inches to 1/32"),
];

const LABEL: &str = "Lengths in";

fn words(unit: Unit) -> &'static str {
    UNITS.iter().find(|u| u.0 == unit).map_or("", |u| u.1)
}

/// All units beside each other; true when another was chosen.
pub(crate) fn unit_row(ui: &mut Ui, unit: &mut Unit) -> bool {
    let before = *unit;
    ui.horizontal_wrapped(|ui| {
        ui.label(LABEL);
        for (one, words) in UNITS {
            ui.radio_value(unit, one, words);
        }
    });
    *unit != before
}

/// The same as a list, where there is less room.
pub(crate) fn unit_list(ui: &mut Ui, unit: &mut Unit) -> bool {
    let before = *unit;
    ui.horizontal_wrapped(|ui| {
        ui.label(LABEL);
        let shown = ComboBox::from_id_salt(LABEL).selected_text(words(*unit)).show_ui(ui, |ui| {
            for (one, words) in UNITS {
                ui.selectable_value(unit, one, words);
            }
        });
        name_id(ui, shown.response.id, &format!("{LABEL}: {}", words(*unit)));
    });
    *unit != before
}
