//! Two rounds laid over each other: what it cost round the body, and which corners, seams
//! and lines lie elsewhere, and which way.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::drop_down::{drop_down, pick};
use crate::kit::length_field::name_id;
use crate::kit::say::{aside, told};
use crate::kit::theme::bold;
use egui::{Label, RichText, Ui};
use hangtrue_adjust::{MOVED, TODAYS_PATTERN, costs, moved};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{InUnit, Length, capital};

/// Shows the choice of the two rounds.
pub(super) fn show(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let mut names: Vec<String> = vec!["start".into()];
    names.extend(board.document().rounds().map(|r| r.0.to_owned()));
    names.push(TODAYS_PATTERN.into());
    ui.separator();
    ui.label(bold("Compare"));
    let (mut old, mut new) =
        board.compared.clone().unwrap_or_else(|| ("start".into(), TODAYS_PATTERN.into()));
    let before = (old.clone(), new.clone());
    for (label, chosen) in [("older", &mut old), ("newer", &mut new)] {
        ui.horizontal_wrapped(|ui| {
            ui.label(label);
            let shown = drop_down(
                ui,
                egui::ComboBox::from_id_salt(label).selected_text(chosen.as_str()),
                |ui| {
                    for name in &names {
                        pick(ui, chosen, name.clone(), name);
                    }
                },
            );
            name_id(ui, shown.response.id, &format!("Compare {label}: {chosen}"));
        });
    }
    let is_on = board.compared.is_some();
    if is_on && before != (old.clone(), new.clone()) {
        requests.ask_for(Request::Compare(Some((old.clone(), new.clone()))));
    }
    if ui.button(if is_on { "Stop comparing" } else { "Lay over each other" }).clicked() {
        requests.turn_away();
        requests.ask_for(Request::Select(None));
        requests.ask_for(Request::Compare((!is_on).then_some((old, new))));
    }
    if is_on {
        distances(board, ui);
    }
}

/// What lies between the two rounds: what it cost round the body, and what moved which way.
fn distances(board: &Board, ui: &mut Ui) {
    let Ok(shown) = board.shown() else { return };
    let Some((old, _)) = &shown.old else { return };
    for cost in costs(old, &shown.new, board.document().body()) {
        told(board, ui, cost.words().in_unit(board.unit()), cost.takes_much());
    }
    let moved = moved(old, &shown.new);
    if moved.is_empty() {
        let words =
            words!["No corner or line moved, and no seam changed, by ", Length(MOVED), " or more."];
        return aside(board, ui, words.in_unit(board.unit()));
    }
    let mut piece = "";
    for one in &moved {
        if one.piece != piece {
            piece = &one.piece;
            ui.label(bold(capital(piece)));
        }
        ui.add(Label::new(RichText::new(one.words().in_unit(board.unit())).small()).wrap());
    }
    aside(
        board,
        ui,
        "Up and down are along the grain, towards the waist and the hem. Out is away from the middle of the piece, which becomes wider there; in is towards it.",
    );
}
