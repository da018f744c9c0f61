//! Undo and redo: every state of a thing as it was.

use std::sync::Arc;

/// The states in the order they were made, and where we stand among them.
#[derive(Debug, Clone)]
pub(crate) struct History<T> {
    states: Vec<(Arc<T>, String)>,
    at: usize,
    /// So many steps can be taken back; none is without end.
    most: Option<usize>,
}

impl<T: PartialEq> History<T> {
    /// A history without end that starts with a state.
    pub fn new(state: T) -> Self {
        Self { states: vec![(Arc::new(state), String::new())], at: 0, most: None }
    }

    /// A history that remembers so many steps.
    pub fn of_at_most(steps: usize, state: T) -> Self {
        Self { most: Some(steps), ..Self::new(state) }
    }

    /// The state as it is.
    pub fn now(&self) -> &Arc<T> {
        &self.states[self.at].0
    }

    /// How many steps can be taken back.
    pub fn steps(&self) -> usize {
        self.at
    }

    /// Takes the next state, with words for what was done; what was undone before is
    /// forgotten. A state equal to the present one adds nothing.
    pub fn push(&mut self, state: T, words: impl Into<String>) -> bool {
        if state == **self.now() {
            return false;
        }
        self.states.truncate(self.at + 1);
        self.states.push((Arc::new(state), words.into()));
        self.at += 1;
        if self.most.is_some_and(|most| self.at > most) {
            self.states.remove(0);
            self.at -= 1;
        }
        true
    }

    /// Takes the next state; when the last step had the same words it is the same
    /// step going on, as while a number is typed.
    pub fn push_on(&mut self, state: T, words: &str) -> bool {
        if state == **self.now() {
            return false;
        }
        if self.at > 0 && self.at + 1 == self.states.len() && self.states[self.at].1 == words {
            return self.amend(state);
        }
        self.push(state, words)
    }

    /// Puts a state in place of the present one, as the same step. False when it is
    /// no other.
    pub fn amend(&mut self, state: T) -> bool {
        let is_other = state != **self.now();
        if is_other {
            self.states[self.at].0 = Arc::new(state);
        }
        is_other
    }

    /// Words for what undo would take back, if anything.
    pub fn undo_words(&self) -> Option<&str> {
        (self.at > 0).then(|| self.states[self.at].1.as_str())
    }

    /// Words for what redo would make again, if anything.
    pub fn redo_words(&self) -> Option<&str> {
        self.states.get(self.at + 1).map(|d| d.1.as_str())
    }

    /// Takes back the last step. False when there is none.
    pub fn undo(&mut self) -> bool {
        let can = self.at > 0;
        self.at -= usize::from(can);
        can
    }

    /// Makes the step taken back again. False when there is none.
    pub fn redo(&mut self) -> bool {
        let can = self.at + 1 < self.states.len();
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

    #[test]
    fn a_history_with_an_end_forgets_its_oldest_steps() {
        let mut history = History::of_at_most(3, 0);
        for state in 1..=5 {
            history.push(state, "counting");
        }
        while history.undo() {}
        assert_eq!(**history.now(), 2, "three steps were taken back");
        assert!(history.amend(7) && !history.amend(7));
        assert!(history.redo());
        assert_eq!(**history.now(), 3);
    }
}
