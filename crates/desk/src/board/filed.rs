//! How the project stands in its file: where it lies, and what of it is saved.

use hangtrue_adjust::Document;
use hangtrue_files::project::Held;
use std::path::Path;
use std::sync::Arc;

/// The file of the project, and the project as it lies there.
pub(crate) struct Filed {
    held: Option<Held>,
    saved: Option<Arc<Document>>,
    /// The file was found not to hold what was read or written here.
    pub differs: bool,
}

impl Filed {
    /// A project that was just read from a file, or is new when there is none.
    pub fn new(held: Option<Held>, document: &Document) -> Self {
        Self { held, saved: Some(Arc::new(document.clone())), differs: false }
    }

    /// The file, and what it held when it was last read or written.
    pub fn held(&self) -> Option<&Held> {
        self.held.as_ref()
    }

    pub fn path(&self) -> Option<&Path> {
        self.held.as_ref().map(Held::file)
    }

    /// The file's name, without its folder.
    pub fn name(&self) -> Option<String> {
        Some(self.path()?.file_name()?.to_string_lossy().into_owned())
    }

    /// The project as it was last read or written.
    pub fn saved(&self) -> Option<&Document> {
        self.saved.as_deref()
    }

    pub fn is_unsaved(&self, document: &Arc<Document>) -> bool {
        self.saved.as_ref().is_none_or(|s| !Arc::ptr_eq(s, document) && **s != **document)
    }

    /// The project was saved there; gives the file it had before.
    pub fn saved_at(&mut self, held: Held, document: Arc<Document>) -> Option<Held> {
        self.saved = Some(document);
        self.differs = false;
        self.held.replace(held)
    }

    /// The project without a file holds nothing that would have to be saved.
    pub fn is_as_saved(&mut self, document: Arc<Document>) {
        self.saved = Some(document);
    }

    /// Nothing of this project is in its file: it was recovered.
    pub fn never_saved(&mut self) {
        self.saved = None;
    }
}
