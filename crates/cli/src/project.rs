//! Opening a project for a verb, and reading lengths and places in its unit.

use crate::failure::Failure;
use crate::output;
use hangtrue_adjust::{Document, Replay, legs_named};
use hangtrue_files::project::{
    self, Held, SavedOtherwise, Writing, save_as_it_was, saved_otherwise,
};
use hangtrue_files::save::{Over, may_write};
use hangtrue_pattern::units::{Unit, read_length, show_difference, show_length};
use hangtrue_pattern::{End, Pattern, Place, SeamPlace};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A project opened and computed.
pub struct Opened {
    pub document: Document,
    pub replay: Replay,
    file: OpenedFile,
    /// Its pattern comes out otherwise than it was saved.
    otherwise: Option<SavedOtherwise>,
}

/// Writes a new project and says what to do next; without `accept` nothing is written,
/// and it is said how to.
pub fn start(
    file: &Path,
    document: impl FnOnce() -> Document,
    (accept, over): (bool, Over),
    next: &str,
) -> Result<String, Failure> {
    let name = file.display();
    if !accept {
        return Ok(format!("Nothing was written. --accept starts {name}."));
    }
    let document = document();
    Replay::new(document.clone()).start()?;
    project::save_new_over(file, &document, over)?;
    Ok(format!("Started {name}. {next}{name}"))
}

/// What may be done with the file of an opened project.
enum OpenedFile {
    /// It is looked at; should it be saved after all, it must still be as it was.
    Looked(Held),
    /// It is locked: nobody else changes it until the verb is done.
    Locked(Writing),
}

impl OpenedFile {
    fn held(&self) -> &Held {
        match self {
            Self::Looked(held) => held,
            Self::Locked(writing) => writing.held(),
        }
    }
}

impl Opened {
    /// Opens a project to look at it.
    pub fn open(path: &Path) -> Result<Self, Failure> {
        is_there(path)?;
        let (document, held) = project::open(path)?;
        Self::computed(document, OpenedFile::Looked(held))
    }

    /// Opens a project to change it. A verb that changes the same project at the
    /// same time waits, and reads what this one saved.
    pub fn open_to_write(path: &Path) -> Result<Self, Failure> {
        is_there(path)?;
        let (document, writing) = project::open_to_write(path)?;
        Self::computed(document, OpenedFile::Locked(writing))
    }

    /// Opens a project to change it if `writes`, else to look at it.
    pub fn open_for(path: &Path, writes: bool) -> Result<Self, Failure> {
        if writes { Self::open_to_write(path) } else { Self::open(path) }
    }

    fn computed(document: Document, file: OpenedFile) -> Result<Self, Failure> {
        output::speak_in(document.unit);
        let replay = Replay::new(document.clone());
        let otherwise = saved_otherwise(file.held().file(), &replay)?;
        if let Some(SavedOtherwise { at, .. }) = &otherwise {
            output::complain(&format!(
                "Note: {} was saved by another Hangtrue, or its text was changed by hand. Today’s pattern differs from the saved one, most at the {}. What was printed or cut before is as it was saved.",
                file.held().file().display(),
                output::words(&at.words()),
            ));
        }
        Ok(Self { document, replay, file, otherwise })
    }

    pub fn unit(&self) -> Unit {
        self.document.unit
    }

    pub fn pattern(&self) -> Result<&Arc<Pattern>, Failure> {
        Ok(self.replay.current()?)
    }

    /// Computes the edited document, refuses it when the last change cannot be
    /// made, and saves it.
    pub fn save(&mut self) -> Result<(), Failure> {
        self.replay.update(self.document.clone());
        self.replay.start()?;
        self.keep_as_it_was()?;
        match &mut self.file {
            OpenedFile::Looked(held) => held.save(&self.document)?,
            OpenedFile::Locked(writing) => writing.save(&self.document)?,
        }
        Ok(())
    }

    /// Before it is saved over, a pattern that comes out otherwise today gets a project of its
    /// own.
    fn keep_as_it_was(&mut self) -> Result<(), Failure> {
        let Some(found) = self.otherwise.take() else { return Ok(()) };
        let held = save_as_it_was(self.file.held().file(), &self.document, found.pattern)?;
        output::complain(&format!(
            "The pattern as it was saved is kept in {}.",
            held.file().display()
        ));
        Ok(())
    }

    pub fn length(&self, text: &str) -> Result<f64, Failure> {
        Ok(read_length(text, self.unit())?)
    }

    pub fn show(&self, mm: f64) -> String {
        show_length(mm, self.unit())
    }

    /// A difference; within `exact` mm it is none.
    pub fn show_difference(&self, mm: f64, exact: f64) -> String {
        show_difference(mm, self.unit(), exact)
    }

    /// A place on a seam of the piece: `60 mm from waist of side`.
    pub fn seam_place(&self, piece: &str, text: &str) -> Result<SeamPlace, Failure> {
        let wrong = || {
            Failure::Asked(format!(
                "“{text}” is not a place on a seam; write it like 60 mm from waist of side"
            ))
        };
        let (length, rest) = text.split_once(" from ").ok_or_else(wrong)?;
        let (end, seam) = rest.split_once(" of ").ok_or_else(wrong)?;
        let from = self.seam_end(piece, seam, end)?;
        Ok(SeamPlace { seam: seam.trim().to_owned(), from, distance: self.length(length)? })
    }

    /// An end of a seam, by the corner there or a word of its name that the other
    /// corner lacks: `waist` and `hem` for a side seam. `start` and `end` follow
    /// the outline.
    pub fn seam_end(&self, piece: &str, seam: &str, words: &str) -> Result<End, Failure> {
        let (seam, words) = (seam.trim(), words.trim());
        let pattern = self.pattern()?;
        // A piece named as before the parting has the same seams on either leg.
        let legs = legs_named(pattern, piece);
        let pattern = legs.first().map_or(&**pattern, |(_, one)| one.as_ref());
        let piece = pattern.piece(piece)?;
        let index = piece.seam_index(seam)?;
        let next = &piece.seams[(index + 1) % piece.seams.len()];
        let corners = [piece.seams[index].starts_at.as_str(), next.starts_at.as_str()];
        let fits = |corner: &str| corner == words || corner.split(' ').any(|w| w == words);
        match (words, corners.map(fits)) {
            ("start", _) | (_, [true, false]) => Ok(End::Start),
            ("end", _) | (_, [false, true]) => Ok(End::End),
            _ => Err(Failure::Asked(format!(
                "“{words}” does not say which end of the {seam}; its ends are: {}, {}",
                corners[0], corners[1]
            ))),
        }
    }

    /// A corner by name, or a place on a seam.
    pub fn place(&self, piece: &str, text: &str) -> Result<Place, Failure> {
        if text.contains(" from ") {
            return Ok(Place::Seam(self.seam_place(piece, text)?));
        }
        Ok(Place::Corner(text.trim().to_owned()))
    }
}

/// Refuses a project that is not there with the words that begin it.
fn is_there(path: &Path) -> Result<(), Failure> {
    match path.symlink_metadata() {
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => {
            Err(Failure::NoProject(path.to_owned()))
        }
        _ => Ok(()),
    }
}

/// Asks for every result of a verb whether it may be written, before any work is
/// done: not over what it is made from, not twice to one file, not over what is
/// there unless that was said, and never over a project.
pub fn check_outputs(
    outs: &[Option<&PathBuf>],
    made_from: &[Option<&PathBuf>],
    over: Over,
) -> Result<(), Failure> {
    let outs: Vec<&PathBuf> = outs.iter().copied().flatten().collect();
    for (i, out) in outs.iter().enumerate() {
        refuse_to_write_over(out, made_from)?;
        may_write(out, over)?;
        if outs[..i].contains(out) {
            return Err(Failure::Asked(format!(
                "“{}” is named for two results; choose a name for each",
                out.display()
            )));
        }
    }
    Ok(())
}

/// Refuses to write a result over a file it is made from.
fn refuse_to_write_over(out: &Path, made_from: &[Option<&PathBuf>]) -> Result<(), Failure> {
    let Ok(there) = out.canonicalize() else { return Ok(()) };
    let same = |p: &&PathBuf| p.canonicalize().is_ok_and(|p| p == there);
    match made_from.iter().copied().flatten().find(same) {
        None => Ok(()),
        Some(_) => Err(Failure::Asked(format!(
            "“{}” is what the result is made from; choose another name for the result",
            out.display()
        ))),
    }
}

/// A share like `40%`, as 0.4.
pub fn read_share(text: &str) -> Option<f64> {
    let number = text.trim().strip_suffix('%')?.trim();
    let share: f64 = number.parse().ok()?;
    share.is_finite().then_some(share / 100.0)
}
