//! Print: what is cut. Allowances, the finish of the waist, what opens the trousers, pockets.

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::choice::one_of;
use crate::kit::length_field::bare_length_field;
use egui::Ui;
use hangtrue_adjust::{
    AllowanceSet, BackPocket, Closure, CuttingPlan, FrontPocket, Pockets, UsualCut, WaistFinish,
};

/// The set of allowances, the finish of the waist, opening and pockets, kept with the project.
pub(super) fn choose_cutting(board: &Board, requests: &mut Requests, ui: &mut Ui) -> CuttingPlan {
    let chosen = &board.document().cutting;
    let mut plan = chosen.clone();
    let name = |set: Option<AllowanceSet>| set.map_or("my own, below", AllowanceSet::name);
    let sets = std::iter::once(None).chain(AllowanceSet::ALL.map(Some));
    let sets: Vec<_> = sets.map(|set| (set, name(set))).collect();
    one_of(ui, "Allowances", &mut plan.set, &sets);
    let finishes = WaistFinish::choices(plan.closure, board.unit());
    one_of(ui, "Waist finish", &mut plan.waist, &finishes);
    let closures = Closure::ALL.map(|closure| (closure, closure.name()));
    let mut closure = plan.closure;
    one_of(ui, "Opened by", &mut closure, &closures);
    plan.open_by(closure);
    opening(board, ui, &mut plan);
    pockets(board, ui, &mut plan.pockets);
    plan.waist = plan.waist.opened(plan.closure, board.unit());
    if plan != *chosen {
        let plan = plan.clone();
        requests.edit_on("what is cut", move |d| d.cutting = plan);
    }
    plan
}

/// How a fly or zip is cut.
fn opening(board: &Board, ui: &mut Ui, plan: &mut CuttingPlan) {
    let usual = UsualCut::of(board.unit());
    let (choices, long, wide) = match plan.closure {
        Closure::None => return,
        Closure::Fly { .. } => {
            let choices = [(false, "a piece of its own"), (true, "cut on to the front")];
            (("Fly facing", choices), usual.fly, ("Width of the facing", usual.fly_facing))
        }
        Closure::SideZip { .. } | Closure::BackZip => {
            let choices = [(false, "plain allowance"), (true, "wide allowance")];
            (("At the zip", choices), usual.zip, ("Wide allowance", usual.zip_allowance))
        }
    };
    one_of(ui, choices.0, &mut plan.opening.cut_on, &choices.1);
    length(board, ui, "Opens below the waist by", &mut plan.opening.length, long);
    if plan.opening.cut_on || matches!(plan.closure, Closure::Fly { .. }) {
        length(board, ui, wide.0, &mut plan.opening.width, wide.1);
    }
}

/// The pockets and their places.
fn pockets(board: &Board, ui: &mut Ui, pockets: &mut Pockets) {
    let (mut front, mut back) = (pockets.front, pockets.back);
    one_of(ui, "Front pocket", &mut front, &FrontPocket::ALL.map(|kind| (kind, kind.name())));
    pockets.choose_front(front);
    let usual = front.usual(board.unit());
    let (along, down) = match front {
        FrontPocket::SideSeam => ("Begins below the waist by", "Is open along the side for"),
        _ => ("Opening along the waist", "Opening down the side"),
    };
    if front != FrontPocket::None {
        length(board, ui, along, &mut pockets.front_along, usual.along);
        length(board, ui, down, &mut pockets.front_down, usual.down);
    }
    one_of(ui, "Back pocket", &mut back, &BackPocket::ALL.map(|kind| (kind, kind.name())));
    pockets.choose_back(back);
    let usual = back.usual(board.unit());
    if back != BackPocket::None {
        length(board, ui, "Width of the back pocket", &mut pockets.back_wide, usual.wide);
        length(board, ui, "Back pocket below the waist", &mut pockets.back_below, usual.below);
        length(board, ui, "Depth of the back pocket", &mut pockets.back_deep, usual.deep);
        let edge =
            if back == BackPocket::Patch { "Hem of the patch" } else { "Height of the welt" };
        length(board, ui, edge, &mut pockets.back_edge, usual.edge);
    }
}

/// A length that is the usual one until another is written.
pub(super) fn length(
    board: &Board,
    ui: &mut Ui,
    label: &str,
    chosen: &mut Option<f64>,
    usual: f64,
) {
    let mut value = chosen.unwrap_or(usual);
    ui.horizontal_wrapped(|ui| {
        ui.label(label);
        if bare_length_field(ui, &board.palette, label, &mut value, board.unit()) {
            *chosen = Some(value);
        }
    });
}
