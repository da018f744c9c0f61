//! Looking round with wheel, pointer and keys: what is asked for, the same on the
//! table and on photos.

use crate::kit::theme::Palette;
use egui::{
    Align2, EventFilter, Galley, Key, Painter, Pos2, Rect, Response, Role, Sense, TextStyle, Ui,
    Vec2, WidgetInfo, vec2,
};
use std::sync::Arc;

/// Points the arrow keys move what is looked at by.
const STEP: f32 = 40.0;

/// How much nearer each plus brings it.
const NEARER: f64 = 1.25;

/// The whole room left, to be looked round in, with the name a screen reader says.
pub(crate) fn canvas(ui: &mut Ui, palette: &Palette, words: &str) -> (Rect, Response, Painter) {
    let canvas = ui.available_rect_before_wrap();
    let response = ui.allocate_rect(canvas, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, words));
    let painter = ui.painter_at(canvas);
    painter.rect_filled(canvas, 0.0, palette.table);
    (canvas, response, painter)
}

/// Words at the foot of what is looked at.
pub(crate) fn hint(palette: &Palette, ui: &Ui, painter: &Painter, canvas: Rect, words: &str) {
    let galley = hint_laid(palette, ui, painter, canvas, words);
    let foot = canvas.center_bottom() - vec2(0.0, FREE_BELOW);
    let at = Align2::CENTER_BOTTOM.anchor_size(foot, galley.size());
    painter.rect_filled(at.expand2(vec2(10.0, 4.0)), 5.0, palette.card);
    painter.galley(at.min, galley, palette.text);
}

fn hint_laid(
    palette: &Palette,
    ui: &Ui,
    painter: &Painter,
    canvas: Rect,
    words: &str,
) -> Arc<Galley> {
    let font = TextStyle::Body.resolve(ui.style());
    painter.layout(words.to_owned(), font, palette.text, canvas.width() - 40.0)
}

/// Points left free under such words.
const FREE_BELOW: f32 = 9.0;

/// What is left of the canvas above such words.
pub(crate) fn above_hint(
    palette: &Palette,
    ui: &Ui,
    painter: &Painter,
    canvas: Rect,
    words: &str,
) -> Rect {
    let high = hint_laid(palette, ui, painter, canvas, words).size().y + 2.0 * FREE_BELOW;
    canvas.with_max_y((canvas.bottom() - high).max(canvas.top() + 1.0))
}

/// What was asked for since the last picture.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Moves {
    /// To be moved by so many points of the screen.
    pub pan: Vec2,
    /// To be zoomed by a factor, so that a place of the screen stays.
    pub zooms: Vec<(Pos2, f64)>,
    /// All of it to be shown.
    pub fit: bool,
}

/// Reads what is asked for; the pointer's own pulling is left to the caller.
pub(crate) fn asked(ui: &Ui, response: &Response, canvas: Rect) -> Moves {
    let mut asked = Moves { pan: Vec2::ZERO, zooms: Vec::new(), fit: false };
    if let Some(wheel) = wheel(ui, response, canvas) {
        if (wheel.factor - 1.0).abs() > 1e-6 {
            asked.zooms.push((wheel.at, wheel.factor));
        }
        asked.pan.x += wheel.across;
    }
    let in_list = egui::Popup::is_any_open(ui.ctx());
    if !in_list && (response.has_focus() || ui.memory(|m| m.focused().is_none())) {
        for (key, by) in [
            (Key::ArrowLeft, vec2(STEP, 0.0)),
            (Key::ArrowRight, vec2(-STEP, 0.0)),
            (Key::ArrowUp, vec2(0.0, STEP)),
            (Key::ArrowDown, vec2(0.0, -STEP)),
        ] {
            if ui.input(|i| i.modifiers.is_none() && i.key_pressed(key)) {
                asked.pan += by;
            }
        }
    }
    if response.has_focus() {
        keep_arrows(ui, response);
    }
    asked.zooms.extend(typed_zoom(ui).map(|factor| (canvas.center(), factor)));
    asked.fit = typed(ui, "f");
    asked
}

/// What wheel and fingers ask for over a place.
pub(crate) struct Wheel {
    /// Where the pointer is.
    pub at: Pos2,
    /// How much nearer.
    pub factor: f64,
    /// How far sideways, points of the screen.
    pub across: f32,
}

/// Reads the wheel while the pointer is over it.
pub(crate) fn wheel(ui: &Ui, response: &Response, canvas: Rect) -> Option<Wheel> {
    if !(response.hovered() || response.contains_pointer()) {
        return None;
    }
    let (scroll, zoom, at) =
        ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta(), i.pointer.hover_pos()));
    let factor = f64::from(zoom) * f64::from(scroll.y * 0.0045).exp();
    Some(Wheel { at: at.unwrap_or_else(|| canvas.center()), factor, across: scroll.x })
}

/// How much nearer plus and minus ask for.
pub(crate) fn typed_zoom(ui: &Ui) -> Option<f64> {
    if typed(ui, "-") {
        return Some(1.0 / NEARER);
    }
    (typed(ui, "+") || typed(ui, "=")).then_some(NEARER)
}

/// Whether a letter was typed that goes into no field, and to no window that lies above.
pub(crate) fn typed(ui: &Ui, letter: &str) -> bool {
    let is = |e: &egui::Event| matches!(e, egui::Event::Text(t) if t == letter);
    let in_front = ui.memory(|m| m.is_above_modal_layer(ui.layer_id()));
    let in_list = egui::Popup::is_any_open(ui.ctx());
    in_front && !in_list && !ui.ctx().text_edit_focused() && ui.input(|i| i.events.iter().any(is))
}

/// Arrow keys belong to what has the focus and do not leave it.
pub(crate) fn keep_arrows(ui: &Ui, response: &Response) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
}
