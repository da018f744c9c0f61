//! The cards at the right: one for each stage.

mod as_sewn;
mod block;
mod body;
pub(crate) mod correct;
mod effect;
mod hanging;
pub(crate) mod legs;
mod lines;
mod notes;
mod pencil;
pub(crate) mod pinch;
mod pins;
pub(crate) mod print;
mod reading;
pub(crate) mod toile;
mod walk;

use crate::desk::Desk;
use crate::stage::Stage;
use egui::{ScrollArea, Ui};
use hangtrue_adjust::{Applied, Change};
use hangtrue_pattern::words::InUnit;

/// What the cards keep between two pictures.
#[derive(Default)]
pub(crate) struct Cards {
    pub as_sewn: as_sewn::AsSewnCard,
    pub body: body::BodyCard,
    pub correct: correct::CorrectCard,
    pub form: pencil::PencilForm,
    pub hanging: hanging::HangingCard,
    pub lines: lines::LinesCard,
    pub notes: notes::NotesCard,
    pub pencil: crate::pencil::Pencil,
    pub pinch: pinch::PinchCard,
    pub print: print::PrintCard,
    pub reading: reading::ReadingCard,
    pub toile: toile::ToileCard,
    pub walk: walk::WalkCard,
}

/// Draws a card and takes what is done to it.
type Draw = fn(&mut Desk, &mut Ui);

/// Every card and the stage it is shown at; two cards of one stage stand below
/// each other. A new card is a file of its own and one line here.
const CARDS: [(Stage, Draw); 11] = [
    (Stage::Body, body::show),
    (Stage::Block, block::show),
    (Stage::Lines, lines::show),
    (Stage::AsSewn, as_sewn::show),
    (Stage::Toile, toile::show),
    (Stage::Toile, reading::show),
    (Stage::Toile, notes::show),
    (Stage::Pinch, pinch::show),
    (Stage::Correct, correct::show),
    (Stage::Walk, walk::show),
    (Stage::Print, print::show),
];

/// The stage where a change is made and edited again.
pub(crate) fn stage_of(change: &Change) -> Stage {
    match change.plain() {
        Change::MarkLine(_) | Change::EraseLine(_) => Stage::Lines,
        Change::Pinch(_) => Stage::Pinch,
        Change::Correct(_) | Change::PartLegs(_) | Change::JoinLegs(_) => Stage::Correct,
        Change::Draw(_) => Stage::Block,
        _ => Stage::Walk,
    }
}

/// Shows the cards of the stage turned to.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    ui.heading(desk.stage.name());
    ui.add(
        egui::Label::new(egui::RichText::new(desk.stage.to_do()).color(desk.palette.text_soft))
            .wrap(),
    );
    ui.add_space(4.0);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        let stage = desk.stage;
        for (_, draw) in CARDS.iter().filter(|c| c.0 == stage) {
            draw(desk, ui);
            // A photo that is being marked has the card to itself: what its lines
            // may mean is worked out when it is marked.
            if stage == Stage::Toile && desk.cards.toile.open.is_some() {
                break;
            }
        }
        ui.add_space(30.0);
    });
}

/// What happens when a stage is turned to.
pub(crate) fn turned_to(desk: &mut Desk, from: Stage, stage: Stage) {
    let belongs = desk.draft.as_ref().is_none_or(|d| {
        let own = stage_of(&d.change);
        // A line and a pinch being tried may be read as sewn before they are accepted.
        let read =
            stage == Stage::AsSewn && matches!(own, Stage::Lines | Stage::Pinch | Stage::Correct);
        own == stage || read
    });
    if !belongs && let Some(draft) = desk.draft.clone() {
        desk.set_draft(None);
        desk.tell_fault(format!("“{}” was left, because it was not accepted.", draft.name));
    }
    if (from == Stage::Print) != (stage == Stage::Print) {
        desk.fit_wanted = true;
    }
}

/// Why the change being tried cannot be accepted, if it cannot.
pub(crate) fn draft_fault(desk: &Desk) -> Option<String> {
    let draft = desk.draft.as_ref()?;
    let at = draft.index_in(desk.document());
    match desk.replay.states().get(at).map(|s| &s.applied) {
        Some(Applied::Failed(why)) => Some(why.in_unit(desk.unit())),
        _ => None,
    }
}

/// A fault in words, where it happened.
pub(crate) fn fault(desk: &Desk, ui: &mut Ui, why: &str) {
    let palette = desk.palette;
    egui::Frame::new()
        .stroke(egui::Stroke::new(1.5, palette.ochre))
        .inner_margin(8.0)
        .corner_radius(5.0)
        .show(ui, |ui| {
            ui.colored_label(palette.ochre, crate::theme::bold("Not possible like this"));
            ui.add(egui::Label::new(why.in_unit(desk.unit())).wrap());
        });
}

/// A soft line of words.
pub(crate) fn aside(desk: &Desk, ui: &mut Ui, words: impl Into<String>) {
    let words = egui::RichText::new(words).color(desk.palette.text_soft).small();
    ui.add(egui::Label::new(words).wrap());
}

/// A heading within a card.
pub(crate) fn part(ui: &mut Ui, words: &str) {
    ui.add_space(6.0);
    ui.label(crate::theme::bold(words));
}

/// A row of words and, at the right, what they come to.
pub(crate) fn row(ui: &mut Ui, words: &str, value: &str) {
    let wide = ui.available_width();
    ui.horizontal_top(|ui| {
        ui.allocate_ui(egui::vec2(wide * 0.66, 0.0), |ui| {
            ui.set_width(wide * 0.66);
            ui.add(egui::Label::new(egui::RichText::new(words).small()).wrap());
        });
        ui.small(value);
    });
}

/// A stitched tick, or a cross, before a word that says the same.
pub(crate) fn mark(ui: &mut Ui, good: bool, colour: egui::Color32) {
    let size = ui.text_style_height(&egui::TextStyle::Body) * 0.7;
    let (rect, _) = ui.allocate_exact_size(egui::vec2(size, size), egui::Sense::hover());
    let pen = egui::Stroke::new(2.2, colour);
    let at = |x: f32, y: f32| rect.min + egui::vec2(x, y) * size;
    if good {
        let tick = vec![at(0.05, 0.55), at(0.38, 0.9), at(0.95, 0.1)];
        ui.painter().add(egui::Shape::line(tick, pen));
    } else {
        ui.painter().line_segment([at(0.1, 0.1), at(0.9, 0.9)], pen);
        ui.painter().line_segment([at(0.9, 0.1), at(0.1, 0.9)], pen);
    }
}
