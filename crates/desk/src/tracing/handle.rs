//! A place of the photo that can be taken hold of: by the pointer, or by the keys
//! once it is chosen.

use super::look::Through;
use crate::board::Board;
use egui::{
    Align2, Color32, FontId, Id, Key, Painter, Pos2, Rect, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, vec2,
};
use hangtrue_files::photo::Place;

/// How a handle looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// A ring with a cross in it, and its name beside.
    Ring,
    /// A square: a corner.
    Square,
    /// A small round: a place of a curve.
    Round,
}

/// A handle.
pub(super) struct Handle {
    /// What it is, for the screen reader: unique among the handles shown.
    pub words: String,
    /// What stands beside it.
    pub tag: String,
    pub at: Place,
    pub shape: Shape,
    pub colour: Color32,
    pub chosen: bool,
}

/// What was done to a handle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Touch {
    Chosen,
    Moved(Place),
    Removed,
    /// Enter or Space on it.
    Turned,
}

/// A handle shown: what was done to it, and where the glass is wanted.
pub(super) struct Handled {
    pub done: Option<Touch>,
    pub glass: Option<(Place, Pos2)>,
}

/// Shows a handle and takes what is done to it.
pub(super) fn show(board: &Board, ui: &Ui, through: &Through, id: Id, handle: &Handle) -> Handled {
    let mut shown = Handled { done: None, glass: None };
    let Some(at) = through.on_screen(handle.at) else { return shown };
    if !through.canvas.expand(20.0).contains(at) {
        return shown;
    }
    let reach = if handle.shape == Shape::Ring { 26.0 } else { 20.0 };
    let rect = Rect::from_center_size(at, vec2(reach, reach)).intersect(through.canvas);
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let words = format!("{}: {:.1}, {:.1} pixels", handle.words, handle.at.0, handle.at.1);
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &words));
    let busy = response.hovered() || response.dragged() || response.has_focus();
    let painter = ui.painter_at(through.canvas);
    draw(board, &painter, at, handle, busy);
    if response.dragged() {
        let pulled = crate::kit::pull::pulled_by(ui, &response);
        if pulled != egui::Vec2::ZERO
            && let Some(place) = through.on_photo(at + pulled)
        {
            shown.done = Some(Touch::Moved(place));
        }
    }
    if response.clicked() {
        response.request_focus();
        // A press of Enter or Space comes as a click without a pointer.
        let by_pointer = ui.input(|i| i.pointer.any_released());
        shown.done = Some(if by_pointer || !handle.chosen { Touch::Chosen } else { Touch::Turned });
    } else if response.drag_started() || response.gained_focus() {
        response.request_focus();
        shown.done.get_or_insert(Touch::Chosen);
    }
    if response.has_focus() {
        shown.done = keys(ui, &response, through, handle).or(shown.done);
    }
    if busy {
        shown.glass = Some((handle.at, at));
    }
    shown
}

/// Arrows move it by a pixel, with Shift by a tenth; Delete takes it away.
fn keys(ui: &Ui, response: &egui::Response, through: &Through, handle: &Handle) -> Option<Touch> {
    crate::kit::look_round::keep_arrows(ui, response);
    let pressed = |key| ui.input(|i| i.num_presses(key)) as f64;
    if pressed(Key::Delete) + pressed(Key::Backspace) > 0.0 {
        return Some(Touch::Removed);
    }
    let right = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    let down = pressed(Key::ArrowDown) - pressed(Key::ArrowUp);
    if right == 0.0 && down == 0.0 {
        return None;
    }
    let step = if ui.input(|i| i.modifiers.shift) { 0.1 } else { 1.0 };
    let inside = |v: f64, most: f64| v.clamp(0.0, most);
    Some(Touch::Moved((
        inside(handle.at.0 + right * step, through.size.0),
        inside(handle.at.1 + down * step, through.size.1),
    )))
}

fn draw(board: &Board, painter: &Painter, at: Pos2, handle: &Handle, busy: bool) {
    let strong = busy || handle.chosen;
    let paper = board.palette.paper;
    let wide = if strong { 3.0 } else { 2.0 };
    match handle.shape {
        Shape::Ring => {
            let radius = if strong { 12.0 } else { 10.0 };
            for (colour, wide) in [(paper, wide + 2.5), (handle.colour, wide)] {
                painter.circle_stroke(at, radius, Stroke::new(wide, colour));
                let pen = Stroke::new(wide * 0.6, colour);
                for way in [vec2(1.0, 0.0), vec2(-1.0, 0.0), vec2(0.0, 1.0), vec2(0.0, -1.0)] {
                    painter.line_segment([at + way * 3.0, at + way * (radius - 1.0)], pen);
                }
            }
        }
        Shape::Square => {
            let side = if strong { 13.0 } else { 10.0 };
            let rect = Rect::from_center_size(at, vec2(side, side));
            painter.rect_filled(rect, 1.0, if handle.chosen { handle.colour } else { paper });
            painter.rect_stroke(rect, 1.0, Stroke::new(wide, handle.colour), StrokeKind::Outside);
        }
        Shape::Round => {
            let radius = if strong { 6.0 } else { 4.5 };
            painter.circle_filled(at, radius, if handle.chosen { handle.colour } else { paper });
            painter.circle_stroke(at, radius, Stroke::new(wide * 0.8, handle.colour));
        }
    }
    if !handle.tag.is_empty() {
        tag(
            board,
            painter,
            at + vec2(15.0, -15.0),
            Align2::LEFT_BOTTOM,
            &handle.tag,
            handle.colour,
        );
    }
}

/// Words on a slip of paper.
pub(super) fn tag(
    board: &Board,
    painter: &Painter,
    at: Pos2,
    anchor: Align2,
    words: &str,
    colour: Color32,
) {
    let font = FontId::new(14.0 * board.settings.letters, crate::kit::theme::bold_family());
    let galley = painter.layout_no_wrap(words.to_owned(), font, colour);
    let slip = anchor.anchor_size(at, galley.size() + vec2(10.0, 4.0));
    painter.rect_filled(slip, 4.0, board.palette.paper);
    painter.rect_stroke(slip, 4.0, Stroke::new(1.0, colour), StrokeKind::Inside);
    painter.galley(slip.min + vec2(5.0, 2.0), galley, colour);
}
