//! What marks a place that is pointed at: a ring, and a paper tag with words.

use super::theme::Palette;
use egui::{Align2, Color32, FontId, Pos2, Rect, Stroke, StrokeKind, TextStyle, Ui, vec2};

/// Half the size of what is hit, points of the screen: WCAG 2.2 asks 24 in all (2.5.8).
pub(crate) const HANDLE: f32 = 12.0;

/// Half the size of the ring that is drawn, points of the screen.
const RING: f32 = 9.0;

/// A ring round a place.
pub(crate) fn ring(ui: &Ui, palette: &Palette, at: Pos2) {
    let madder = palette.on_paper().madder;
    ui.painter().circle_filled(at, 4.5, madder);
    ui.painter().circle_stroke(at, RING, Stroke::new(2.0, madder));
}

/// A tag beside a place, within the canvas.
pub(crate) fn tag(ui: &Ui, palette: &Palette, canvas: Rect, at: Pos2, words: &str) {
    let painter = ui.painter();
    let font = FontId::proportional(TextStyle::Small.resolve(ui.style()).size);
    let galley = painter.layout(words.to_owned(), font, palette.text, 300.0);
    let size = galley.size() + vec2(18.0, 12.0);
    let mut place = Align2::LEFT_TOP.anchor_size(at + vec2(16.0, 14.0), size);
    let canvas = canvas.shrink(4.0);
    if place.right() > canvas.right() {
        place = place.translate(vec2(-(size.x + 32.0), 0.0));
    }
    if place.bottom() > canvas.bottom() {
        place = place.translate(vec2(0.0, -(size.y + 28.0)));
    }
    painter.rect_filled(place.translate(vec2(2.0, 3.0)), 5.0, Color32::from_black_alpha(60));
    painter.rect_filled(place, 5.0, palette.card);
    painter.rect_stroke(place, 5.0, Stroke::new(1.0, palette.rule), StrokeKind::Inside);
    painter.galley(place.min + vec2(9.0, 6.0), galley, palette.text);
}
