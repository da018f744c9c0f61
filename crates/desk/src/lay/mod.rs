//! The lay plan: the pieces on the cloth in place of the cutting table, found beside the
//! desk and moved by hand.

mod card;
mod fields;
pub(crate) mod state;
mod table;
mod work;

pub(crate) use card::{invite, show};
pub(crate) use state::plan_of;
pub(crate) use table::show_on_table;

use crate::board::Board;
use crate::board::stage::Stage;
use state::LayRoom;

/// Whether the cloth lies in place of the table.
pub(crate) fn lies_on_table(own: &LayRoom, board: &Board) -> bool {
    own.open && board.stage == Stage::Print
}
