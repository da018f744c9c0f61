//! The pinch on the table: the pinned cloth as a lens with hash marks, and a
//! handle at every station for the pointer and for the keys.

use super::ground::Ground;
use super::labels::Plate;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::step_of;
use crate::kit::pull::{pulled_on_paper, to_steps};
use crate::kit::tag::tag;
use crate::kit::view::pos;
use crate::table::paint::Pens;
use egui::{Color32, Key, Pos2, Rect, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};
use hangtrue_adjust::{Change, LaidPinch, Pinch, PinchChange, StationPlace};
use hangtrue_geometry::{Affine, Point, Vec2};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, show_length};

/// What the lens keeps.
#[derive(Default)]
pub(crate) struct Lens {
    /// A station being pulled: its index, and where the pointer alone has it: its
    /// share of the path, and its amount.
    pub pulled: Option<(usize, f64, f64)>,
}

/// Hash marks along the lens, and points of its edge.
const STEPS: usize = 48;

/// The pinch that is being worked on or looked at.
fn pinch_of(board: &Board) -> Option<PinchChange> {
    if let Some(trial) = &board.trial {
        return match &trial.change {
            Change::Pinch(p) => Some(p.clone()),
            _ => None,
        };
    }
    let entry = board.document().changes.get(board.selected?)?;
    match &entry.change {
        Change::Pinch(p) => Some(p.clone()),
        _ => None,
    }
}

/// Draws the lens and takes what is done to its handles.
pub(crate) fn show(
    own: &mut Lens,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    ground: &Ground,
    pens: &Pens,
) {
    let Some((change, laid, place)) = on_table(board, ground) else {
        return;
    };
    let amounts: Vec<f64> = change.pinch.stations.iter().map(|s| s.amount).collect();
    if amounts.iter().any(|a| *a != 0.0) {
        draw_lens(ui, &laid, place, pens, amounts.iter().sum::<f64>() < 0.0);
    }
    if board.trial.is_some() {
        handles(own, board, requests, ui, (&change, &laid), (ground, place), pens);
    }
}

/// The pinch worked on or looked at as it lies on the pattern before it, and the way
/// from that pattern to the screen.
fn on_table(board: &Board, ground: &Ground) -> Option<(PinchChange, LaidPinch, Affine)> {
    let change = pinch_of(board)?;
    let (before, _) = ground.shown.old.as_ref()?;
    let piece = crate::board::legs::drawn_piece(before, &change.pinch.piece);
    let place = ground.place(board, &piece);
    let drawn = Pinch { piece, ..change.pinch.clone() };
    // A pinch that is empty or too steep is still shown, so that it can be mended.
    let laid = drawn.lay(before).ok().or_else(|| laid_anyway(&drawn, before))?;
    Some((change, laid, place))
}

/// A station's handle on the screen.
struct Knob {
    share: f64,
    /// Along the path and square to it, on paper.
    along: Vec2,
    square: Vec2,
    /// The edge of the lens it stands on, and its middle.
    top: Pos2,
    at: Pos2,
}

/// Points across a handle.
const KNOB: f32 = 26.0;

fn knob(pinch: &Pinch, index: usize, laid: &LaidPinch, place: Affine) -> Knob {
    let share = share_of(pinch, index, laid).clamp(0.0, 1.0);
    let s = share * laid.path.length();
    let along = laid.path.direction_at(s);
    let square = Vec2::new(-along.y, along.x);
    let middle = laid.path.point_at(s);
    let top = pos(place * (middle + square * (pinch.stations[index].amount / 2.0)));
    let up = pos(place * (middle + square)) - pos(place * middle);
    Knob { share, along, square, top, at: top + up.normalized() * 18.0 }
}

/// The places the handles of a pinch being tried take: no words stand there.
pub(super) fn handle_places(board: &Board, ground: &Ground) -> Vec<Plate> {
    let Some((change, laid, place)) = on_table(board, ground).filter(|_| board.trial.is_some())
    else {
        return Vec::new();
    };
    let of = |index| knob(&change.pinch, index, &laid, place).at;
    (0..change.pinch.stations.len()).map(|i| Plate::upright(of(i), vec2(KNOB, KNOB))).collect()
}

/// The pinch laid with a millionth of its amounts, and then given them back: its
/// path and its stations are known even when its amounts are refused.
fn laid_anyway(pinch: &Pinch, on: &Pattern) -> Option<LaidPinch> {
    const SMALL: f64 = 1e-6;
    let empty = pinch.stations.iter().all(|s| s.amount == 0.0);
    let mut small = pinch.clone();
    small.stations.iter_mut().for_each(|s| s.amount = if empty { SMALL } else { s.amount * SMALL });
    let mut laid = small.lay(on).ok()?;
    laid.stations.iter_mut().for_each(|s| s.1 = if empty { 0.0 } else { s.1 / SMALL });
    Some(laid)
}

/// The laid pinch with its smooth amount at many stations: the lens as the eye
/// sees it.
fn dense(laid: &LaidPinch) -> Option<LaidPinch> {
    let profile = laid.profile().ok()?;
    let length = laid.path.length();
    let at = |i: usize| length * i as f64 / STEPS as f64;
    let stations = (0..=STEPS).map(|i| (at(i), profile.at(at(i)))).collect();
    Some(LaidPinch { stations, ..laid.clone() })
}

fn draw_lens(ui: &Ui, laid: &LaidPinch, place: Affine, pens: &Pens, lets_out: bool) {
    let Some(dense) = dense(laid) else { return };
    let painter = ui.painter();
    let (left, right) = dense.fold_edges(1.0);
    let on = |p: &Point| pos(place * *p);
    let red = pens.on_paper.madder;
    let fill = Color32::from_rgba_unmultiplied(red.r(), red.g(), red.b(), 46);
    for i in 0..STEPS {
        let quad = vec![on(&left[i]), on(&left[i + 1]), on(&right[i + 1]), on(&right[i])];
        painter.add(Shape::convex_polygon(quad, fill, Stroke::NONE));
    }
    let pen = Stroke::new(1.8, red);
    for edge in [&left, &right] {
        let line: Vec<_> = edge.iter().map(on).collect();
        if lets_out {
            painter.extend(Shape::dashed_line(&line, pen, 6.0, 3.0));
        } else {
            painter.add(Shape::line(line, pen));
        }
    }
    for i in (2..STEPS - 1).step_by(3) {
        let (a, b) = (on(&left[i]), on(&right[i]));
        let over = (b - a).normalized() * 4.0;
        painter.line_segment([a - over, b + over], Stroke::new(1.2, red));
    }
}

/// Where a station of the pinch lies, as a share of the path.
fn share_of(pinch: &Pinch, index: usize, laid: &LaidPinch) -> f64 {
    match &pinch.stations[index].at {
        StationPlace::Share(share) => *share,
        StationPlace::From(seam, distance) => {
            let share = distance / laid.path.length();
            if laid.ends[0].seam == *seam { share } else { 1.0 - share }
        }
    }
}

fn handles(
    own: &mut Lens,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    (change, laid): (&PinchChange, &LaidPinch),
    (ground, place): (&Ground, Affine),
    pens: &Pens,
) {
    let unit = board.unit();
    let mut pinch = change.pinch.clone();
    for index in 0..pinch.stations.len() {
        let amount = pinch.stations[index].amount;
        let Knob { share, along, square, top, at: knob } = knob(&pinch, index, laid, place);
        let rect = Rect::from_center_size(knob, vec2(KNOB, KNOB));
        let id = ui.scope_id().with(("station", index));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        let words = format!(
            "pin place {} of the pinch: {} at {:.0} % of the path",
            index + 1,
            show_length(amount, unit),
            share * 100.0
        );
        response.widget_info(|| WidgetInfo::slider(true, amount, &words));
        let painter = ui.painter();
        painter.line_segment([top, knob], Stroke::new(1.5, pens.on_paper.madder));
        let busy = response.hovered() || response.dragged() || response.has_focus();
        painter.circle_filled(knob, if busy { 11.0 } else { 9.0 }, pens.on_paper.madder);
        painter.circle_stroke(
            knob,
            if busy { 11.0 } else { 9.0 },
            Stroke::new(2.0, pens.palette.paper),
        );
        painter.text(
            knob,
            egui::Align2::CENTER_CENTER,
            format!("{}", index + 1),
            pens.small.clone(),
            pens.palette.paper,
        );
        let mut snapped = "";
        if response.dragged() {
            let moved = pull(ui, &response, place, along, square);
            let (new_share, new_amount, why) =
                dragged_to(own, board, index, share, amount, moved, laid.path.length());
            snapped = why;
            set(&mut pinch, index, new_share, new_amount);
        }
        if response.drag_stopped() {
            own.pulled = None;
            // The methods that waited for the pull are tried in the next picture.
            ui.ctx().request_repaint();
        }
        if response.clicked() {
            response.request_focus();
        }
        if response.has_focus() {
            nudge(ui, &response, &mut pinch, index, share, unit);
        }
        if busy {
            let now = &pinch.stations[index];
            let said = format!("{}{snapped}", show_length(now.amount, unit));
            tag(ui, &board.palette, ground.canvas, knob, &said);
        }
    }
    if pinch != change.pinch
        && let Some(trial) = &board.trial
    {
        let change = Change::Pinch(PinchChange { pinch, method: change.method.clone() });
        requests.try_out(trial.with(change));
    }
}

/// The drag of this frame: along the path and square to it, mm.
fn pull(
    ui: &Ui,
    response: &egui::Response,
    place: Affine,
    along: Vec2,
    square: Vec2,
) -> (f64, f64) {
    let moved = pulled_on_paper(ui, response, place);
    (moved.dot(along), moved.dot(square))
}

/// Places of the path a station is drawn to, and what they are called.
const PLACES: [(f64, &str); 3] = [
    (0.5, " · in the middle of the path"),
    (1.0 / 3.0, " · a third of the way"),
    (2.0 / 3.0, " · two thirds of the way"),
];
/// How near a station must come to be drawn to such a place, mm.
const DRAWN: f64 = 4.0;

/// Where a drag brings a station: the unsnapped place is remembered so that a
/// slow drag leaves a snap again.
fn dragged_to(
    own: &mut Lens,
    board: &Board,
    index: usize,
    share: f64,
    amount: f64,
    moved: (f64, f64),
    length: f64,
) -> (f64, f64, &'static str) {
    let free = own.pulled.filter(|p| p.0 == index).map_or((share, amount), |p| (p.1, p.2));
    // Half of the amount lies on each side of the path.
    let free = ((free.0 + moved.0 / length).clamp(0.02, 0.98), free.1 + 2.0 * moved.1);
    own.pulled = Some((index, free.0, free.1));
    let amount = to_steps(free.1, board.unit());
    let drawn = PLACES.iter().find(|p| (p.0 - free.0).abs() * length < DRAWN);
    match drawn {
        Some((place, why)) => (*place, amount, why),
        None => (free.0, amount, ""),
    }
}

fn set(pinch: &mut Pinch, index: usize, share: f64, amount: f64) {
    if (share_shown(pinch, index) - share).abs() > 1e-9 {
        pinch.stations[index].at = StationPlace::Share(share);
    }
    pinch.stations[index].amount = amount;
}

fn share_shown(pinch: &Pinch, index: usize) -> f64 {
    match pinch.stations[index].at {
        StationPlace::Share(share) => share,
        StationPlace::From(..) => f64::NAN,
    }
}

/// Up and down change the amount, left and right the place.
fn nudge(
    ui: &Ui,
    response: &egui::Response,
    pinch: &mut Pinch,
    index: usize,
    share: f64,
    unit: Unit,
) {
    crate::kit::look_round::keep_arrows(ui, response);
    let pressed = |key| i32::from(ui.input(|i| i.key_pressed(key)));
    let asked = |action| ui.input(|i| i.num_accesskit_action_requests(response.id, action)) as i32;
    let up = pressed(Key::ArrowUp) - pressed(Key::ArrowDown)
        + asked(egui::accesskit::Action::Increment)
        - asked(egui::accesskit::Action::Decrement);
    let right = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    if up != 0 {
        pinch.stations[index].amount += f64::from(up) * step_of(unit);
    }
    if right != 0 {
        let to = (share + 0.01 * f64::from(right)).clamp(0.02, 0.98);
        pinch.stations[index].at = StationPlace::Share(to);
    }
}
