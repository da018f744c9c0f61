//! What is known of others at the project's file.

use crate::desk::at_desks::AtDesk;
use crate::kit::watch::Watch;
use hangtrue_adjust::{Difference, Document};
use hangtrue_files::project::{self, Held, Standing};

/// What is known of others at the file.
#[derive(Default)]
pub(crate) struct Outside {
    pub(super) watch: Option<Watch>,
    pub(super) at_desk: Option<AtDesk>,
    pub(super) question: Option<Question>,
    /// What was found and put off; asked of again only when it is something else.
    pub(super) put_off: Option<OnDisk>,
}

/// What lies where the project lay.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum OnDisk {
    /// Another project, or this one as somebody else saved it.
    Theirs(Box<Document>, Held),
    /// Something that is no project.
    Unreadable(String),
    /// Nothing.
    Gone,
}

pub(super) struct Question {
    pub(super) found: OnDisk,
    pub(super) differences: Option<[Vec<Difference>; 2]>,
    /// The differences are shown.
    pub(super) shown: bool,
}

impl Outside {
    /// Whether an answer is waited for.
    pub fn asks(&self) -> bool {
        self.question.is_some()
    }
}

/// Reads what lies there.
pub(super) fn found(held: &Held) -> OnDisk {
    if held.standing() == Standing::Gone {
        return OnDisk::Gone;
    }
    match project::open(held.file()) {
        Ok((document, held)) => OnDisk::Theirs(Box::new(document), held),
        Err(why) => OnDisk::Unreadable(why.to_string()),
    }
}
