//! Work that is in no file of its own yet, as text: what a desk keeps beside it, so that a
//! crash loses nothing.

use super::{Held, ProjectError, strictly};
use crate::ron_text;
use hangtrue_adjust::Document;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// A project that was not saved, and the file it belongs to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Unsaved {
    /// The file it belongs to, as older versions named it: not always by its whole
    /// place, so nothing is saved there unasked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<PathBuf>,
    /// The file it belongs to, if it had one, and what that held.
    #[serde(default)]
    pub held: Option<Held>,
    /// The project.
    pub document: Document,
}

impl Unsaved {
    /// Work on that project, held in its file or in none.
    pub fn new(document: Document, held: Option<Held>) -> Self {
        Self { file: None, held, document }
    }

    /// Where it says that it belongs.
    pub fn place(&self) -> Option<&Path> {
        self.held.as_ref().map(Held::file).or(self.file.as_deref())
    }

    /// As text.
    ///
    /// # Errors
    /// [`ProjectError::Unwritable`].
    pub fn to_text(&self) -> Result<String, ProjectError> {
        ron_text::written(self).map_err(|e| ProjectError::Unwritable { why: e.to_string() })
    }

    /// Reads such text; `name` is used in messages.
    ///
    /// # Errors
    /// [`ProjectError`] with the place of the fault.
    pub fn from_text(text: &str, name: &str) -> Result<Self, ProjectError> {
        strictly(text, name)
    }
}
