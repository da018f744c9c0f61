//! The place of the paper that a correction moves most, to be taken hold of on the
//! table: pulled with the pointer or moved by keys, it sets the amount.

use crate::cards::correct::lay;
use crate::desk::desk::{Desk, Shown};
use crate::kit::length_field::step_of;
use crate::table::lens::{pulled_on_paper, to_steps};
use crate::table::objects::tag;
use crate::table::paint::Pens;
use crate::kit::view::pos;
use egui::{Key, Rect, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};
use hangtrue_adjust::{Change, Handle};
use hangtrue_geometry::Affine;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::show_length;
use std::sync::Arc;

/// How far the knob stands off the place it moves, points of the screen.
const OFF: f32 = 26.0;

/// Draws the handle of the correction on the table and takes what is done to it.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui, shown: &Shown, to_screen: Affine, pens: &Pens) {
    let Some(change) = desk.draft.as_ref().map(|d| d.change.clone()) else { return };
    let Change::Correct(correction) = change.plain() else { return };
    let Some((before, _)) = &shown.old else { return };
    let Some(handle) = handle_of(desk, &change, before, &shown.new) else { return };
    let place = to_screen * desk.lay.affine(&handle.piece);
    let at = pos(place * handle.at);
    let way = pos(place * (handle.at + handle.per_mm)) - pos(place * handle.at);
    let way = way.normalized();
    let free = desk.canvas.with_min_y(desk.canvas.top() + desk.words_above).shrink(OFF / 2.0);
    // Under the words over the table it would be out of reach.
    let out = at + way * OFF;
    let knob = if free.contains(out) { out } else { at - way * OFF };
    let rect = Rect::from_center_size(knob, vec2(26.0, 26.0));
    let response = ui.interact(rect, ui.scope_id().with("hold"), Sense::click_and_drag());
    let unit = desk.unit();
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
        new = pulled(desk, ui, &response, &handle, place, amount);
    }
    if response.drag_stopped() {
        desk.cards.correct.pulled = None;
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        new += step_of(unit) * f64::from(stepped(ui, &response));
    }
    if new != amount {
        lay(desk, correction.with_amount(new), change.leg());
    }
    if busy {
        tag(ui, desk, knob, &said);
    }
}

/// The handle found last, and for what.
pub(crate) struct Found {
    change: Change,
    before: Arc<Pattern>,
    after: Arc<Pattern>,
    handle: Option<Handle>,
}

/// The handle, looked for anew only when the change or a pattern is another.
fn handle_of(
    desk: &mut Desk,
    change: &Change,
    before: &Arc<Pattern>,
    after: &Arc<Pattern>,
) -> Option<Handle> {
    let same = |f: &&Found| {
        f.change == *change && Arc::ptr_eq(&f.before, before) && Arc::ptr_eq(&f.after, after)
    };
    if let Some(found) = desk.cards.correct.found.as_ref().filter(same) {
        return found.handle.clone();
    }
    let handle = Handle::of(change, before, after);
    desk.cards.correct.found = Some(Found {
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
    desk: &mut Desk,
    ui: &Ui,
    response: &egui::Response,
    handle: &Handle,
    place: Affine,
    amount: f64,
) -> f64 {
    let moved = pulled_on_paper(ui, response, place);
    let by = moved.dot(handle.per_mm) / handle.per_mm.hypot2();
    let free = desk.cards.correct.pulled.unwrap_or(amount) + by;
    desk.cards.correct.pulled = Some(free);
    to_steps(free, desk.unit())
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
