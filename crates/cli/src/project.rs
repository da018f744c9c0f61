//! Opening a project for a verb, and reading lengths and places in its unit.

use crate::failure::Failure;
use hangtrue_adjust::{Document, Replay};
use hangtrue_files::project;
use hangtrue_pattern::units::{Unit, read_length, show_length};
use hangtrue_pattern::{End, Pattern, Place, SeamPlace};
use std::path::Path;
use std::sync::Arc;

/// A project opened and computed.
pub struct Opened {
    pub document: Document,
    pub replay: Replay,
}

impl Opened {
    pub fn open(path: &Path) -> Result<Self, Failure> {
        let document = project::load(path)?;
        Ok(Self { replay: Replay::new(document.clone()), document })
    }

    pub fn unit(&self) -> Unit {
        self.document.unit
    }

    pub fn pattern(&self) -> Result<&Arc<Pattern>, Failure> {
        Ok(self.replay.current()?)
    }

    /// Computes the edited document, refuses it when the last change cannot be
    /// made, and saves it.
    pub fn save(&mut self, path: &Path) -> Result<(), Failure> {
        self.replay.update(self.document.clone());
        self.replay.start()?;
        project::save(path, &self.document)?;
        Ok(())
    }

    pub fn length(&self, text: &str) -> Result<f64, Failure> {
        Ok(read_length(text, self.unit())?)
    }

    pub fn show(&self, mm: f64) -> String {
        show_length(mm, self.unit())
    }

    /// A place on a seam: `60 mm from start of side`.
    pub fn seam_place(&self, text: &str) -> Result<SeamPlace, Failure> {
        let wrong = || {
            Failure::Asked(format!(
                "“{text}” is not a place on a seam; write it like 60 mm from start of side"
            ))
        };
        let (length, rest) = text.split_once(" from ").ok_or_else(wrong)?;
        let (end, seam) = rest.split_once(" of ").ok_or_else(wrong)?;
        let from = read_end(end).ok_or_else(wrong)?;
        Ok(SeamPlace { seam: seam.trim().to_owned(), from, distance: self.length(length)? })
    }

    /// A corner by name, or a place on a seam.
    pub fn place(&self, text: &str) -> Result<Place, Failure> {
        if text.contains(" from ") {
            return Ok(Place::Seam(self.seam_place(text)?));
        }
        Ok(Place::Corner(text.trim().to_owned()))
    }
}

/// `start` or `end`.
pub fn read_end(text: &str) -> Option<End> {
    match text.trim() {
        "start" => Some(End::Start),
        "end" => Some(End::End),
        _ => None,
    }
}

/// A share like `40%`, as 0.4.
pub fn read_share(text: &str) -> Option<f64> {
    let number = text.trim().strip_suffix('%')?.trim();
    let share: f64 = number.parse().ok()?;
    share.is_finite().then_some(share / 100.0)
}
