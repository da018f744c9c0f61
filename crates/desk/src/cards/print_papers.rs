//! Print: papers for people beside the sheets: the order of sewing, and handouts.

use super::print::{OrdersOf, write};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::choice::one_of;
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use egui::{CollapsingHeader, Label, Ui};
use hangtrue_adjust::{OPEN_ROUND, Usual};
use hangtrue_cut::{CutSet, ORDER_SOURCE, SewnAs, pieces_to_cut};
use hangtrue_files::print::people::sewing_sheet;
use hangtrue_files::print::{DrawOptions, Paper, Reduced, TileOptions, fitting_label, handout};
use hangtrue_pattern::words::InUnit;
use std::path::Path;

/// What is chosen.
pub(super) struct Papers {
    /// None: as the allowances are chosen.
    sewn_as: Option<SewnAs>,
    reduced: Reduced,
}

impl Default for Papers {
    fn default() -> Self {
        Self { sewn_as: None, reduced: Reduced::Half }
    }
}

/// The order of sewing: folded out it is read at the machine.
pub(super) fn sewing(
    own: &mut Papers,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    orders: &OrdersOf,
) {
    part(ui, "The order of sewing");
    let mut sewn_as = own.sewn_as.unwrap_or_else(|| SewnAs::of(board.document()));
    let before = sewn_as;
    one_of(ui, "Sewn as", &mut sewn_as, &SewnAs::ALL.map(|one| (one, one.name())));
    if sewn_as != before {
        own.sewn_as = Some(sewn_as);
    }
    let Some(order) = orders.iter().find(|order| order.sewn_as == sewn_as) else { return };
    CollapsingHeader::new(format!("{} steps", order.steps.len())).id_salt("steps").show(ui, |ui| {
        for (index, step) in order.steps.iter().enumerate() {
            ui.add(Label::new(bold(format!("{}  {}", index + 1, step.title))).wrap());
            if !step.pieces.is_empty() {
                aside(board, ui, step.pieces.join(", "));
            }
            ui.add(Label::new(step.words.in_unit(board.unit())).wrap());
            if let Some(care) = &step.care {
                ui.add(Label::new(bold(care.as_str()).color(board.palette.madder)).wrap());
            }
        }
        aside(board, ui, ORDER_SOURCE);
    });
    if ui.button("Save the sewing sheet as PDF…").clicked() {
        requests.ask(Asked::SaveSewing(sewn_as));
    }
}

/// The pieces smaller, for a class or a book.
pub(super) fn handouts(own: &mut Papers, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Handouts, not for cutting");
    let words = "The pieces smaller, on the same paper, to be read and drawn on. Every sheet says so, and has a bar to measure. A whole class is printed from the menu Files.";
    aside(board, ui, words);
    one_of(ui, "Handout at", &mut own.reduced, &Reduced::ALL.map(|one| (one, one.name())));
    if ui.button("Save the handout as PDF…").clicked() {
        requests.ask(Asked::SaveHandout(own.reduced));
    }
}

fn set_of(board: &Board) -> Result<CutSet, String> {
    let pattern = board.replay.current().map_err(|why| why.in_unit(board.unit()))?;
    pieces_to_cut(pattern, board.document()).map_err(|why| why.in_unit(board.unit()))
}

/// Writes the sewing sheet; gives what is told of it.
pub(crate) fn save_sewing(board: &Board, sewn_as: SewnAs, path: &Path) -> Result<String, String> {
    let sheet = sewing_sheet(board.document(), &set_of(board)?, sewn_as, &board.today);
    write(path, &sheet.map_err(|e| e.in_unit(board.unit()))?)
}

/// Writes the pieces at half or quarter scale; gives what is told of it.
pub(crate) fn save_handout(board: &Board, reduced: Reduced, path: &Path) -> Result<String, String> {
    let (document, unit) = (board.document(), board.unit());
    let set = set_of(board)?;
    let (printing, usual) = (&document.printing, Usual::of(unit));
    let roll = printing.roll.unwrap_or(usual.roll);
    let paper = Paper::of(printing.paper.unwrap_or(usual.paper), roll);
    let tiles = TileOptions {
        margin: printing.margin.unwrap_or(usual.margin),
        overlap: printing.overlap.unwrap_or(usual.overlap),
        unit,
    };
    let draw = DrawOptions {
        unit,
        set: Some(&set),
        label: fitting_label(document, OPEN_ROUND, &board.today),
        ..DrawOptions::default()
    };
    let made = handout((&set.pattern, &draw), reduced, paper, &tiles, &document.title);
    let made = made.map_err(|e| e.in_unit(unit))?;
    let told = write(path, &made.pdf)?;
    let sheets = match made.grid.sheets() {
        1 => "one sheet".to_owned(),
        count => format!("{count} sheets"),
    };
    Ok(format!("{sheets} at {}, not for cutting, {told}", reduced.name()))
}
