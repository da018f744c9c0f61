//! What one document holds that another does not, told by the names the maker gave.

use crate::{Document, Entry, Pinch, RoundPhoto};
use std::collections::HashMap;

/// How a thing differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Differs {
    /// It is new.
    Added,
    /// It is gone.
    TakenOut,
    /// It is there, but not the same.
    Changed,
}

/// One difference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Difference {
    /// What the pattern is called.
    Title,
    /// For whom it is made.
    Client,
    /// How lengths are shown.
    Unit,
    /// The measures, the eases or the pieces it starts from.
    Start,
    /// A change of the list, by its name.
    Change(Differs, String),
    /// The order of the changes that both have.
    Order,
    /// A pinch that waits for an answer, by its name.
    Pinch(Differs, String),
    /// A photo, by its file name.
    Photo(Differs, String),
    /// The notes of the fitting.
    Notes,
    /// How the lines hung.
    Droops,
    /// Which signs were looked for and seen.
    Signs,
}

impl Difference {
    /// The difference in words.
    pub fn words(&self) -> String {
        let did = |how: &Differs| match how {
            Differs::Added => "added",
            Differs::TakenOut => "took out",
            Differs::Changed => "changed",
        };
        match self {
            Self::Title => "changed the title".into(),
            Self::Client => "changed for whom it is".into(),
            Self::Unit => "changed the unit of lengths".into(),
            Self::Start => "changed the measures or pieces it starts from".into(),
            Self::Change(how, name) => format!("{} “{name}”", did(how)),
            Self::Order => "moved changes in the list".into(),
            Self::Pinch(how, name) => format!("{} the pinch “{name}”", did(how)),
            Self::Photo(how, name) => format!("{} the photo “{name}”", did(how)),
            Self::Notes => "changed notes of the fitting".into(),
            Self::Droops => "changed how the lines hung".into(),
            Self::Signs => "changed which signs were looked for or seen".into(),
        }
    }
}

/// What was done to come from one document to the other.
pub fn differences(from: &Document, to: &Document) -> Vec<Difference> {
    let mut found = Vec::new();
    let mut say = |differs: bool, what: Difference| {
        if differs {
            found.push(what);
        }
    };
    say(from.title != to.title, Difference::Title);
    say(from.client != to.client, Difference::Client);
    say(from.unit != to.unit, Difference::Unit);
    say(from.start != to.start, Difference::Start);
    let changes = named(&from.changes, &to.changes, |e: &Entry| &e.name);
    found.extend(changes.into_iter().map(|(how, name)| Difference::Change(how, name)));
    if order(from, to) != order(to, from) {
        found.push(Difference::Order);
    }
    let pinches = named(&from.pinned, &to.pinned, |p: &Pinch| &p.name);
    found.extend(pinches.into_iter().map(|(how, name)| Difference::Pinch(how, name)));
    let (before, after) = (&from.journal, &to.journal);
    let photos = named(&before.photos, &after.photos, |p: &RoundPhoto| &p.file);
    found.extend(photos.into_iter().map(|(how, name)| Difference::Photo(how, name)));
    if before.notes != after.notes {
        found.push(Difference::Notes);
    }
    if before.droops != after.droops {
        found.push(Difference::Droops);
    }
    if before.signs != after.signs {
        found.push(Difference::Signs);
    }
    found
}

/// Things that differ, by name: those of the second list in its order, then those
/// that are gone.
fn named<T: PartialEq>(
    from: &[T],
    to: &[T],
    name: impl Fn(&T) -> &String,
) -> Vec<(Differs, String)> {
    let before: HashMap<&String, &T> = from.iter().map(|t| (name(t), t)).collect();
    let after: HashMap<&String, &T> = to.iter().map(|t| (name(t), t)).collect();
    let new = to.iter().filter_map(|t| match before.get(name(t)) {
        None => Some((Differs::Added, name(t).clone())),
        Some(old) if *old != t => Some((Differs::Changed, name(t).clone())),
        Some(_) => None,
    });
    let gone = from.iter().filter(|t| !after.contains_key(name(t)));
    new.chain(gone.map(|t| (Differs::TakenOut, name(t).clone()))).collect()
}

/// The names of the changes of the first that the second has too, in their order.
fn order<'a>(of: &'a Document, shared_with: &Document) -> Vec<&'a str> {
    let there: std::collections::HashSet<&str> =
        shared_with.changes.iter().map(|e| e.name.as_str()).collect();
    of.changes.iter().map(|e| e.name.as_str()).filter(|n| there.contains(n)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Change, CloseRound, NoteKind, RoundNote, Start};
    use hangtrue_pattern::Pattern;

    fn with(changes: &[(&str, &str)]) -> Document {
        let mut document = Document {
            title: "Trousers".into(),
            client: String::new(),
            unit: Default::default(),
            start: Start::Pieces(Pattern::default()),
            pinned: vec![],
            changes: vec![],
            journal: Default::default(),
            printing: Default::default(),
            cutting: Default::default(),
            lays: Default::default(),
            figure: Default::default(),
        };
        for (name, note) in changes {
            let (date, note) = (String::new(), (*note).into());
            document.push(name, Change::CloseRound(CloseRound { date, note }));
        }
        document
    }

    #[test]
    fn each_difference_is_told_once_and_equal_documents_have_none() {
        let from = with(&[("one", ""), ("two", ""), ("three", "")]);
        assert!(differences(&from, &from.clone()).is_empty());
        let mut to = with(&[("three", ""), ("two", "new"), ("four", "")]);
        to.title = "Breeches".into();
        let (round, kind) = ("now".into(), NoteKind::Seen);
        to.journal.notes.push(RoundNote { round, kind, text: "droops".into() });
        let words: Vec<String> = differences(&from, &to).iter().map(Difference::words).collect();
        let wanted = [
            "changed the title",
            "changed “two”",
            "added “four”",
            "took out “one”",
            "moved changes in the list",
            "changed notes of the fitting",
        ];
        assert_eq!(words, wanted);
    }
}
