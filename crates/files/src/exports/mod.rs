//! How a pattern is sent out. Each kind of file is one file here; window and command
//! list them all.

use crate::exchange::{ExchangeError, SendOptions};
use crate::print::{Allowance, DrawOptions, PrintError, ProjectorOptions};
use hangtrue_cut::CutSet;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;

/// What is sent out, and with what.
#[derive(Debug, Clone)]
pub struct Sending<'a> {
    /// The pattern.
    pub pattern: &'a Pattern,
    /// What is made.
    pub title: &'a str,
    /// Lines under the name of each piece; whose pattern it is only when that was asked.
    pub label: Vec<String>,
    /// The seam allowance; none sends the sew line as the only outline.
    pub allowance: Option<Allowance>,
    /// The pieces to cut, with their allowance; the pattern is then the set's.
    pub set: Option<&'a CutSet>,
    /// The maker's unit, for lengths in words.
    pub unit: Unit,
    /// How a page is thrown on the table by a projector.
    pub projector: ProjectorOptions,
}

/// A kind of file a pattern is sent out as.
#[derive(Debug, Clone, Copy)]
pub struct Export {
    /// The word by which the command is asked for it.
    pub word: &'static str,
    /// Its name in a list: what it is, and what for.
    pub name: &'static str,
    /// The heading over the question where to.
    pub title: &'static str,
    /// The ending of its files, without the dot.
    pub ending: &'static str,
    /// How each of its files begins.
    pub begins: &'static str,
    /// What to do before cutting from it.
    pub before_cutting: &'static str,
    /// Whether it is thrown on the table by a projector.
    pub for_projector: bool,
    make: fn(&Sending<'_>) -> Result<Sent, SendError>,
}

/// A file made to be sent out.
#[derive(Debug, Clone, PartialEq)]
pub struct Sent {
    /// The file.
    pub bytes: Vec<u8>,
    /// What to tell of it.
    pub notes: Vec<String>,
}

/// Why a pattern cannot be sent out.
#[derive(Debug, thiserror::Error)]
pub enum SendError {
    /// As a drawing.
    #[error(transparent)]
    Drawing(#[from] ExchangeError),
    /// On paper.
    #[error(transparent)]
    Paper(#[from] PrintError),
}

/// Before cutting from a drawing opened elsewhere.
const MEASURE_A_LINE: &str =
    "All lengths are true mm. Where it is opened, measure one line you know before you cut.";

macro_rules! exports {
    ($($module:ident),+ $(,)?) => {
        $(mod $module;)+

        /// All kinds of file, in the order of the list.
        pub const EXPORTS: &[Export] = &[$($module::EXPORT),+];
    };
}

exports! { svg, dxf_sewn, dxf_plain, piece_sheets, projector }

/// Kinds are told apart by their words.
impl PartialEq for Export {
    fn eq(&self, other: &Self) -> bool {
        self.word == other.word
    }
}

impl Eq for Export {}

impl Export {
    /// The kind asked for by its word.
    pub fn named(word: &str) -> Option<&'static Self> {
        EXPORTS.iter().find(|e| e.word == word)
    }

    /// The kinds of that ending, in large or small letters, the usual one first.
    pub fn of_ending(ending: &str) -> impl Iterator<Item = &'static Self> {
        EXPORTS.iter().filter(move |e| e.ending.eq_ignore_ascii_case(ending))
    }

    /// Makes the file.
    ///
    /// # Errors
    /// [`SendError`] when a line cannot be drawn, or its settings are out of reach.
    pub fn made(&self, sending: &Sending<'_>) -> Result<Sent, SendError> {
        (self.make)(sending)
    }
}

impl Sending<'_> {
    fn drawing(&self) -> SendOptions<'_> {
        SendOptions {
            allowance: self.allowance.clone(),
            set: self.set,
            title: self.title.to_owned(),
            // One body's pattern has no size of a table; a girth of that body is as
            // private as its name.
            size: String::new(),
            label: self.label.clone(),
        }
    }

    fn paper(&self) -> DrawOptions<'_> {
        DrawOptions {
            unit: self.unit,
            allowance: self.allowance.clone(),
            set: self.set,
            label: self.label.clone(),
            ..DrawOptions::default()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_kind_is_made_of_the_sample_and_is_what_its_ending_says() {
        let document = crate::demo::bare().unwrap();
        let replay = hangtrue_adjust::Replay::new(document);
        let pattern = replay.current().unwrap();
        let sending = Sending {
            pattern,
            title: "Trousers",
            label: vec!["first fitting".into()],
            allowance: None,
            set: None,
            unit: Unit::Mm,
            projector: ProjectorOptions::default(),
        };
        for export in EXPORTS {
            let sent = export.made(&sending).unwrap();
            let head: String = String::from_utf8_lossy(&sent.bytes).chars().take(40).collect();
            let is_so = !export.begins.is_empty() && head.starts_with(export.begins);
            assert!(is_so, "{} begins {head:?}", export.word);
        }
    }

    /// The manual's table has a row for each kind.
    #[test]
    fn the_manual_knows_every_kind() {
        let manual = include_str!("../../../../docs/exchange.md");
        for export in EXPORTS {
            let row = format!("`{}`", export.word);
            assert!(manual.contains(&row), "docs/exchange.md has no row for {row}");
        }
    }

    #[test]
    fn words_and_names_tell_the_kinds_apart() {
        let words: HashSet<_> = EXPORTS.iter().map(|e| e.word).collect();
        let names: HashSet<_> = EXPORTS.iter().map(|e| e.name).collect();
        assert_eq!((words.len(), names.len()), (EXPORTS.len(), EXPORTS.len()));
        for export in EXPORTS {
            assert_eq!(Export::named(export.word), Some(export));
            assert!(Export::of_ending(&export.ending.to_uppercase()).any(|e| e == export));
        }
        assert!(Export::named("paper").is_none());
    }
}
