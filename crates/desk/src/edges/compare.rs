//! Two rounds laid over each other, and how far their corners lie apart.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::drop_down::{drop_down, pick};
use crate::kit::length_field::name_id;
use crate::kit::say::told;
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::{TODAYS_PATTERN, costs};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;

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

/// What lies between the two rounds: what it cost round the body, and how far each
/// corner moved.
fn distances(board: &Board, ui: &mut Ui) {
    let Ok(shown) = board.shown() else { return };
    let Some((old, _)) = &shown.old else { return };
    for cost in costs(old, &shown.new, board.document().body()) {
        told(board, ui, cost.words().in_unit(board.unit()), cost.takes_much());
    }
    for piece in &shown.new.pieces {
        let Ok(was) = old.piece(&piece.name) else { continue };
        for (name, at) in piece.corners() {
            if let Ok(before) = was.corner(name)
                && before.distance(at) > 0.05
            {
                let far = show_length(before.distance(at), board.unit());
                ui.small(format!("{}, {name}: {far}", piece.name));
            }
        }
    }
}
