//! Pinch: what was pinned, and three ways to take it out of the flat paper, side
//! by side, with what each keeps and what it cannot hold.

use super::{aside, fault, part, pins};
use crate::desk::Desk;
use crate::draft::Draft;
use crate::length_field::{bare_length_field, optional_length_field};
use crate::picture;
use crate::theme::bold;
use egui::{Frame, Stroke, Ui, vec2};
use hangtrue_adjust::{
    Applied, Change, ChangeError, Distribute, Effect, Mates, Method, Outcome, Pinch, PinchChange,
    PinchPath, Proposal, SecondCut, Share, SlashAndLap, Station, StationPlace, TopAndScoop,
    legs_named, propose,
};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{End, Leg, Pattern, Piece, Seam, SeamPlace};
use std::sync::Arc;

/// What the card keeps.
#[derive(Default)]
pub(crate) struct PinchCard {
    /// A station being dragged: its index, and where the pointer alone has it.
    pub pulled: Option<(usize, f64, f64)>,
    /// A path is being drawn with the pointer, and where it began.
    pub drawing: bool,
    pub drawn_from: Option<crate::draw_path::Caught>,
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

/// The usual amount of a first pinch: 3/8 in (common practice, no published
/// source), mm.
pub(super) const USUAL: f64 = 9.525;

/// Shows the card.
pub(super) fn show(desk: &mut Desk, ui: &mut Ui) {
    let current = desk.draft.as_ref().and_then(|d| match &d.change {
        Change::Pinch(p) => Some(p.clone()),
        _ => None,
    });
    safety(desk, ui);
    ui.add_space(4.0);
    match current {
        None => begin(desk, ui),
        Some(change) => work(desk, ui, change),
    }
}

/// The usual caution (common practice, no published source).
pub(super) const PINS: &str = "Safety pins when the wearer sits or bends, points away from the body, every pin out before the toile comes off. Say so before you reach across the wearer.";

fn safety(desk: &Desk, ui: &mut Ui) {
    Frame::new()
        .stroke(Stroke::new(1.5, desk.palette.madder))
        .inner_margin(9.0)
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.label(bold("Pins on a person"));
            ui.add(egui::Label::new(egui::RichText::new(PINS).small()).wrap());
        });
}

fn begin(desk: &mut Desk, ui: &mut Ui) {
    let Ok(pattern) = desk.replay.current().cloned() else { return };
    if pattern.lines.is_empty() {
        ui.label("A pinch is laid along a line. Mark the lines first: turn to Lines.");
        return;
    }
    waiting(desk, ui);
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
            let name = free_name(desk, &format!("{line} pinch"));
            lay(desk, Pinch::in_the_middle(&name, &piece, &line, USUAL));
        }
    }
    part(ui, "Or straight across, from seam to seam");
    if desk.cards.pinch.drawing {
        ui.label("Draw on the table: from one seam to another.");
        if ui.button("Do not draw").clicked() {
            desk.cards.pinch.drawing = false;
        }
    } else if ui.button("Draw it on the table").clicked() {
        desk.show_now();
        desk.cards.pinch.drawing = true;
    }
    for piece in &one.pieces {
        if ui.button(format!("Between two places on the {}", piece.name)).clicked() {
            between(desk, piece);
        }
    }
    let pinches: Vec<usize> = (0..desk.document().changes.len())
        .filter(|i| crate::stage::is_pinch(&desk.document().changes[*i].change))
        .collect();
    if !pinches.is_empty() {
        part(ui, "Pinches made");
        for index in pinches {
            let name = desk.document().changes[index].name.clone();
            if ui.button(format!("Edit “{name}” again")).clicked() {
                crate::rounds::edit_again(desk, index);
            }
        }
    }
    if !apart {
        part(ui, "Pinned differently on the left and the right?");
        aside(
            desk,
            ui,
            "Left and right share a piece. Part them first; then each leg is pinned by itself.",
        );
        if ui.button("Part left and right…").clicked() {
            super::legs::part_them(desk);
        }
    }
}

/// Pinches measured on the toile and not answered yet.
fn waiting(desk: &mut Desk, ui: &mut Ui) {
    let waiting = desk.document().pinned.clone();
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
            show_length(most, desk.unit())
        );
        if ui.button(words).clicked() {
            lay(desk, pinch);
        }
    }
}

/// Lays a pinch on the table, answered by the method that needs least.
fn lay(desk: &mut Desk, pinch: Pinch) {
    let [method, ..] = Method::all();
    let name = pinch.name.clone();
    desk.show_now();
    desk.cards.pinch.drawing = false;
    desk.cards.pinch.others = None;
    desk.set_draft(Some(Draft::new(&name, Change::Pinch(PinchChange { pinch, method }))));
}

/// A name that no change and no waiting pinch has: a second pinch of a line does
/// not answer the first.
fn free_name(desk: &Desk, name: &str) -> String {
    let document = desk.document();
    let taken = |n: &str| {
        document.pinned.iter().any(|p| p.name == n) || document.changes.iter().any(|e| e.name == n)
    };
    let numbered = (2..100).map(|n| format!("{name} {n}"));
    let mut names = std::iter::once(name.to_owned()).chain(numbered);
    names.find(|n| !taken(n)).unwrap_or_else(|| name.to_owned())
}

/// Lays a pinch straight across a piece.
pub(crate) fn lay_across(desk: &mut Desk, piece: &str, from: SeamPlace, to: SeamPlace) {
    let stations = vec![Station { at: StationPlace::Share(0.5), amount: USUAL }];
    let name = free_name(desk, &format!("{piece} pinch"));
    let path = PinchPath::Across { from, to };
    lay(desk, Pinch { name, piece: piece.to_owned(), path, stations });
}

/// A pinch between the middles of the two longest seams, to be set by typing.
fn between(desk: &mut Desk, piece: &Piece) {
    let mut seams: Vec<&Seam> = piece.seams.iter().collect();
    seams.sort_by(|a, b| b.sewn_length().total_cmp(&a.sewn_length()));
    if let [first, second, ..] = seams[..] {
        let middle = |s: &Seam| {
            let distance = (s.sewn_length() * 0.5).round();
            SeamPlace { seam: s.name.clone(), from: End::Start, distance }
        };
        lay_across(desk, &piece.name, middle(first), middle(second));
    }
}

/// Keeps the pinch in the project without answering it yet.
fn keep_waiting(desk: &mut Desk, pinch: &Pinch) {
    let pinch = pinch.clone();
    desk.set_draft(None);
    desk.edit(&format!("noting “{}”", pinch.name), |d| {
        d.pinned.retain(|p| p.name != pinch.name);
        d.pinned.push(pinch);
    });
}

fn work(desk: &mut Desk, ui: &mut Ui, change: PinchChange) {
    let Some(base) = desk.draft_base() else { return };
    let mut new = change.clone();
    super::legs::pinned_on(ui, &base, &mut new.pinch.piece);
    let on = legs_named(&base, &new.pinch.piece).pop().map(|on| on.1);
    let on = on.unwrap_or(std::borrow::Cow::Borrowed(&*base));
    name_row(desk, ui, &mut new, &on);
    pins::show(desk, ui, &mut new.pinch, &on);
    part(ui, "What flat paper can do with it");
    try_all(desk, &new, &base);
    methods(desk, ui, &mut new);
    parameters(desk, ui, &mut new.method);
    if new != change
        && let Some(draft) = desk.draft.clone()
    {
        let name = if new.pinch.name == change.pinch.name {
            draft.name.clone()
        } else {
            new.pinch.name.clone()
        };
        desk.set_draft(Some(Draft { change: Change::Pinch(new.clone()), name, ..draft }));
    }
    verdict(desk, ui, &new.method);
    ui.add_space(4.0);
    ui.horizontal(|ui| crate::canvas::accept_or_leave(desk, ui));
    let is_new = desk.draft.as_ref().is_some_and(|d| d.at.is_none());
    if is_new && ui.button("Only note what was pinned; answer it later").clicked() {
        keep_waiting(desk, &new.pinch);
    }
}

fn name_row(desk: &Desk, ui: &mut Ui, change: &mut PinchChange, base: &Pattern) {
    ui.horizontal(|ui| {
        ui.label("Called");
        let field = ui.add(egui::TextEdit::singleline(&mut change.pinch.name).desired_width(170.0));
        crate::length_field::name_field(ui, &field, "Name of the pinch");
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
                across_end(desk, ui, piece, words, place);
            }
        }
    }
}

/// One end of a path across a piece: its seam, the corner it is counted from, and
/// how far.
fn across_end(desk: &Desk, ui: &mut Ui, piece: &Piece, words: &str, place: &mut SeamPlace) {
    super::lines::seam_end(ui, words, piece, &mut place.seam, &mut place.from);
    let label = format!("Along it, {words}");
    crate::length_field::length_field(ui, &desk.palette, &label, &mut place.distance, desk.unit());
}

fn compute(change: &PinchChange, base: &Pattern) -> Tries {
    let Outcome { pattern, kept, changed, residue, notes } = change.apply(base)?;
    Ok((Arc::new(pattern), Effect { kept, changed, residue, notes }))
}

/// What the table shows already: the change being tried is computed once.
fn on_the_table(desk: &Desk, change: &PinchChange) -> Option<Tries> {
    let draft = desk.draft.as_ref()?;
    let at = draft.index_in(desk.document());
    let laid = &desk.replay.document().changes.get(at)?.change;
    if desk.dirty || *laid != Change::Pinch(change.clone()) {
        return None;
    }
    let state = desk.replay.states().get(at)?;
    match &state.applied {
        Applied::Done(effect) => Some(Ok((state.pattern.clone(), effect.clone()))),
        Applied::Failed(why) => Some(Err(why.clone())),
        Applied::Off => None,
    }
}

/// Tries all three methods when the pinch, the pattern or a parameter changed.
fn try_all(desk: &mut Desk, change: &PinchChange, base: &Arc<Pattern>) {
    let mut methods = desk.cards.pinch.others.clone().unwrap_or_else(Method::all);
    for method in &mut methods {
        if method.name() == change.method.name() {
            *method = change.method.clone();
        }
    }
    desk.cards.pinch.others = Some(methods.clone());
    let pulling = desk.cards.pinch.pulled.is_some();
    let same = |t: &Tried| {
        Arc::ptr_eq(&t.base, base)
            && t.pinch == change.pinch
            && t.methods == methods
            && (pulling || !t.others_wait)
    };
    if desk.cards.pinch.tried.as_ref().is_some_and(same) {
        return;
    }
    let on_the_table = on_the_table(desk, change);
    if pulling
        && let Some(tried) = &mut desk.cards.pinch.tried
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
    let old = desk
        .cards
        .pinch
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
    desk.cards.pinch.tried =
        Some(Tried { base, pinch, methods, outcomes, proposals, others_wait: false });
}

fn methods(desk: &mut Desk, ui: &mut Ui, change: &mut PinchChange) {
    let Some(tried) = desk.cards.pinch.tried.take() else { return };
    let palette = desk.palette;
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
                    let name = egui::RichText::new(crate::words::capital(method.name())).small();
                    let button = egui::Button::selectable(chosen, name);
                    if ui.add_sized(vec2(wide - 12.0, 26.0), button).clicked() {
                        change.method = method.clone();
                    }
                    ui.small(match (chosen, tried.others_wait) {
                        (true, _) => "on the table",
                        (false, false) => "look at it",
                        (false, true) => "waits for the pull",
                    });
                    small_picture(desk, ui, &tried, index, method);
                    numbers(desk, ui, &tried.outcomes[index]);
                });
            });
        }
    });
    desk.cards.pinch.tried = Some(tried);
}

fn small_picture(desk: &mut Desk, ui: &mut Ui, tried: &Tried, index: usize, method: &Method) {
    let words = format!("{} on the {}", method.name(), tried.pinch.piece);
    let palette = desk.palette;
    let (rect, painter) = picture::frame(ui, &palette, 132.0, &words);
    let old = desk.store.get(&tried.base, 0.25);
    let new = tried.outcomes[index].as_ref().ok().map(|o| desk.store.get(&o.0, 0.25));
    let piece = super::legs::drawn_piece(&tried.base, &tried.pinch.piece);
    picture::old_under_new(&painter, rect, &palette, &piece, &old, new.as_deref());
}

fn numbers(desk: &Desk, ui: &mut Ui, outcome: &Tries) {
    let palette = desk.palette;
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
                    super::effect::signed(most.change(), desk)
                ));
            }
            let open: f64 = outcome.residue.iter().map(|r| r.amount.abs()).fold(0.0, f64::max);
            ui.small(if open < 0.05 {
                "nothing left over".into()
            } else {
                format!("left over: up to {}", show_length(open, desk.unit()))
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

fn verdict(desk: &Desk, ui: &mut Ui, method: &Method) {
    let Some(tried) = &desk.cards.pinch.tried else { return };
    let at = tried.methods.iter().position(|m| m.name() == method.name());
    let Some(outcome) = at.and_then(|at| tried.outcomes.get(at)) else { return };
    part(ui, &format!("{} on the table", crate::words::capital(method.name())));
    let outcome = match outcome {
        Ok((_, outcome)) => outcome,
        Err(why) => return fault(desk, ui, &why.to_string()),
    };
    super::effect::show(desk, ui, outcome);
}

fn parameters(desk: &Desk, ui: &mut Ui, method: &mut Method) {
    let (palette, unit) = (desk.palette, desk.unit());
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
        Method::SlashAndLap(slash) => slash_parameters(desk, ui, slash),
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

fn slash_parameters(desk: &Desk, ui: &mut Ui, slash: &mut SlashAndLap) {
    ui.radio_value(&mut slash.second_cut, SecondCut::Least, "Second cut where it disturbs least");
    let proposals =
        desk.cards.pinch.tried.as_ref().map(|t| t.proposals.as_slice()).unwrap_or_default();
    for proposal in proposals {
        let words = format!(
            "{}: laps {}",
            crate::words::capital(&proposal.words.in_unit(desk.unit())),
            show_length(proposal.lap, desk.unit())
        );
        ui.radio_value(&mut slash.second_cut, proposal.second_cut.clone(), words)
            .on_hover_text(proposal.consequence.in_unit(desk.unit()));
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
            crate::length_field::name_field(ui, &drag, "Part of the pinch taken");
            if drag.changed() {
                *part = percent / 100.0;
            }
        }
    });
    ui.checkbox(&mut slash.keep_crotch, "Redraw the crotch seam to its old length");
}
