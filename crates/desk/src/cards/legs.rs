//! Left and right apart, and together again: for a body that is not the same on
//! both sides.

use super::correct::verdict;
use super::{aside, part};
use crate::desk::desk::Desk;
use crate::board::draft::Draft;
use crate::kit::length_field::length_field;
use egui::Ui;
use hangtrue_adjust::{Change, JoinLegs, PartLegs};
use hangtrue_pattern::{Leg, Pattern};

/// Offers to part the legs, or to put them together again.
pub(super) fn offer(desk: &mut Desk, ui: &mut Ui) {
    part(ui, "A body that is uneven");
    let apart = desk.replay.current().is_ok_and(|p| p.is_apart());
    if apart {
        ui.label("Left and right have pieces of their own.");
        if ui.button("Put left and right together…").clicked() {
            lay(desk, Change::JoinLegs(JoinLegs::default()));
        }
    } else {
        ui.label("Left and right share a piece: a change goes to both legs.");
        if ui.button("Part left and right…").clicked() {
            part_them(desk);
        }
    }
}

/// Lays the parting of the legs on the table.
pub(super) fn part_them(desk: &mut Desk) {
    lay(desk, Change::PartLegs(PartLegs));
}

fn lay(desk: &mut Desk, change: Change) {
    let name = change.words(desk.unit()).to_lowercase();
    desk.show_now();
    desk.go_to(crate::board::stage::Stage::Correct);
    desk.set_draft(Some(Draft::new(&name, change)));
}

/// On which leg a change is made; nothing to choose while the legs share a piece.
pub(super) fn choice(desk: &Desk, ui: &mut Ui, leg: &mut Option<Leg>) {
    if !desk.draft_base().is_some_and(|p| p.is_apart()) {
        *leg = None;
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("On");
        for (choice, words) in LEGS {
            ui.radio_value(leg, choice, words);
        }
    });
}

/// The name a piece had before the parting.
pub(super) fn undivided(pattern: &Pattern, piece: &str) -> String {
    let parted = pattern.piece(piece).ok().and_then(|p| p.parted.as_ref());
    parted.map_or_else(|| piece.to_owned(), |p| p.from.clone())
}

/// The piece on the table where what concerns `piece` is drawn: itself, or that of
/// the right leg when it names both.
pub(crate) fn drawn_piece(pattern: &Pattern, piece: &str) -> String {
    let right = || pattern.piece_for(Leg::Right, piece).map(ToOwned::to_owned);
    pattern.piece(piece).ok().map(|p| p.name.clone()).or_else(right).unwrap_or_else(|| piece.into())
}

/// On which leg a pinch was pinned: names its piece so.
pub(super) fn pinned_on(ui: &mut Ui, pattern: &Pattern, piece: &mut String) {
    if !pattern.is_apart() {
        return;
    }
    let both = undivided(pattern, piece);
    ui.horizontal_wrapped(|ui| {
        ui.label("Pinned on");
        for (leg, words) in LEGS {
            let named = match leg {
                None => Some(both.as_str()),
                Some(leg) => pattern.piece_for(leg, &both),
            };
            if let Some(named) = named
                && ui.radio(piece.as_str() == named, words).clicked()
            {
                named.clone_into(piece);
            }
        }
    });
}

/// A pinch on one leg as a pinch of that leg's piece, which its card knows.
pub(crate) fn named_on_leg(pattern: &Pattern, change: Change) -> Change {
    if let (Some(leg), Change::Pinch(pinch)) = (change.leg(), change.plain())
        && let Some(piece) = pattern.piece_for(leg, &pinch.pinch.piece)
    {
        let mut pinch = pinch.clone();
        piece.clone_into(&mut pinch.pinch.piece);
        return Change::Pinch(pinch);
    }
    change
}

/// The legs a change can be made on.
const LEGS: [(Option<Leg>, &str); 3] =
    [(None, "both legs"), (Some(Leg::Left), "the left leg"), (Some(Leg::Right), "the right leg")];

/// The parting on the table.
pub(super) fn parting(desk: &mut Desk, ui: &mut Ui) {
    let words = "Every piece gets a left and a right of its own. Nothing moves: what you change afterwards can be changed on one leg or on both.";
    ui.add(egui::Label::new(words).wrap());
    ways_out(desk, ui);
}

/// The joining on the table: which leg serves both.
pub(super) fn joining(desk: &mut Desk, ui: &mut Ui, old: JoinLegs) {
    let mut new = old;
    ui.label("Which leg serves both?");
    ui.radio_value(&mut new.from, None, "Either, if they are the same");
    for leg in Leg::BOTH {
        let words = format!("The {} one; what the other has of its own is given up", leg.word());
        ui.radio_value(&mut new.from, Some(leg), words);
    }
    let (palette, unit) = (desk.palette, desk.unit());
    length_field(ui, &palette, "The same when within", &mut new.within, unit);
    if new != old
        && let Some(draft) = desk.draft.clone()
    {
        desk.set_draft(Some(Draft { change: Change::JoinLegs(new), ..draft }));
    }
    ways_out(desk, ui);
}

fn ways_out(desk: &mut Desk, ui: &mut Ui) {
    ui.add_space(4.0);
    ui.horizontal(|ui| crate::table::accept_or_leave(desk, ui));
    ui.add_space(4.0);
    verdict(desk, ui);
    aside(
        desk,
        ui,
        "Parting and joining are changes like any other: switch them off, and the pattern is as if they had never been made.",
    );
}
