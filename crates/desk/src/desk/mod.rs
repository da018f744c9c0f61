//! The desk itself: it holds the board and every room's own state, and is the only
//! place that changes the board, by applying requests.

pub(crate) mod desk;
pub(crate) mod files;
pub(crate) mod keys;
pub(crate) mod open;
pub(crate) mod recovery;
