//! How the toile will hang, before anything is cut: settled beside the desk, and shown on
//! the body from every side in place of the cutting table.

mod body_fields;
mod card;
mod lines;
pub(crate) mod state;
mod table;
pub(crate) mod weighing;
mod work;

pub(crate) use card::{invite, show, work_out_here};
pub(crate) use table::show_on_table;
pub(crate) use work::go_on;

use crate::board::Board;
use state::Hang;

/// Whether the toile lies in place of the table.
pub(crate) fn lies_on_table(own: &Hang, board: &Board) -> bool {
    own.lies_on_table(board)
}
