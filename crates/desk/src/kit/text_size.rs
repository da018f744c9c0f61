//! Choosing how large the words are.

use super::length_field::name_field;
use egui::Ui;

/// How much larger or smaller one press makes them.
pub(crate) const STEP: f32 = 0.1;

/// The size of the words and what makes it smaller and larger; the size asked for.
pub(crate) fn text_size_row(ui: &mut Ui, letters: f32) -> Option<f32> {
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        ui.label("Text size");
        if ui.button("Smaller").on_hover_text("Ctrl+−").clicked() {
            asked = Some(letters - STEP);
        }
        ui.label(format!("{:.0} %", letters * 100.0));
        if ui.button("Larger").on_hover_text("Ctrl++").clicked() {
            asked = Some(letters + STEP);
        }
        for whole in [1.0, 1.5, 2.0] {
            let words = format!("{:.0} %", 100.0 * whole);
            let button = ui.button(&words);
            name_field(ui, &button, &format!("Text size {words}"));
            if button.clicked() {
                asked = Some(whole);
            }
        }
    });
    asked
}
