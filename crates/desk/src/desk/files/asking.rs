//! What is being asked about files, and what waits for the answer.

use crate::board::asked::Asked;
use crate::desk::recovery::LeftBehind;
use crate::kit::job::Job;
use hangtrue_adjust::Replay;
use hangtrue_files::project::{Held, SavedOtherwise, saved_otherwise};
use std::path::PathBuf;

/// What has to be answered before unsaved work is given up.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Leaving {
    /// The window is to be closed.
    Close,
    /// Another file is to be opened.
    Open(PathBuf),
    /// A new client is to be begun.
    New,
}

/// What is being asked about files.
#[derive(Default)]
pub(crate) struct Files {
    pub dialog: Option<(Asked, Job<Option<PathBuf>>)>,
    /// The little window where a place is typed.
    pub typed: Option<(Asked, String, Option<String>)>,
    pub leaving: Option<Leaving>,
    /// What was asked for before the work is saved; done when it is.
    pub then: Option<Leaving>,
    /// A typed place where a file lies already, to be asked about.
    pub over: Option<(Asked, PathBuf)>,
    pub may_close: bool,
    pub left_behind: Vec<LeftBehind>,
    /// The project on the desk comes out otherwise than it was saved.
    pub otherwise: Option<SavedOtherwise>,
}

impl Files {
    /// Nothing is asked but what earlier desks left behind.
    pub fn with_left_behind(left_behind: Vec<LeftBehind>) -> Self {
        Self { left_behind, ..Self::default() }
    }

    /// Whether a place, or what becomes of unsaved work, is to be answered first.
    pub fn asks(&self) -> bool {
        let files = self.typed.is_some() || self.over.is_some();
        files || self.leaving.is_some() || self.otherwise.is_some()
    }

    /// Looks whether the project in that file comes out as it was saved. What cannot be read
    /// now is told when it is saved.
    pub fn look_whether_otherwise(&mut self, held: Option<&Held>, computed: &Replay) {
        self.otherwise =
            held.and_then(|held| saved_otherwise(held.file(), computed).ok().flatten());
    }

    /// What was to follow the saving does not follow: nothing was saved.
    pub fn give_up_leaving(&mut self) {
        self.then = None;
    }
}
