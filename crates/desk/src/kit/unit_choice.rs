//! Choosing how lengths are shown.

use egui::Ui;
use hangtrue_pattern::units::Unit;

/// Every unit and its words.
const UNITS: [(Unit, &str); 5] = [
    (Unit::Cm, "Centimetres"),
    (Unit::Mm, "Millimetres"),
    (Unit::Eighths, "Inches to 1/8"),
    (Unit::Sixteenths, "Inches to 1/16"),
    (Unit::ThirtySeconds, "Inches to 1/32"),
];

/// All units beside each other; true when another was chosen.
pub(crate) fn unit_row(ui: &mut Ui, unit: &mut Unit) -> bool {
    let before = *unit;
    ui.horizontal_wrapped(|ui| {
        ui.label("Lengths in");
        for (one, words) in UNITS {
            ui.radio_value(unit, one, words);
        }
    });
    *unit != before
}
