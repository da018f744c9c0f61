//! The digitised piece by the names the maker gives it.

use crate::kit::sheet::Sheets;
use hangtrue_files::photo::Traced;

/// The piece by the names given, made ready for drawing.
#[derive(Default)]
pub(super) struct Take {
    pub named: Option<Named>,
    pub replace: bool,
}

/// What was named, and what came of it.
pub(super) struct Named {
    pub piece: String,
    pub seams: Vec<String>,
    pub result: Result<(Traced, Sheets), String>,
}
