//! A list to choose a name from, or a named value.

use super::drop_down::{drop_down, item, pick};
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

/// A choice of one among named values; a value that is none of them shows by its kind.
pub(crate) fn one_of<T: Copy + PartialEq>(
    ui: &mut Ui,
    label: &str,
    value: &mut T,
    all: &[(T, &str)],
) {
    let same = |one: &T, other: &T| std::mem::discriminant(one) == std::mem::discriminant(other);
    let name = all.iter().find(|(one, _)| one == value);
    let name = name.or_else(|| all.iter().find(|(one, _)| same(one, value)));
    let name = name.map_or("", |(_, name)| *name);
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        let shown =
            drop_down(ui, ComboBox::from_id_salt(label).selected_text(name).width(170.0), |ui| {
                for (one, words) in all {
                    if item(ui, one == value, *words).clicked() {
                        *value = *one;
                    }
                }
            });
        name_id(ui, shown.response.id, &format!("{label}: {name}"));
    });
}
