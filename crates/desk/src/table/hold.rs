//! The place of the paper that a correction moves most, to be taken hold of on the
//! table: pulled with the pointer or moved by keys, it sets the amount.

use super::ground::Ground;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::step_of;
use crate::kit::pull::{pulled_on_paper, to_steps};
use crate::kit::tag::tag;
use crate::kit::view::pos;
use crate::table::paint::Pens;
use egui::{Key, Rect, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};
use hangtrue_adjust::{Change, Handle};
use hangtrue_geometry::Affine;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::show_length;
use std::sync::Arc;

/// How far the knob stands off the place it moves, points of the screen.
const OFF: f32 = 26.0;

/// What the handle keeps.
#[derive(Default)]
pub(crate) struct Hold {
    /// While it is pulled: the amount where the pointer alone has it, mm.
    pulled: Option<f64>,
    /// The handle as it was looked for last.
    sought: Option<Sought>,
}

/// Draws the handle of the correction on the table and takes what is done to it.
pub(crate) fn show(
    own: &mut Hold,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    ground: &Ground,
    pens: &Pens,
) {
    let Some(trial) = &board.trial else { return };
    let change = trial.change.clone();
    let Change::Correct(correction) = change.plain() else { return };
    let Some((before, _)) = &ground.shown.old else { return };
    let Some(handle) = handle_of(own, &change, before, &ground.shown.new) else { return };
    let place = ground.place(board, &handle.piece);
    let at = pos(place * handle.at);
    let way = pos(place * (handle.at + handle.per_mm)) - pos(place * handle.at);
    let way = way.normalized();
    let free = ground.canvas.with_min_y(ground.canvas.top() + ground.words_above).shrink(OFF / 2.0);
    // Under the words over the table it would be out of reach.
    let out = at + way * OFF;
    let knob = if free.contains(out) { out } else { at - way * OFF };
    let rect = Rect::from_center_size(knob, vec2(26.0, 26.0));
    let response = ui.interact(rect, ui.scope_id().with("hold"), Sense::click_and_drag());
    let unit = board.unit();
    let amount = correction.amount();
    let said = format!("{}: {}", correction.about().name, show_length(amount, unit));
    response.widget_info(|| {
        WidgetInfo::slider(true, amount, format!("handle of the correction {said}"))
    });
    let busy = response.hovered() || response.dragged() || response.has_focus();
    let (red, paper) = (pens.on_paper.madder, pens.palette.paper);
    let painter = ui.painter();
    painter.line_segment([at, knob], Stroke::new(1.5, red));
    painter.circle_filled(at, 3.0, red);
    let size = if busy { 11.0 } else { 9.0 };
    painter.circle_filled(knob, size, red);
    painter.circle_stroke(knob, size, Stroke::new(2.0, paper));
    for turn in [1.0, -1.0] {
        let tip = knob + way * (turn * size * 0.62);
        let side = vec2(-way.y, way.x) * (size * 0.34);
        let back = tip - way * (turn * size * 0.42);
        let head = vec![tip, back + side, back - side];
        painter.add(Shape::convex_polygon(head, paper, Stroke::NONE));
    }
    let mut new = amount;
    if response.dragged() {
        new = pulled(own, board, ui, &response, &handle, place, amount);
    }
    if response.drag_stopped() {
        own.pulled = None;
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        new += step_of(unit) * f64::from(stepped(ui, &response));
    }
    if new != amount {
        let new = Change::Correct(correction.with_amount(new)).on_leg(change.leg());
        requests.try_out(trial.with(new));
    }
    if busy {
        tag(ui, &board.palette, ground.canvas, knob, &said);
    }
}

/// The handle found last, and for what.
struct Sought {
    change: Change,
    before: Arc<Pattern>,
    after: Arc<Pattern>,
    handle: Option<Handle>,
}

/// The handle, looked for anew only when the change or a pattern is another.
fn handle_of(
    own: &mut Hold,
    change: &Change,
    before: &Arc<Pattern>,
    after: &Arc<Pattern>,
) -> Option<Handle> {
    let same = |f: &&Sought| {
        f.change == *change && Arc::ptr_eq(&f.before, before) && Arc::ptr_eq(&f.after, after)
    };
    if let Some(sought) = own.sought.as_ref().filter(same) {
        return sought.handle.clone();
    }
    let handle = Handle::of(change, before, after);
    own.sought = Some(Sought {
        change: change.clone(),
        before: before.clone(),
        after: after.clone(),
        handle: handle.clone(),
    });
    handle
}

/// The amount a pull comes to: along the way the place goes, to whole steps of the
/// tape. Where the pointer alone has it is kept, so that a slow pull leaves a step
/// again.
fn pulled(
    own: &mut Hold,
    board: &Board,
    ui: &Ui,
    response: &egui::Response,
    handle: &Handle,
    place: Affine,
    amount: f64,
) -> f64 {
    let moved = pulled_on_paper(ui, response, place);
    let by = moved.dot(handle.per_mm) / handle.per_mm.hypot2();
    let free = own.pulled.unwrap_or(amount) + by;
    own.pulled = Some(free);
    to_steps(free, board.unit())
}

/// Steps asked for by keys or by a screen reader.
fn stepped(ui: &Ui, response: &egui::Response) -> i32 {
    crate::kit::look_round::keep_arrows(ui, response);
    let pressed = |key| i32::from(ui.input(|i| i.key_pressed(key)));
    let asked = |action| ui.input(|i| i.num_accesskit_action_requests(response.id, action)) as i32;
    pressed(Key::ArrowUp) + pressed(Key::ArrowRight)
        - pressed(Key::ArrowDown)
        - pressed(Key::ArrowLeft)
        + asked(egui::accesskit::Action::Increment)
        - asked(egui::accesskit::Action::Decrement)
}
