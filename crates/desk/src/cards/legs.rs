//! Left and right apart, and together again: for a body that is not the same on
//! both sides.

use super::effect;
use crate::board::Board;
use crate::board::legs::undivided;
use crate::board::requests::Requests;
use crate::board::trial::Trial;
use crate::kit::length_field::length_field;
use crate::kit::say::{aside, part};
use crate::table::ways_out::accept_or_leave;
use egui::Ui;
use hangtrue_adjust::{Change, JoinLegs, PartLegs};
use hangtrue_pattern::{Leg, Pattern};

/// Offers to part the legs, or to put them together again.
pub(super) fn offer(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "A body that is uneven");
    let apart = board.replay.current().is_ok_and(|p| p.is_apart());
    if apart {
        ui.label("Left and right have pieces of their own.");
        if ui.button("Put left and right together…").clicked() {
            lay(board, requests, Change::JoinLegs(JoinLegs::default()));
        }
    } else {
        ui.label("Left and right share a piece: a change goes to both legs.");
        if ui.button("Part left and right…").clicked() {
            part_them(board, requests);
        }
    }
}

/// Lays the parting of the legs on the table.
pub(super) fn part_them(board: &Board, requests: &mut Requests) {
    lay(board, requests, Change::PartLegs(PartLegs));
}

fn lay(board: &Board, requests: &mut Requests, change: Change) {
    let name = change.words(board.unit()).to_lowercase();
    requests.show_now();
    requests.go_to(crate::board::stage::Stage::Correct);
    requests.begin(Trial::new(&name, change));
}

/// On which leg a change is made; nothing to choose while the legs share a piece.
pub(super) fn choice(board: &Board, ui: &mut Ui, leg: &mut Option<Leg>) {
    if !board.trial_base().is_some_and(|p| p.is_apart()) {
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

/// The legs a change can be made on.
const LEGS: [(Option<Leg>, &str); 3] =
    [(None, "both legs"), (Some(Leg::Left), "the left leg"), (Some(Leg::Right), "the right leg")];

/// The parting on the table.
pub(super) fn parting(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let words = "Every piece gets a left and a right of its own. Nothing moves: what you change afterwards can be changed on one leg or on both.";
    ui.add(egui::Label::new(words).wrap());
    ways_out(board, requests, ui);
}

/// The joining on the table: which leg serves both.
pub(super) fn joining(board: &Board, requests: &mut Requests, ui: &mut Ui, old: JoinLegs) {
    let mut new = old;
    ui.label("Which leg serves both?");
    ui.radio_value(&mut new.from, None, "Either, if they are the same");
    for leg in Leg::BOTH {
        let words = format!("The {} one; what the other has of its own is given up", leg.word());
        ui.radio_value(&mut new.from, Some(leg), words);
    }
    let (palette, unit) = (board.palette, board.unit());
    length_field(ui, &palette, "The same when within", &mut new.within, unit);
    if new != old
        && let Some(trial) = &board.trial
    {
        requests.try_out(trial.with(Change::JoinLegs(new)));
    }
    ways_out(board, requests, ui);
}

fn ways_out(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
    ui.add_space(4.0);
    effect::of_trial(board, ui);
    aside(
        board,
        ui,
        "Parting and putting together are changes like any other: switch them off, and the pattern is as if they had never been made.",
    );
}
