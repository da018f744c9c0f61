//! Choosing how large the words are.

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
    });
    asked
}
