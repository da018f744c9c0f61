//! Pinch: what was pinned, and how it is taken out of the flat paper.

use super::methods::Methods;
use super::reading::{ReadingCard, left_over};
use super::{from_toile, method_fields, pins};
use crate::board::requests::{Request, Requests};
use crate::board::trial::Trial;
use crate::board::{Board, pinches};
use crate::hang::state::Hang;
use crate::kit::field::one_line;
use crate::kit::length_field::{length_field, name_field, put_cursor_into};
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use crate::table::tools::Tools;
use crate::table::ways_out::accept_or_leave;
use egui::{Frame, Stroke, Ui};
use hangtrue_adjust::reading::LineRead;
use hangtrue_adjust::{Change, Pinch, PinchChange, PinchPath, legs_named};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::{End, Leg, Pattern, Piece, Seam, SeamPlace};
use std::sync::Arc;

/// What the card keeps.
#[derive(Default)]
pub(crate) struct PinchCard {
    /// How the pins are being written down.
    pub pins: pins::PinsForm,
    pub methods: Methods,
    /// The pinch that was begun from what was left over on the toile.
    from_toile: Option<from_toile::Begun>,
}

/// Shows the card.
pub(super) fn show(
    (own, (tools, hang, reading)): (&mut PinchCard, (&mut Tools, &mut Hang, &mut ReadingCard)),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let current = board.trial.as_ref().and_then(|d| match &d.change {
        Change::Pinch(p) => Some(p.clone()),
        _ => None,
    });
    safety(board, ui);
    ui.add_space(4.0);
    match current {
        None => {
            let lines = left_over(reading, hang, board, ui);
            begin((own, &lines), tools, board, requests, ui);
        }
        Some(change) => work((own, tools, hang), board, requests, ui, change),
    }
}

fn safety(board: &Board, ui: &mut Ui) {
    Frame::new()
        .stroke(Stroke::new(1.5, board.palette.madder))
        .inner_margin(9.0)
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.label(bold("Pins on a person"));
            ui.add(
                egui::Label::new(egui::RichText::new(hangtrue_adjust::PINS_ON_A_BODY).small())
                    .wrap(),
            );
        });
}

fn begin(
    (own, lines): (&mut PinchCard, &[LineRead]),
    tools: &mut Tools,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    // The next pinch starts from the usual parameters of every method.
    own.methods.begin_anew();
    let Ok(pattern) = board.replay.current().cloned() else { return };
    if pattern.lines.is_empty() {
        ui.label("A pinch is laid along a line. Mark the lines first: turn to Lines.");
        return;
    }
    waiting(tools, board, requests, ui);
    let begun = on_its_own(ui, "from the toile", |ui| {
        from_toile::show(lines, board, requests, ui, &pattern)
    });
    if let Some((begun, pinch)) = begun {
        own.from_toile = Some(begun);
        lay(board, tools, requests, pinch);
        put_cursor_into(ui.ctx(), pins::FIRST_AMOUNT);
    }
    part(ui, "Along which line was it pinned?");
    // On a parted pattern it is said afterwards on which leg.
    let parted = pattern.is_apart();
    let one = if parted { Arc::new(pattern.one_leg(Leg::Right)) } else { pattern.clone() };
    // A line that stays on the paper is not there to be pinned along.
    let on_cloth = one.lines.iter().filter(|l| l.purpose.to_cloth());
    let lines: Vec<(String, String)> =
        on_cloth.map(|l| (l.name.clone(), l.piece.clone())).collect();
    for (line, piece) in lines {
        let words = format!("{line} line of the {piece}");
        if ui.button(format!("Pinned along the {words}")).clicked() {
            let name = pinches::free_name(board, &format!("{line} pinch"));
            lay(board, tools, requests, Pinch::in_the_middle(&name, &piece, &line, 0.0));
            put_cursor_into(ui.ctx(), pins::FIRST_AMOUNT);
        }
    }
    part(ui, "Or straight across, from seam to seam");
    if tools.path.drawing {
        ui.label("Draw on the table: from one seam to another.");
        if ui.button("Do not draw").clicked() {
            tools.path.drawing = false;
        }
    } else if ui.button("Draw it on the table").clicked() {
        requests.show_now();
        tools.path.drawing = true;
    }
    for piece in &one.pieces {
        if ui.button(format!("Between two places on the {}", piece.name)).clicked() {
            between(tools, board, requests, piece);
        }
    }
    let pinches: Vec<usize> = (0..board.document().changes.len())
        .filter(|i| crate::board::stage::is_pinch(&board.document().changes[*i].change))
        .collect();
    if !pinches.is_empty() {
        part(ui, "Pinches made");
        for index in pinches {
            let name = board.document().changes[index].name.clone();
            if ui.button(format!("Edit “{name}” again")).clicked() {
                requests.ask_for(Request::EditAgain(index));
            }
        }
    }
    if !parted {
        part(ui, "Pinned differently on the left and the right?");
        aside(
            board,
            ui,
            "Left and right share a piece. Part them first; then each leg is pinned by itself.",
        );
        if ui.button("Part left and right…").clicked() {
            super::legs::part_them(board, requests);
        }
    }
}

/// Pinches measured on the toile and not answered yet.
fn waiting(tools: &mut Tools, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let waiting = board.document().pinned.clone();
    if waiting.is_empty() {
        return;
    }
    part(ui, "Measured on the toile, not taken up yet");
    for pinch in waiting {
        let most = pinch.stations.iter().map(|s| s.amount).fold(0.0, f64::max);
        let words = format!(
            "Take up “{}” on the {} ({})",
            pinch.name,
            pinch.piece,
            show_length(most, board.unit())
        );
        if ui.button(words).clicked() {
            lay(board, tools, requests, pinch);
        }
    }
}

/// Lays a pinch on the table.
fn lay(board: &Board, tools: &mut Tools, requests: &mut Requests, pinch: Pinch) {
    tools.path.drawing = false;
    pinches::lay(board, requests, pinch);
}

/// A pinch between the middles of the two longest seams, to be set by typing.
fn between(tools: &mut Tools, board: &Board, requests: &mut Requests, piece: &Piece) {
    let mut seams: Vec<&Seam> = piece.seams.iter().collect();
    seams.sort_by(|a, b| b.sewn_length().total_cmp(&a.sewn_length()));
    if let [first, second, ..] = seams[..] {
        let middle = |s: &Seam| {
            let distance = (s.sewn_length() * 0.5).round();
            SeamPlace { seam: s.name.clone(), from: End::Start, distance }
        };
        let pinch = pinches::across(board, &piece.name, middle(first), middle(second));
        lay(board, tools, requests, pinch);
    }
}

/// Keeps the pinch in the project without answering it yet.
fn keep_waiting(requests: &mut Requests, pinch: &Pinch) {
    let pinch = pinch.clone();
    requests.leave_trial();
    requests.edit(&format!("noting “{}”", pinch.name), move |d| {
        d.pinned.retain(|p| p.name != pinch.name);
        d.pinned.push(pinch);
    });
}

fn work(
    (own, tools, hang): (&mut PinchCard, &mut Tools, &mut Hang),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    change: PinchChange,
) {
    let Some(base) = board.trial_base() else { return };
    let mut new = change.clone();
    super::legs::pinned_on(ui, &base, &mut new.pinch.piece);
    let on = legs_named(&base, &new.pinch.piece).pop().map(|on| on.1);
    let on = on.unwrap_or(std::borrow::Cow::Borrowed(&*base));
    name_row(board, ui, &mut new, &on);
    pins::show(&mut own.pins, board, ui, &mut new.pinch, &on);
    from_toile::beside(own.from_toile.as_ref(), board, ui, &mut new.pinch);
    let empty = pinches::is_empty(&new.pinch);
    if empty {
        aside(
            board,
            ui,
            "Measure it from mark to mark on the flat cloth and write it down here. Then the ways to take it up are tried, side by side.",
        );
    } else {
        part(ui, "What flat paper can do with it");
        let methods = &mut own.methods;
        methods.try_all(tools.lens.pulled.is_some(), board, &new, &base);
        methods.show(hang, board, ui, &mut new);
        method_fields::show(methods.proposals(), board, ui, &mut new.method);
    }
    if new != change
        && let Some(trial) = board.trial.clone()
    {
        let name = if new.pinch.name == change.pinch.name {
            trial.name.clone()
        } else {
            new.pinch.name.clone()
        };
        requests.try_out(Trial { change: Change::Pinch(new.clone()), name, ..trial });
    }
    if !empty {
        own.methods.verdict(board, ui, &new.method);
        on_its_own(ui, "on the body", |ui| own.methods.on_the_body(hang, board, ui, &new.method));
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
    let is_new = board.trial.as_ref().is_some_and(|d| d.at.is_none());
    if is_new && !empty && ui.button("Only note what was pinned; take it up later").clicked() {
        keep_waiting(requests, &new.pinch);
    }
}

fn name_row(board: &Board, ui: &mut Ui, change: &mut PinchChange, base: &Pattern) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        let field = ui.add(one_line(&mut change.pinch.name).desired_width(170.0));
        name_field(ui, &field, "Name of the pinch");
    });
    let piece_name = change.pinch.piece.clone();
    match &mut change.pinch.path {
        PinchPath::Line(line) => {
            ui.label(format!("Along the {line} line of the {piece_name}."));
        }
        PinchPath::Across { from, to } => {
            ui.label(format!("Straight across the {piece_name}:"));
            let Ok(piece) = base.piece(&piece_name) else { return };
            for (words, place) in [("from", from), ("to", to)] {
                across_end(board, ui, piece, words, place);
            }
        }
    }
}

/// One end of a path across a piece: its seam, the corner it is counted from, and
/// how far.
fn across_end(board: &Board, ui: &mut Ui, piece: &Piece, words: &str, place: &mut SeamPlace) {
    super::lines::seam_end(ui, words, piece, &mut place.seam, &mut place.from);
    let label = format!("Along it, {words}");
    length_field(ui, &board.palette, &label, &mut place.distance, board.unit());
}
