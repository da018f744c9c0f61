//! What is shared and read by all.

pub(crate) mod draft;
pub(crate) mod history;
pub(crate) mod lay;
pub(crate) mod settings;
pub(crate) mod stage;
