//! The toile on the body in place of the cutting table, turned by pointer and keys.

use super::state::{Drawn, Hang, Like};
use super::{lies_on_table, work};
use crate::board::Board;
use crate::kit::look_round::{self, keep_arrows, typed_zoom, wheel};
use crate::kit::theme::bold_family;
use egui::{
    Align2, Color32, ColorImage, FontId, Key, Painter, Pos2, Rect, Response, Shape, Stroke,
    StrokeKind, TextStyle, TextureOptions, Ui, Vec2, pos2, vec2,
};
use hangtrue_drape::LABEL;
use hangtrue_drape::picture::{FINE, Frame, Scene, Viewpoint};
use hangtrue_files::hang::{Plate, ROWS, Reach, plates};
use std::f64::consts::TAU;
use std::sync::Arc;

/// Radians for a point the pointer is pulled, and for a press of an arrow key.
const PULLED: f64 = 0.009;
const PRESSED: f64 = TAU / 24.0;
/// How near it can be looked at.
const NEAREST: f64 = 6.0;
/// Pixels drawn at most, each way.
const MOST: f32 = 1600.0;

/// Shows it; false when it is not to be shown.
pub(crate) fn show_on_table(own: &mut Hang, board: &Board, ui: &mut Ui) -> bool {
    if !lies_on_table(own, board) {
        return false;
    }
    work::look(own, board, ui.ctx());
    let words = "The toile on the body, predicted: arrow keys turn it, plus and minus zoom";
    let (canvas, response, painter) = look_round::canvas(ui, &board.palette, words);
    let bare = work::bare_body(own, board).and_then(Result::ok);
    // While the body is being changed it is the body that is looked at.
    let settled = own.shown.as_ref().filter(|s| {
        own.asked.as_ref().is_some_and(|a| a.figure == s.of.figure && a.measures == s.of.measures)
    });
    let Some(scene) = settled.map(|s| s.scene.clone()).or(bare) else {
        look_round::hint(
            &board.palette,
            ui,
            &painter,
            canvas,
            "There is no body to be shown yet: see beside.",
        );
        return true;
    };
    let turns = turn(own, ui, &response, canvas);
    let (whole, half) = (widest(ui, board, WHOLE), PLATES_AT_MOST * f64::from(canvas.width()));
    let is_short = whole > half;
    let words = match (scene.lines.is_empty(), own.is_fresh()) {
        (true, _) => "The body alone. How the toile hangs on it is worked out on the card beside.",
        (false, true) => LABEL,
        (false, false) => "Changed since it was worked out: this is of before.",
    };
    let words = match is_short && !scene.lines.is_empty() {
        true => format!("{words} · Middles; the other places beside"),
        false => format!("{words} · Pull to turn it"),
    };
    let free = look_round::above_hint(&board.palette, ui, &painter, canvas, &words);
    let frame = framed(own, &scene, free);
    lay(own, ui, &painter, (&scene, frame), canvas, turns);
    let rows = if is_short { SHORT_ROWS } else { ROWS };
    let high = rows as f32 * ui.text_style_height(&TextStyle::Small) + 12.0;
    let plate = if is_short { widest(ui, board, SHORT) } else { whole };
    let reach = Reach {
        width: f64::from(canvas.width()),
        height: f64::from(free.height()),
        plate,
        high: f64::from(high),
    };
    for plate in plates(&scene, &frame, reach, board.unit()) {
        paint_plate(board, ui, &painter, canvas, (&plate, is_short), reach);
    }
    look_round::hint(&board.palette, ui, &painter, canvas, &words);
    true
}

/// Plates have so much of the table's width at most, else they are short.
const PLATES_AT_MOST: f64 = 0.42;

/// A short plate tells the middle of its line alone.
const SHORT_ROWS: usize = 2;

/// What stands before the droop on a plate, and on a short one.
const WHOLE: &str = "inner quarter";
const SHORT: &str = "thigh, in";

/// What pointer, wheel and keys ask for; whether it is being turned.
fn turn(own: &mut Hang, ui: &Ui, response: &Response, canvas: Rect) -> bool {
    let mut turns = false;
    let by = |own: &mut Hang, across: f64, up: f64| {
        let view = own.view;
        let tilt = (view.tilt + up).clamp(-Viewpoint::STEEPEST, Viewpoint::STEEPEST);
        own.view = Viewpoint { turn: (view.turn + across).rem_euclid(TAU), tilt };
    };
    if response.dragged() {
        let pulled = response.drag_delta();
        by(own, -f64::from(pulled.x) * PULLED, f64::from(pulled.y) * PULLED);
        turns = true;
    }
    if response.has_focus() || ui.memory(|m| m.focused().is_none()) {
        for (key, across, up) in [
            (Key::ArrowLeft, PRESSED, 0.0),
            (Key::ArrowRight, -PRESSED, 0.0),
            (Key::ArrowUp, 0.0, PRESSED),
            (Key::ArrowDown, 0.0, -PRESSED),
        ] {
            if ui.input(|i| i.modifiers.is_none() && i.key_pressed(key)) {
                by(own, across, up);
            }
        }
    }
    if response.has_focus() {
        keep_arrows(ui, response);
    }
    if response.clicked() {
        response.request_focus();
    }
    let zoomed = wheel(ui, response, canvas).map(|w| (w.at, w.factor));
    let zoomed = zoomed.filter(|z| (z.1 - 1.0).abs() > 1e-6);
    for (at, factor) in zoomed.into_iter().chain(typed_zoom(ui).map(|f| (canvas.center(), f))) {
        let near = (own.near * factor).clamp(1.0, NEAREST);
        let by = (near / own.near) as f32;
        let from = at - canvas.center();
        own.moved = if near <= 1.0 { Vec2::ZERO } else { from - (from - own.moved) * by };
        own.near = near;
    }
    turns
}

fn framed(own: &Hang, scene: &Scene, canvas: Rect) -> Frame {
    let (width, height) = (f64::from(canvas.width()), f64::from(canvas.height()) - 8.0);
    let mut frame = scene.frame(own.view, (width, height), 0.0);
    frame.scale *= own.near;
    // The plates of the right leg stand at the right.
    let aside = if scene.lines.is_empty() { 0.5 } else { 0.42 };
    frame.middle =
        (aside * width + f64::from(own.moved.x), 0.5 * height + 4.0 + f64::from(own.moved.y));
    frame
}

/// Draws the toile when something of the picture changed, and lays it on the table.
fn lay(
    own: &mut Hang,
    ui: &Ui,
    painter: &Painter,
    (scene, frame): (&Arc<Scene>, Frame),
    canvas: Rect,
    turns: bool,
) {
    let longest = canvas.width().max(canvas.height());
    let per_point = f64::from(ui.pixels_per_point().min(MOST / longest));
    let pixels = |points: f32| (f64::from(points) * per_point).round().max(1.0) as usize;
    let like = Like {
        view: frame.view,
        scale: frame.scale * per_point,
        middle: (frame.middle.0 * per_point, frame.middle.1 * per_point),
        size: (pixels(canvas.width()), pixels(canvas.height())),
        fine: if turns { 1 } else { FINE },
        thin: own.thin,
    };
    let same = |d: &Drawn| Arc::ptr_eq(&d.scene, scene) && d.like == like;
    if !own.drawn.as_ref().is_some_and(same) {
        let finer = Frame { scale: like.scale, middle: like.middle, ..frame };
        let drawn = scene.draw(&finer, like.size, like.fine, like.thin);
        let image = ColorImage::from_rgba_unmultiplied([drawn.width, drawn.height], &drawn.rgba);
        let texture = ui.ctx().load_texture("toile on the body", image, TextureOptions::LINEAR);
        own.drawn = Some(Drawn { scene: scene.clone(), like, texture });
    }
    if turns {
        // Drawn finer once it rests.
        ui.ctx().request_repaint();
    }
    let Some(drawn) = &own.drawn else { return };
    let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    painter.image(drawn.texture.id(), canvas, whole, Color32::WHITE);
}

/// Room for the longest words a plate usually has, points.
fn widest(ui: &Ui, board: &Board, place: &str) -> f64 {
    let droop = hangtrue_files::hang::place_words(-38.1 - 1.5875, 4.0, board.unit());
    let words = format!("{place} {droop}").trim().to_owned();
    let font = TextStyle::Small.resolve(ui.style());
    let galley = ui.painter().layout_no_wrap(words, font, Color32::BLACK);
    f64::from(galley.size().x) + 22.0
}

fn paint_plate(
    board: &Board,
    ui: &Ui,
    painter: &Painter,
    canvas: Rect,
    (plate, is_short): (&Plate, bool),
    reach: Reach,
) {
    let at = |p: (f64, f64)| -> Pos2 { canvas.min + vec2(p.0 as f32, p.1 as f32) };
    let inks = board.palette.on_paper();
    let rect = Rect::from_min_size(at(plate.at), vec2(reach.plate as f32, reach.high as f32));
    let tells_of = at(plate.tells_of);
    let edge = if plate.right { rect.left_center() } else { rect.right_center() };
    let pen = Stroke::new(1.2, inks.madder);
    painter.add(Shape::line_segment([edge, tells_of], pen));
    for place in &plate.places {
        painter.circle_filled(at(*place), 3.4, inks.madder);
    }
    painter.rect_filled(rect, 3.0, inks.paper);
    painter.rect_stroke(rect, 3.0, pen, StrokeKind::Inside);
    let small = TextStyle::Small.resolve(ui.style());
    let name = FontId::new(small.size, bold_family());
    let left = rect.min + vec2(8.0, 5.0);
    painter.text(left, Align2::LEFT_TOP, &plate.name, name, inks.ink);
    let middle = plate.middle.clone().into_iter().collect::<Vec<_>>();
    let rows = if is_short { &middle } else { &plate.words };
    for (k, words) in rows.iter().enumerate() {
        let under = left + vec2(0.0, (k + 1) as f32 * ui.text_style_height(&TextStyle::Small));
        painter.text(under, Align2::LEFT_TOP, words, small.clone(), inks.ink);
    }
}
