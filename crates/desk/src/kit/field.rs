//! Fields to write in.

use egui::{Align2, TextEdit};

/// One line to write in; its words stand in the middle of the field's height.
pub(crate) fn one_line(text: &mut dyn egui::TextBuffer) -> TextEdit<'_> {
    TextEdit::singleline(text).align(Align2::LEFT_CENTER)
}
