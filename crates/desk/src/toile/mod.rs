//! The toile on the body: its photos, what is marked on them, and how its lines
//! hang.

mod doubts;
mod list;
mod mark;
mod overlay;
mod pair;
mod pair_card;
mod pair_table;
mod photo_table;
mod photos;
mod readings;
pub(crate) mod state;
pub(crate) mod take_in;

use crate::board::Board;
use crate::board::requests::Requests;
use crate::board::stage::Stage;
use egui::Ui;
use state::{Toile, photo_of};

/// Shows the card.
pub(crate) fn show(own: &mut Toile, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    match own.open.as_ref().and_then(|file| photo_of(board, file)) {
        Some(photo) => mark::show(own, board, requests, ui, &photo),
        None => {
            own.open = None;
            list::show(own, board, requests, ui);
            pair_card::show(own, board, requests, ui);
        }
    }
}

/// Whether a photo, or two, lie in place of the table.
pub(crate) fn lies_on_table(own: &Toile, board: &Board) -> bool {
    board.stage == Stage::Toile && (own.open.is_some() || own.pair.both().is_some())
}

/// Shows a photo, or two, in place of the table; false when none is to be shown.
pub(crate) fn show_on_table(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) -> bool {
    board.stage == Stage::Toile
        && (photo_table::show(own, board, requests, ui) || pair_table::show(own, board, ui))
}
