//! The rows of a menu.

use super::length_field::name_field;
use egui::{Button, Ui};

/// A row that shuts the menu when it is pressed, with its keys if it has any; whether it was.
pub(crate) fn row(ui: &mut Ui, words: &str, keys: &str) -> bool {
    let plain = Button::new(words);
    let button = if keys.is_empty() { plain } else { plain.shortcut_text(keys) };
    let button = ui.add(button);
    // The keys stand beside the words and are no part of them.
    name_field(ui, &button, words);
    let clicked = button.clicked();
    if clicked {
        ui.close();
    }
    clicked
}
