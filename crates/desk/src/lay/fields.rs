//! What is chosen of the cloth and of what is cut of it, kept with the project.

use super::state::LayRoom;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::{bare_length_field, name_field, optional_length_field};
use crate::kit::number_field::{Number, number_field};
use crate::kit::say::{aside, part};
use egui::{Button, Ui};
use hangtrue_adjust::{Nap, Shrinkage};
use hangtrue_cut::Cloth;
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

/// The cloth.
pub(super) fn cloth(own: &LayRoom, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "The cloth");
    let before = chosen(board.document(), own.of);
    let mut cloth = before.clone();
    length(board, ui, "Width of the cloth", &mut cloth.width);
    ui.checkbox(&mut cloth.folded, "Folded along its middle, right sides together");
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

/// What the cutting plan says of lining, interfacing and shrinkage.
pub(super) fn plan(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "What is cut");
    let before = &board.document().cutting;
    let mut plan = before.clone();
    ui.checkbox(&mut plan.lining, "Back and front in lining too");
    ui.checkbox(&mut plan.interfacing, "Waist pieces in interfacing too");
    let (least, most) = Shrinkage::LIMITS;
    let shrinks = &mut plan.shrinkage;
    percent(board, ui, ("Cut for shrinking in length", least..=most), &mut shrinks.lengthwise);
    percent(board, ui, ("Cut for shrinking in width", least..=most), &mut shrinks.crosswise);
    aside(
        board,
        ui,
        "What the cloth loses after it is cut makes the pieces larger, a number below 0 smaller, for cloth that stretches. The fitted pattern stays as it is.",
    );
    if plan != *before {
        requests.edit_on("what is cut", move |document| document.cutting = plan);
    }
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
