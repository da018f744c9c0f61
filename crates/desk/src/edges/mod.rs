//! What lies round the table: the ribbon, the list of the round, small windows.

mod closing;
mod compare;
mod files_menu;
pub(crate) mod help;
mod keys;
pub(crate) mod list;
pub(crate) mod ribbon;
pub(crate) mod told;
