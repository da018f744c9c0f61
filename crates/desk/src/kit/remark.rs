//! What is wrong with what stands in a field, said in room that is kept for it: nothing
//! moves when a fault comes or goes.

use super::theme::Palette;
use egui::{Align, Label, Layout, RichText, TextStyle, Ui, Vec2, vec2};

/// A fault in whole, and the same in a few words.
pub(crate) struct Remark {
    pub whole: String,
    pub short: String,
    /// It is only told, and nothing is wrong.
    pub is_note: bool,
}

impl Remark {
    pub fn fault(whole: String, short: String) -> Self {
        Self { whole, short, is_note: false }
    }

    /// What is no length; how one is written is told to whoever points at it.
    pub fn refused(whole: String) -> Self {
        let short = whole.split(';').next().unwrap_or_default().to_owned();
        Self::fault(whole, short)
    }

    /// How what was typed was read.
    pub fn note(words: String) -> Self {
        Self { short: words.clone(), whole: words, is_note: true }
    }

    /// The same of a field of that name.
    pub fn of(self, name: &str) -> Self {
        let of = |words: &str| format!("{name}: {words}");
        Self { whole: of(&self.whole), short: of(&self.short), is_note: self.is_note }
    }
}

/// The room of so many small lines, as wide as there is.
pub(crate) fn room_of(ui: &Ui, lines: f32) -> Vec2 {
    /// A hair, so that letters of any size fit.
    const HAIR: f32 = 1.0;
    let high = (lines * ui.text_style_height(&TextStyle::Small)).ceil() + HAIR;
    vec2(ui.available_width(), high)
}

/// Says it in that room: in whole, or shorter where that does not fit; then the whole is
/// told to whoever points at it.
pub(crate) fn say_in_room(ui: &mut Ui, palette: &Palette, room: Vec2, told: Option<Remark>) {
    ui.allocate_ui_with_layout(room, Layout::top_down(Align::LEFT), |ui| {
        ui.set_min_size(room);
        let Some(Remark { whole, short, is_note }) = told else { return };
        let font = TextStyle::Small.resolve(ui.style());
        let ink = if is_note { palette.text_soft } else { palette.ochre };
        let laid = ui.painter().layout(whole.clone(), font, ink, room.x);
        let words = if laid.size().y <= room.y + 0.5 { whole.clone() } else { short };
        let said = Label::new(RichText::new(words).color(ink).small()).wrap();
        ui.add(said).on_hover_text(whole);
    });
}
