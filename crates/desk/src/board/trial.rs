//! A change being made: seen on the table at once, part of the project only when
//! it is accepted.

use hangtrue_adjust::{Change, Document, Entry};

/// A change that is not accepted yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The change as it stands.
    pub change: Change,
    /// The name it will have.
    pub name: String,
    /// The index of the change that is edited again; none for a new one.
    pub at: Option<usize>,
}

impl Trial {
    /// A new change.
    pub fn new(name: &str, change: Change) -> Self {
        Self { change, name: name.to_owned(), at: None }
    }

    /// A change of the document, to be edited again.
    pub fn again(document: &Document, at: usize) -> Option<Self> {
        let entry = document.changes.get(at)?;
        Some(Self { change: entry.change.clone(), name: entry.name.clone(), at: Some(at) })
    }

    /// The same change as it stands now.
    pub fn with(&self, change: Change) -> Self {
        Self { change, ..self.clone() }
    }

    /// The document with this change in it.
    pub fn laid_into(&self, document: &Document) -> Document {
        let mut with = document.clone();
        match self.at {
            Some(at) if at < with.changes.len() => {
                let entry =
                    Entry { name: self.name.clone(), on: true, change: self.change.clone() };
                with.changes[at] = entry;
            }
            _ => with.push(&self.name, self.change.clone()),
        }
        with
    }

    /// The index of this change in the document it is laid into.
    pub fn index_in(&self, document: &Document) -> usize {
        match self.at {
            Some(at) if at < document.changes.len() => at,
            _ => document.changes.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_adjust::CloseRound;

    #[test]
    fn a_draft_goes_to_the_end_or_back_where_it_was() {
        let close = |note: &str| {
            Change::CloseRound(CloseRound { date: "2026-01-01".into(), note: note.into() })
        };
        let mut document = crate::sample::bare();
        let new = Trial::new("first", close("a"));
        assert_eq!(new.index_in(&document), 0);
        document = new.laid_into(&document);
        document.push("second", close("b"));
        let mut again = Trial::again(&document, 0).unwrap();
        again.change = close("changed");
        let with = again.laid_into(&document);
        assert_eq!(with.changes.len(), 2);
        assert_eq!(with.changes[0].change, close("changed"));
        assert!(Trial::again(&document, 7).is_none());
    }
}
