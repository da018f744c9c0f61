//! A document: where the pattern starts and the ordered changes made to it.
//! Everything shown is computed from it.

use crate::{Change, CloseRound, CuttingPlan, Figure, Journal, Lays, OPEN_ROUND, Pinch, Printing};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::Unit;
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// Where a pattern starts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Start {
    /// A block drafted from measures.
    Block {
        /// The body.
        measures: Measures,
        /// Eases and widths.
        plan: Plan,
    },
    /// A traced or imported pattern.
    Pieces(Pattern),
}

/// A change in the list, with its own name and switch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Name the maker gave it, unique in the document.
    pub name: String,
    /// Whether it is in force.
    #[serde(default = "switched_on", skip_serializing_if = "is_true")]
    pub on: bool,
    /// The change.
    pub change: Change,
}

fn switched_on() -> bool {
    true
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the signature serde asks for
fn is_true(on: &bool) -> bool {
    *on
}

/// A whole project.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Document {
    /// What the pattern is, as the maker calls it.
    pub title: String,
    /// For whom it is made.
    pub client: String,
    /// How lengths are shown.
    #[serde(default)]
    pub unit: Unit,
    /// Where the pattern starts.
    pub start: Start,
    /// Pinches measured on the toile and not answered yet.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pinned: Vec<Pinch>,
    /// The changes in the order they are made.
    #[serde(default)]
    pub changes: Vec<Entry>,
    /// What was seen, decided and photographed at each round.
    #[serde(default, skip_serializing_if = "Journal::is_empty")]
    pub journal: Journal,
    /// How the pieces are printed, and what was printed last.
    #[serde(default, skip_serializing_if = "Printing::is_usual")]
    pub printing: Printing,
    /// What is chosen for the pieces that are cut.
    #[serde(default, skip_serializing_if = "CuttingPlan::is_usual")]
    pub cutting: CuttingPlan,
    /// How the pieces are laid on each cloth.
    #[serde(default, skip_serializing_if = "Lays::is_usual")]
    pub lays: Lays,
    /// What is known of the body beyond what the pattern was drafted from.
    #[serde(default, skip_serializing_if = "Figure::is_unknown")]
    pub figure: Figure,
}

impl Document {
    /// The measures of the body, when the pattern was drafted from them.
    pub fn body(&self) -> Option<&Measures> {
        match &self.start {
            Start::Block { measures, .. } => Some(measures),
            Start::Pieces(_) => None,
        }
    }

    /// The measures of the body the toile is hung on: those the pattern was drafted
    /// from, or those given beside a pattern that was brought in.
    pub fn worn_by(&self) -> Option<&Measures> {
        let given = &self.figure.measures;
        self.body().or_else(|| given.iter().next().map(|_| given))
    }

    /// A new document that starts from measures, with nothing changed yet.
    pub fn from_measures(
        title: &str,
        client: &str,
        unit: Unit,
        measures: Measures,
        plan: Plan,
    ) -> Self {
        Self::new(title, client, unit, Start::Block { measures, plan })
    }

    /// A new document that starts from pieces, with nothing changed yet.
    pub fn from_pieces(title: &str, client: &str, unit: Unit, pieces: Pattern) -> Self {
        Self::new(title, client, unit, Start::Pieces(pieces))
    }

    fn new(title: &str, client: &str, unit: Unit, start: Start) -> Self {
        Self {
            title: title.to_owned(),
            client: client.to_owned(),
            unit,
            start,
            pinned: Vec::new(),
            changes: Vec::new(),
            journal: Journal::default(),
            printing: Printing::default(),
            cutting: CuttingPlan::default(),
            lays: Lays::default(),
            figure: Figure::default(),
        }
    }

    /// Closes the round: the pattern as it stands is kept as a version, and the
    /// open round's notes and photos become its own.
    pub fn close_round(&mut self, name: &str, round: CloseRound) {
        let name = self.free_name(name);
        self.journal.rename_round(OPEN_ROUND, &name);
        self.push(&name, Change::CloseRound(round));
    }

    /// What the toile of the open round is called until its round is closed: printed on
    /// its pieces, so that those of different fittings are never mixed up.
    pub fn fitting(&self) -> String {
        format!("toile {}", self.rounds().count() + 1)
    }

    /// Whether a change or a fitting may not be called so: the name means a pattern of
    /// its own, or another change has it.
    pub fn is_name_taken(&self, name: &str) -> bool {
        crate::journal::is_meant(name) || self.changes.iter().any(|entry| entry.name == name)
    }

    /// Why the change at `index` (none: a new one) may not be called so, in a sentence; none
    /// when it may. Window and command refuse by this one rule.
    pub fn name_fault(&self, index: Option<usize>, name: &str) -> Option<String> {
        let own = index.and_then(|i| self.changes.get(i)).is_some_and(|e| e.name == name);
        if own || !self.is_name_taken(name) {
            return None;
        }
        Some(if crate::journal::is_meant(name) {
            format!("“{name}” means a pattern of its own here; choose another name.")
        } else {
            format!("The name “{name}” is taken; choose another.")
        })
    }

    /// The round a person means by a name: [`TODAY`](crate::TODAY) is the open one, if no
    /// closed one has that name.
    pub fn round_meant<'a>(&self, said: &'a str) -> &'a str {
        let open = [crate::TODAY, crate::TODAYS_PATTERN].contains(&said);
        if open && !self.rounds().any(|r| r.0 == said) { OPEN_ROUND } else { said }
    }

    /// Whether there is a closed round of that name, or it is the open one.
    pub fn has_round(&self, name: &str) -> bool {
        name == OPEN_ROUND || self.rounds().any(|r| r.0 == name)
    }

    /// The document without its photos, to be handed on.
    #[must_use]
    pub fn without_photos(&self) -> Self {
        let mut document = self.clone();
        document.journal.photos.clear();
        document
    }

    /// The document without what was noted at its rounds.
    #[must_use]
    pub fn without_notes(&self) -> Self {
        let mut document = self.clone();
        document.journal.notes.clear();
        for entry in &mut document.changes {
            if let Change::CloseRound(round) = &mut entry.change {
                round.note.clear();
            }
        }
        document
    }

    /// Adds a change at the end under a name made unique.
    pub fn push(&mut self, name: &str, change: Change) {
        let name = self.free_name(name);
        self.changes.push(Entry { name, on: true, change });
    }

    /// Takes a change out and gives it back. What was noted for a round that is open
    /// again belongs to the open one. None when there is no such change.
    pub fn remove(&mut self, index: usize) -> Option<Entry> {
        if index >= self.changes.len() {
            return None;
        }
        let gone = self.changes.remove(index);
        if matches!(gone.change, Change::CloseRound(_)) {
            self.journal.rename_round(&gone.name, OPEN_ROUND);
        }
        Some(gone)
    }

    /// Gives a change another name, made unique; what is noted for a round goes with
    /// its name.
    pub fn rename(&mut self, index: usize, name: &str) {
        if self.changes.get(index).is_none_or(|e| e.name == name) {
            return;
        }
        let name = self.free_name(name);
        let entry = &mut self.changes[index];
        if matches!(entry.change, Change::CloseRound(_)) {
            self.journal.rename_round(&entry.name, &name);
        }
        entry.name = name;
    }

    /// The name, or the name with the first free number behind it.
    pub fn free_name(&self, name: &str) -> String {
        let names: HashSet<&str> = self.changes.iter().map(|e| e.name.as_str()).collect();
        let taken = |n: &str| names.contains(n) || crate::journal::is_meant(n);
        if !taken(name) {
            return name.to_owned();
        }
        let numbered = |n: usize| format!("{name} {n}");
        (2..).map(numbered).find(|n| !taken(n)).unwrap_or_else(|| name.to_owned())
    }

    /// The rounds closed so far: name and index of the entry.
    pub fn rounds(&self) -> impl Iterator<Item = (&str, usize)> {
        self.changes
            .iter()
            .enumerate()
            .filter(|(_, e)| matches!(e.change, Change::CloseRound(_)))
            .map(|(i, e)| (e.name.as_str(), i))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{NoteKind, RoundNote};

    #[test]
    fn what_is_noted_for_a_round_goes_with_it() {
        let mut document =
            Document::from_measures("", "", Unit::default(), Measures::default(), Plan::default());
        let note = |round: &str| RoundNote {
            round: round.into(),
            kind: NoteKind::Seen,
            text: "droops".into(),
        };
        let round = || CloseRound { date: "2026-01-01".into(), note: String::new() };
        document.journal.notes.push(note(OPEN_ROUND));
        document.close_round("first", round());
        let of = |d: &Document, name: &str| d.journal.notes_of(name, NoteKind::Seen).count();
        assert_eq!((of(&document, "first"), of(&document, OPEN_ROUND)), (1, 0));
        document.close_round("second", round());
        document.rename(0, "second");
        assert_eq!(document.changes[0].name, "second 2");
        assert_eq!((of(&document, "second 2"), of(&document, "second")), (1, 0));
        assert!(document.remove(0).is_some() && document.remove(7).is_none());
        assert_eq!(of(&document, OPEN_ROUND), 1);
        document.close_round("third", CloseRound { note: "private".into(), ..round() });
        let text = crate::ron_text::written(&document.without_notes()).unwrap();
        assert!(!text.contains("private") && !text.contains("droops"), "{text}");
    }
}
