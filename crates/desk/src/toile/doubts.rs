//! Photos in doubt while the desk is open: taken in or thrown away since the project
//! was saved. Whatever becomes of the desk, saved, given up or killed, what the saved
//! project names stays and nothing else is left.

use crate::board::Board;
use hangtrue_adjust::Document;
use hangtrue_files::album::{self, AlbumError, HeldDoubt};
use hangtrue_files::project::{self, ProjectError};
use std::path::Path;

/// The photos in doubt of the project on the desk.
#[derive(Default)]
pub(crate) struct Doubts {
    held: Vec<HeldDoubt>,
    /// Those that go when the project is saved, though undo could name them again.
    thrown: Vec<String>,
}

/// Why a photo cannot be put in doubt.
#[derive(Debug, thiserror::Error)]
pub(crate) enum DoubtError {
    /// The project is in no file, or written by somebody else just now.
    #[error(transparent)]
    Project(#[from] ProjectError),
    /// The photos cannot be reached.
    #[error(transparent)]
    Album(#[from] AlbumError),
}

fn names(document: &Document, photo: &str) -> bool {
    document.journal.photos.iter().any(|p| p.file == photo)
}

impl Doubts {
    /// A photo was taken in; it stays when the project is saved with it.
    pub fn taken(&mut self, doubt: HeldDoubt) {
        self.held.push(doubt);
    }

    /// A photo is to go for good when the project is saved without it.
    ///
    /// # Errors
    /// [`DoubtError`]; the photo is as it was then.
    pub fn thrown(&mut self, board: &Board, photo: &str) -> Result<(), DoubtError> {
        self.hold(board, photo)?;
        self.thrown.push(photo.to_owned());
        Ok(())
    }

    fn hold(&mut self, board: &Board, photo: &str) -> Result<(), DoubtError> {
        let Some(file) = board.filed.held() else { return Ok(()) };
        if self.held.iter().any(|d| d.photo() == photo) {
            return Ok(());
        }
        let kept_in = board.kept_in.as_deref();
        let doubt = file.while_locked(|p| album::hold_in_doubt(p, photo, kept_in))??;
        self.held.push(doubt);
        Ok(())
    }

    /// What was undone since the last saving is named no more, but redo may name it
    /// again: it stays until the desk leaves the project.
    pub fn before_saving(&mut self, board: &Board) {
        let Some(saved) = board.filed.saved() else { return };
        let now = board.document();
        let unnamed: Vec<&str> = saved
            .journal
            .photos
            .iter()
            .map(|p| p.file.as_str())
            .filter(|photo| !names(now, photo))
            .collect();
        for photo in unnamed {
            // A photo whose folder cannot be written cannot be thrown away either.
            let _ = self.hold(board, photo);
        }
    }

    /// The project was saved: what it names is in doubt no more, and what was thrown
    /// away is gone. Gives what is gone.
    pub fn saved(&mut self, board: &Board) -> Vec<String> {
        let (Some(file), Some(saved)) = (board.filed.held(), board.filed.saved()) else {
            return Vec::new();
        };
        let mut thrown = std::mem::take(&mut self.thrown);
        self.held.retain(|d| !names(saved, d.photo()) && !thrown.iter().any(|t| t == d.photo()));
        file.settle_photos(saved);
        thrown.retain(|photo| !names(saved, photo));
        thrown
    }

    /// The desk leaves the project: its file alone decides.
    pub fn leave(&mut self, board: &Board) {
        if let Some(file) = board.filed.path() {
            self.leave_file(file);
        }
    }

    /// The same for a file that the project has left for another.
    pub fn leave_file(&mut self, file: &Path) {
        let is_any = !self.held.is_empty();
        *self = Self::default();
        if is_any {
            // Opening settles what nobody holds; what it cannot read it leaves alone.
            let _ = project::open(file);
        }
    }

    /// The work on the desk was recovered, and with it its photos in doubt.
    pub fn take_over(&mut self, board: &Board) {
        let Some(file) = board.filed.held() else { return };
        let kept_in = board.kept_in.as_deref();
        // Who writes the project at this moment has settled nothing that is kept.
        self.held = file.while_locked(|p| album::hold_all(p, kept_in)).unwrap_or_default();
    }
}
