//! What lies round the table: the ribbon, the list of the round, small windows.

pub(crate) mod files_menu;
pub(crate) mod help;
pub(crate) mod keys;
pub(crate) mod list;
pub(crate) mod ribbon;
