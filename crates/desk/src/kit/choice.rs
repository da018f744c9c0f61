//! A list to choose a name from.

use super::drop_down::{drop_down, pick};
use super::length_field::name_id;
use egui::{ComboBox, Ui};

/// Shows it with its label, which is what a screen reader says too.
pub(crate) fn choice(ui: &mut Ui, label: &str, chosen: &mut String, all: &[String]) {
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        let shown =
            drop_down(ui, ComboBox::from_id_salt(label).selected_text(chosen.as_str()), |ui| {
                for name in all {
                    pick(ui, chosen, name.clone(), name);
                }
            });
        name_id(ui, shown.response.id, &format!("{label}: {chosen}"));
    });
}
