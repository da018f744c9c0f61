//! How the project stands in its file: where it lies, and what of it is saved.

use hangtrue_adjust::Document;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The file of the project, and the project as it lies there.
pub(crate) struct Filed {
    path: Option<PathBuf>,
    saved: Option<Arc<Document>>,
}

impl Filed {
    /// A project that was just read from a file, or is new when there is none.
    pub fn new(path: Option<PathBuf>, document: &Document) -> Self {
        Self { path, saved: Some(Arc::new(document.clone())) }
    }

    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The file's name, without its folder.
    pub fn name(&self) -> Option<String> {
        Some(self.path.as_ref()?.file_name()?.to_string_lossy().into_owned())
    }

    pub fn is_unsaved(&self, document: &Arc<Document>) -> bool {
        self.saved.as_ref().is_none_or(|s| !Arc::ptr_eq(s, document) && **s != **document)
    }

    /// Whether the saved project names that photo.
    pub fn is_in_file(&self, photo: &str) -> bool {
        self.saved.as_ref().is_some_and(|s| s.journal.photos.iter().any(|p| p.file == photo))
    }

    /// The project was saved there; gives the place it had before.
    pub fn saved_at(&mut self, path: PathBuf, document: Arc<Document>) -> Option<PathBuf> {
        self.saved = Some(document);
        self.path.replace(path)
    }

    /// Nothing of this project is in its file: it was recovered.
    pub fn never_saved(&mut self) {
        self.saved = None;
    }
}
