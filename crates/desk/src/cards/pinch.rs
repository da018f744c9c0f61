//! Pinch: what was pinned, and three ways to take it out of the flat paper, side
//! by side, with what each keeps and what it cannot hold.

use super::pins;
use crate::board::draft::Draft;
use crate::board::legs::drawn_piece;
use crate::board::pinches::USUAL;
use crate::board::requests::{Request, Requests};
use crate::board::{Board, pinches};
use crate::kit::length_field::{
    bare_length_field, length_field, name_field, optional_length_field,
};
use crate::kit::picture;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use crate::kit::words::capital;
use crate::table::tools::Tools;
use crate::table::ways_out::accept_or_leave;
use egui::{Frame, Stroke, Ui, vec2};
use hangtrue_adjust::{
    Applied, Change, ChangeError, Distribute, Effect, Mates, Method, Outcome, Pinch, PinchChange,
    PinchPath, Proposal, SecondCut, Share, SlashAndLap, TopAndScoop, legs_named, propose,
};
use hangtrue_pattern::units::{show_length, words_in};
use hangtrue_pattern::{End, Leg, Pattern, Piece, Seam, SeamPlace};
use std::sync::Arc;

/// What the card keeps.
#[derive(Default)]
pub(crate) struct PinchCard {
    /// How the pins are being written down.
    pub pins: pins::PinsForm,
    tried: Option<Tried>,
    /// The parameters of the methods not chosen now, so that nothing is lost by
    /// looking at another.
    others: Option<[Method; 3]>,
}

/// The three methods tried on one pinch.
struct Tried {
    base: Arc<Pattern>,
    pinch: Pinch,
    methods: [Method; 3],
    outcomes: Vec<Tries>,
    proposals: Vec<Proposal>,
    /// While a station is pulled only the method on the table follows; the others
    /// are tried again when it is let go.
    others_wait: bool,
}

/// The pattern a method gives and what it did, or why it cannot be used.
type Tries = Result<(Arc<Pattern>, Effect), ChangeError>;

/// Shows the card.
pub(super) fn show(
    (own, tools): (&mut PinchCard, &mut Tools),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let current = board.draft.as_ref().and_then(|d| match &d.change {
        Change::Pinch(p) => Some(p.clone()),
        _ => None,
    });
    safety(board, ui);
    ui.add_space(4.0);
    match current {
        None => begin(own, tools, board, requests, ui),
        Some(change) => work(own, tools, board, requests, ui, change),
    }
}

/// The usual caution (common practice, no published source).
pub(super) const PINS: &str = "Safety pins when the wearer sits or bends, points away from the body, every pin out before the toile comes off. Say so before you reach across the wearer.";

fn safety(board: &Board, ui: &mut Ui) {
    Frame::new()
        .stroke(Stroke::new(1.5, board.palette.madder))
        .inner_margin(9.0)
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.label(bold("Pins on a person"));
            ui.add(egui::Label::new(egui::RichText::new(PINS).small()).wrap());
        });
}

fn begin(
    own: &mut PinchCard,
    tools: &mut Tools,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    // The next pinch starts from the usual parameters of every method.
    own.others = None;
    let Ok(pattern) = board.replay.current().cloned() else { return };
    if pattern.lines.is_empty() {
        ui.label("A pinch is laid along a line. Mark the lines first: turn to Lines.");
        return;
    }
    waiting(tools, board, requests, ui);
    part(ui, "Along which line was it pinned?");
    // On a parted pattern it is said afterwards on which leg.
    let apart = pattern.is_apart();
    let one = if apart { Arc::new(pattern.one_leg(Leg::Right)) } else { pattern.clone() };
    // A line that stays on the paper is not there to be pinned along.
    let on_cloth = one.lines.iter().filter(|l| l.purpose.to_cloth());
    let lines: Vec<(String, String)> =
        on_cloth.map(|l| (l.name.clone(), l.piece.clone())).collect();
    for (line, piece) in lines {
        let words = format!("{line} line of the {piece}");
        if ui.button(format!("Pinned along the {words}")).clicked() {
            let name = pinches::free_name(board, &format!("{line} pinch"));
            lay(tools, requests, Pinch::in_the_middle(&name, &piece, &line, USUAL));
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
    if !apart {
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
    part(ui, "Measured on the toile, not answered yet");
    for pinch in waiting {
        let most = pinch.stations.iter().map(|s| s.amount).fold(0.0, f64::max);
        let words = format!(
            "Answer “{}” on the {} ({})",
            pinch.name,
            pinch.piece,
            show_length(most, board.unit())
        );
        if ui.button(words).clicked() {
            lay(tools, requests, pinch);
        }
    }
}

/// Lays a pinch on the table.
fn lay(tools: &mut Tools, requests: &mut Requests, pinch: Pinch) {
    tools.path.drawing = false;
    pinches::lay(requests, pinch);
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
        lay(tools, requests, pinch);
    }
}

/// Keeps the pinch in the project without answering it yet.
fn keep_waiting(requests: &mut Requests, pinch: &Pinch) {
    let pinch = pinch.clone();
    requests.leave_draft();
    requests.edit(&format!("noting “{}”", pinch.name), move |d| {
        d.pinned.retain(|p| p.name != pinch.name);
        d.pinned.push(pinch);
    });
}

fn work(
    own: &mut PinchCard,
    tools: &mut Tools,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    change: PinchChange,
) {
    let Some(base) = board.draft_base() else { return };
    let mut new = change.clone();
    super::legs::pinned_on(ui, &base, &mut new.pinch.piece);
    let on = legs_named(&base, &new.pinch.piece).pop().map(|on| on.1);
    let on = on.unwrap_or(std::borrow::Cow::Borrowed(&*base));
    name_row(board, ui, &mut new, &on);
    pins::show(&mut own.pins, board, ui, &mut new.pinch, &on);
    part(ui, "What flat paper can do with it");
    try_all(own, tools.lens.pulled.is_some(), board, &new, &base);
    methods(own, board, ui, &mut new);
    parameters(own, board, ui, &mut new.method);
    if new != change
        && let Some(draft) = board.draft.clone()
    {
        let name = if new.pinch.name == change.pinch.name {
            draft.name.clone()
        } else {
            new.pinch.name.clone()
        };
        requests.try_out(Draft { change: Change::Pinch(new.clone()), name, ..draft });
    }
    verdict(own, board, ui, &new.method);
    ui.add_space(4.0);
    ui.horizontal(|ui| accept_or_leave(board, requests, ui));
    let is_new = board.draft.as_ref().is_some_and(|d| d.at.is_none());
    if is_new && ui.button("Only note what was pinned; answer it later").clicked() {
        keep_waiting(requests, &new.pinch);
    }
}

fn name_row(board: &Board, ui: &mut Ui, change: &mut PinchChange, base: &Pattern) {
    ui.horizontal(|ui| {
        ui.label("Called");
        let field = ui.add(egui::TextEdit::singleline(&mut change.pinch.name).desired_width(170.0));
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

fn compute(change: &PinchChange, base: &Pattern) -> Tries {
    let Outcome { pattern, kept, changed, residue, notes } = change.apply(base)?;
    Ok((Arc::new(pattern), Effect { kept, changed, residue, notes }))
}

/// What the table shows already: the change being tried is computed once.
fn on_the_table(board: &Board, change: &PinchChange) -> Option<Tries> {
    let draft = board.draft.as_ref()?;
    let at = draft.index_in(board.document());
    let laid = &board.replay.document().changes.get(at)?.change;
    if board.dirty || *laid != Change::Pinch(change.clone()) {
        return None;
    }
    let state = board.replay.states().get(at)?;
    match &state.applied {
        Applied::Done(effect) => Some(Ok((state.pattern.clone(), effect.clone()))),
        Applied::Failed(why) => Some(Err(why.clone())),
        Applied::Off => None,
    }
}

/// Tries all three methods when the pinch, the pattern or a parameter changed.
fn try_all(
    own: &mut PinchCard,
    pulling: bool,
    board: &Board,
    change: &PinchChange,
    base: &Arc<Pattern>,
) {
    let mut methods = own.others.clone().unwrap_or_else(Method::all);
    for method in &mut methods {
        if method.name() == change.method.name() {
            *method = change.method.clone();
        }
    }
    own.others = Some(methods.clone());
    let same = |t: &Tried| {
        Arc::ptr_eq(&t.base, base)
            && t.pinch == change.pinch
            && t.methods == methods
            && (pulling || !t.others_wait)
    };
    if own.tried.as_ref().is_some_and(same) {
        return;
    }
    let on_the_table = on_the_table(board, change);
    if pulling
        && let Some(tried) = &mut own.tried
        && Arc::ptr_eq(&tried.base, base)
        && tried.methods == methods
        && let Some(chosen) = methods.iter().position(|m| m.name() == change.method.name())
    {
        tried.outcomes[chosen] = on_the_table.unwrap_or_else(|| compute(change, base));
        tried.pinch = change.pinch.clone();
        tried.others_wait = true;
        return;
    }
    // A method whose own parameters did not change keeps its outcome.
    let old = own
        .tried
        .take()
        .filter(|t| Arc::ptr_eq(&t.base, base) && t.pinch == change.pinch && !t.others_wait);
    let outcome_of = |(index, method): (usize, &Method)| {
        if let Some(old) = &old
            && old.methods[index] == *method
        {
            return old.outcomes[index].clone();
        }
        if let Some(made) = &on_the_table
            && *method == change.method
        {
            return made.clone();
        }
        compute(&PinchChange { pinch: change.pinch.clone(), method: method.clone() }, base)
    };
    let outcomes = methods.iter().enumerate().map(outcome_of).collect();
    let on = legs_named(base, &change.pinch.piece).pop();
    let proposals = on.and_then(|(_, on)| {
        let laid = change.pinch.lay(&on).ok()?;
        propose(&on, &change.pinch.piece, &laid).ok()
    });
    let proposals = proposals.unwrap_or_default();
    let (base, pinch) = (base.clone(), change.pinch.clone());
    own.tried = Some(Tried { base, pinch, methods, outcomes, proposals, others_wait: false });
}

fn methods(own: &mut PinchCard, board: &Board, ui: &mut Ui, change: &mut PinchChange) {
    let Some(tried) = own.tried.take() else { return };
    let palette = board.palette;
    let wide = ((ui.available_width() - 34.0) / 3.0).max(90.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        for (index, method) in tried.methods.iter().enumerate() {
            let chosen = method.name() == change.method.name();
            let edge = if chosen {
                Stroke::new(2.5, palette.text)
            } else {
                Stroke::new(1.0, palette.rule)
            };
            Frame::new().stroke(edge).corner_radius(5.0).inner_margin(5.0).show(ui, |ui| {
                ui.set_width(wide - 12.0);
                ui.vertical(|ui| {
                    let name = egui::RichText::new(capital(method.name())).small();
                    let button = egui::Button::selectable(chosen, name);
                    if ui.add_sized(vec2(wide - 12.0, 26.0), button).clicked() {
                        change.method = method.clone();
                    }
                    ui.small(match (chosen, tried.others_wait) {
                        (true, _) => "on the table",
                        (false, false) => "look at it",
                        (false, true) => "waits for the pull",
                    });
                    small_picture(board, ui, &tried, index, method);
                    numbers(board, ui, &tried.outcomes[index]);
                });
            });
        }
    });
    own.tried = Some(tried);
}

fn small_picture(board: &Board, ui: &mut Ui, tried: &Tried, index: usize, method: &Method) {
    let words = format!("{} on the {}", method.name(), tried.pinch.piece);
    let palette = board.palette;
    let (rect, painter) = picture::frame(ui, &palette, 132.0, &words);
    let old = board.sheets(&tried.base, 0.25);
    let new = tried.outcomes[index].as_ref().ok().map(|o| board.sheets(&o.0, 0.25));
    let piece = drawn_piece(&tried.base, &tried.pinch.piece);
    picture::old_under_new(&painter, rect, &palette, &piece, &old, new.as_deref());
}

fn numbers(board: &Board, ui: &mut Ui, outcome: &Tries) {
    let palette = board.palette;
    match outcome {
        Ok((_, outcome)) => {
            let (all, broken) =
                (outcome.kept.len(), outcome.kept.iter().filter(|k| !k.kept()).count());
            ui.small(match broken {
                0 => format!("all {all} measures kept"),
                n => format!("{n} of {all} measures not kept"),
            });
            let most = outcome.changed.iter().filter(|c| is_length(&c.measure));
            let most = most.max_by(|a, b| a.change().abs().total_cmp(&b.change().abs()));
            if let Some(most) = most {
                ui.small(format!(
                    "changes most: {}, {}",
                    most.measure,
                    super::effect::signed(most.change(), board)
                ));
            }
            let open: f64 = outcome.residue.iter().map(|r| r.amount.abs()).fold(0.0, f64::max);
            ui.small(if open < 0.05 {
                "nothing left over".into()
            } else {
                format!("left over: up to {}", show_length(open, board.unit()))
            });
        }
        Err(_) => {
            ui.colored_label(palette.ochre, egui::RichText::new("not possible here").small());
        }
    }
}

fn is_length(measure: &str) -> bool {
    !measure.contains("area") && !measure.contains("lean")
}

fn verdict(own: &PinchCard, board: &Board, ui: &mut Ui, method: &Method) {
    let Some(tried) = &own.tried else { return };
    let at = tried.methods.iter().position(|m| m.name() == method.name());
    let Some(outcome) = at.and_then(|at| tried.outcomes.get(at)) else { return };
    part(ui, &format!("{} on the table", capital(method.name())));
    let outcome = match outcome {
        Ok((_, outcome)) => outcome,
        Err(why) => return fault(board, ui, &why.to_string()),
    };
    super::effect::show(board, ui, outcome);
}

fn parameters(own: &PinchCard, board: &Board, ui: &mut Ui, method: &mut Method) {
    let (palette, unit) = (board.palette, board.unit());
    match method {
        Method::TopAndScoop(TopAndScoop { amount, zero_from_side, keep_waist }) => {
            ui.horizontal_wrapped(|ui| {
                ui.label("Centre goes down by");
                optional_length_field(
                    ui,
                    &palette,
                    "Centre goes down by",
                    amount,
                    unit,
                    "as pinned",
                );
            });
            ui.horizontal_wrapped(|ui| {
                ui.label("Nothing off the waist within");
                bare_length_field(
                    ui,
                    &palette,
                    "Nothing off the waist within",
                    zero_from_side,
                    unit,
                );
                ui.label("of the side");
            });
            ui.checkbox(keep_waist, "Keep the sewn waist by the dart");
        }
        Method::SlashAndLap(slash) => slash_parameters(own, board, ui, slash),
        Method::Distribute(Distribute { take, mates }) => {
            ui.horizontal_wrapped(|ui| {
                ui.label("An even strip of");
                optional_length_field(ui, &palette, "An even strip of", take, unit, "the mean");
            });
            ui.radio_value(mates, Mates::Follow, "The other piece loses as much");
            ui.radio_value(mates, Mates::Ease, "The difference is eased in");
        }
    }
}

fn slash_parameters(own: &PinchCard, board: &Board, ui: &mut Ui, slash: &mut SlashAndLap) {
    ui.radio_value(&mut slash.second_cut, SecondCut::Least, "Second cut where it disturbs least");
    let proposals = own.tried.as_ref().map(|t| t.proposals.as_slice()).unwrap_or_default();
    for proposal in proposals {
        let words = format!(
            "{}: laps {}",
            capital(&words_in(&proposal.words, board.unit())),
            show_length(proposal.lap, board.unit())
        );
        ui.radio_value(&mut slash.second_cut, proposal.second_cut.clone(), words)
            .on_hover_text(words_in(&proposal.consequence, board.unit()));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Take");
        ui.radio_value(&mut slash.share, Share::All, "all of it");
        ui.radio_value(&mut slash.share, Share::WhatTheDartGives, "what the dart gives");
        let half = matches!(slash.share, Share::Part(_));
        if ui.radio(half, "a part").clicked() && !half {
            slash.share = Share::Part(0.5);
        }
        if let Share::Part(part) = &mut slash.share {
            let mut percent = *part * 100.0;
            let drag = ui.add(egui::DragValue::new(&mut percent).range(0.0..=100.0).suffix(" %"));
            name_field(ui, &drag, "Part of the pinch taken");
            if drag.changed() {
                *part = percent / 100.0;
            }
        }
    });
    ui.checkbox(&mut slash.keep_crotch, "Redraw the crotch seam to its old length");
}
