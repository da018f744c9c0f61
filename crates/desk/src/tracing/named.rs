//! The digitised piece by the names the maker gives it.

use crate::kit::sheet::Sheets;
use hangtrue_files::photo::{Doubt, Traced};

/// The piece by the names given, made ready for drawing.
#[derive(Default)]
pub(super) struct Take {
    pub named: Option<Named>,
    pub replace: bool,
    /// The doubtful places that the maker looked at and found right.
    pub looked_at: Vec<Doubt>,
}

/// What was named, and what came of it.
pub(super) struct Named {
    pub piece: String,
    pub seams: Vec<String>,
    pub result: Result<(Traced, Sheets), String>,
}
