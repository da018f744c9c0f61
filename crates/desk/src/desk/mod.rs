//! The desk itself: it holds the board and every room's own state, and is the only
//! room that changes the board, by applying requests.

mod apply;
mod at_desks;
mod files;
mod keys;
mod looked;
pub(crate) mod open;
mod outside;
pub(crate) mod recovery;
mod show;
pub(crate) mod state;
