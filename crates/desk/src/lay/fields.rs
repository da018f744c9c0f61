//! What is chosen of the cloth and of what is cut of it, kept with the project.

use super::state::LayRoom;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::{bare_length_field, name_field, optional_length_field};
use crate::kit::number_field::{Number, number_field};
use crate::kit::say::{aside, part};
use egui::{Button, Ui};
use hangtrue_adjust::{CuttingPlan, Nap, Shrinkage};
use hangtrue_cut::{Cloth, choose_shrinkage, own_shrinkage};
use hangtrue_lay::{choose, chosen};

/// What each cloth is called on its button.
const CLOTHS: [(Cloth, &str); 4] = [
    (Cloth::Main, "Cloth"),
    (Cloth::Lining, "Lining"),
    (Cloth::Interfacing, "Interfacing"),
    (Cloth::Pocketing, "Pocketing"),
];

/// Which cloth is laid.
pub(super) fn which(own: &mut LayRoom, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        for (of, name) in CLOTHS {
            let button = ui.add(Button::selectable(own.of == of, name));
            name_field(ui, &button, &format!("Lay the {}", name.to_lowercase()));
            if button.clicked() && own.of != of {
                own.of = of;
                (own.chosen, own.held, own.fault) = (None, None, None);
            }
        }
    });
}

/// What a lay is looked for on: asked before it is looked for.
pub(super) fn width(own: &LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let before = chosen(board.document(), own.of);
    let mut cloth = before.clone();
    length(board, ui, "Width of the cloth", &mut cloth.width);
    ui.checkbox(&mut cloth.folded, "Folded along its middle, right sides together");
    if cloth != before {
        let of = own.of;
        requests.edit_on("the cloth", move |document| choose(document, of, cloth));
    }
}

/// What else there is to say of the cloth.
pub(super) fn cloth(own: &LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "The cloth");
    let before = chosen(board.document(), own.of);
    let mut cloth = before.clone();
    let mut one_way = cloth.nap == Nap::OneWay;
    ui.checkbox(&mut one_way, "One way up: nap, sheen, or a print with an up and a down");
    cloth.nap = if one_way { Nap::OneWay } else { Nap::BothWays };
    ui.horizontal_wrapped(|ui| {
        ui.label("Print repeats after");
        let (label, unit) = ("Print repeats after", board.unit());
        optional_length_field(ui, &board.palette, label, &mut cloth.repeat, unit, "not matched");
    });
    length(board, ui, "Free along a selvedge", &mut cloth.selvedge);
    length(board, ui, "Free between pieces", &mut cloth.apart);
    let washed = &mut cloth.washed;
    let most = Shrinkage::LIMITS.1;
    percent(board, ui, ("Washed first, it shrinks in length", 0.0..=most), &mut washed.lengthwise);
    percent(board, ui, ("Washed first, it shrinks in width", 0.0..=most), &mut washed.crosswise);
    if cloth != before {
        let of = own.of;
        requests.edit_on("the cloth", move |document| choose(document, of, cloth));
    }
}

/// What the cutting plan says of lining and interfacing, and of what the cloth that is laid
/// loses after it is cut.
pub(super) fn plan(own: &LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "What is cut");
    let before = &board.document().cutting;
    let mut plan = before.clone();
    ui.checkbox(&mut plan.lining, "Back and front in lining too");
    ui.checkbox(&mut plan.interfacing, "Waist pieces in interfacing too");
    shrinking(own, board, ui, &mut plan);
    if plan != *before {
        requests.edit_on("what is cut", move |document| document.cutting = plan);
    }
}

/// The loss the pieces of the cloth are cut for: a pair of its own for each cloth.
fn shrinking(own: &LayRoom, board: &Board, ui: &mut Ui, plan: &mut CuttingPlan) {
    let mut chosen = own_shrinkage(&plan.own_shrinkage, own.of);
    if own.of != Cloth::Main {
        let mut alike = chosen.is_none();
        let words = format!("Cut the {} for the same shrinking as the cloth", own.of.word());
        ui.checkbox(&mut alike, words);
        chosen = (!alike).then(|| chosen.unwrap_or(plan.shrinkage));
    }
    let mut loss = chosen.unwrap_or(plan.shrinkage);
    if own.of == Cloth::Main || chosen.is_some() {
        let (least, most) = Shrinkage::LIMITS;
        percent(board, ui, ("Cut for shrinking in length", least..=most), &mut loss.lengthwise);
        percent(board, ui, ("Cut for shrinking in width", least..=most), &mut loss.crosswise);
        chosen = Some(loss);
    } else if !loss.is_none() {
        aside(board, ui, format!("The {} is cut for cloth that {}.", own.of.word(), loss.told()));
    }
    choose_shrinkage(plan, own.of, chosen);
    aside(
        board,
        ui,
        "What a cloth loses after it is cut makes its pieces larger, a number below 0 smaller, for cloth that stretches. The fitted pattern stays as it is.",
    );
}

fn length(board: &Board, ui: &mut Ui, label: &str, value: &mut f64) {
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        bare_length_field(ui, &board.palette, label, value, board.unit());
    });
}

fn percent(
    board: &Board,
    ui: &mut Ui,
    (label, limits): (&str, std::ops::RangeInclusive<f64>),
    value: &mut f64,
) {
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        let number = Number { label, limits, step: 0.5, unit: " %", decimals: 1 };
        number_field(ui, &board.palette, &number, value);
    });
}
