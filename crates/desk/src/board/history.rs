//! Undo and redo without end: every document as it was.

use hangtrue_adjust::Document;
use std::sync::Arc;

/// The documents in the order they were made, and where we stand among them.
#[derive(Debug, Clone)]
pub struct History {
    documents: Vec<(Arc<Document>, String)>,
    at: usize,
}

impl History {
    /// A history that starts with a document.
    pub fn new(document: Document) -> Self {
        Self { documents: vec![(Arc::new(document), String::new())], at: 0 }
    }

    /// The document as it is.
    pub fn now(&self) -> &Arc<Document> {
        &self.documents[self.at].0
    }

    /// Takes the next document, with words for what was done; what was undone
    /// before is forgotten. A document equal to the present one adds nothing.
    pub fn push(&mut self, document: Document, words: impl Into<String>) -> bool {
        if document == **self.now() {
            return false;
        }
        self.documents.truncate(self.at + 1);
        self.documents.push((Arc::new(document), words.into()));
        self.at += 1;
        true
    }

    /// Takes the next document; when the last step had the same words it is the
    /// same step going on, as while a number is typed.
    pub fn push_on(&mut self, document: Document, words: &str) -> bool {
        if document == **self.now() {
            return false;
        }
        if self.at > 0 && self.at + 1 == self.documents.len() && self.documents[self.at].1 == words
        {
            self.documents[self.at].0 = Arc::new(document);
            return true;
        }
        self.push(document, words)
    }

    /// Words for what undo would take back, if anything.
    pub fn undo_words(&self) -> Option<&str> {
        (self.at > 0).then(|| self.documents[self.at].1.as_str())
    }

    /// Words for what redo would make again, if anything.
    pub fn redo_words(&self) -> Option<&str> {
        self.documents.get(self.at + 1).map(|d| d.1.as_str())
    }

    /// Takes back the last step. False when there is none.
    pub fn undo(&mut self) -> bool {
        let can = self.at > 0;
        self.at -= usize::from(can);
        can
    }

    /// Makes the step taken back again. False when there is none.
    pub fn redo(&mut self) -> bool {
        let can = self.at + 1 < self.documents.len();
        self.at += usize::from(can);
        can
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thousand_steps_are_undone_and_made_again() {
        let mut document = crate::sample::document();
        let mut history = History::new(document.clone());
        for i in 0..1000 {
            document.title = format!("step {i}");
            assert!(history.push(document.clone(), format!("rename {i}")));
        }
        assert!(!history.push(document.clone(), "nothing"), "an equal document is no step");
        for _ in 0..1000 {
            assert!(history.undo());
        }
        assert!(!history.undo());
        assert_eq!(history.now().title, crate::sample::document().title);
        assert_eq!(history.redo_words(), Some("rename 0"));
        while history.redo() {}
        assert_eq!(history.now().title, "step 999");
        history.undo();
        document.title = "another way".into();
        history.push(document, "another way");
        assert!(!history.redo(), "what was undone is forgotten after a new step");
    }
}
