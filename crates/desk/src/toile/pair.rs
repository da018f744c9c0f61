//! Two photos chosen to be compared: before and after.

/// The two photos and whether they lie in place of the table.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pair {
    pub before: Option<String>,
    pub after: Option<String>,
    pub shown: bool,
}

impl Pair {
    /// Both, when they are chosen and shown.
    pub fn both(&self) -> Option<(String, String)> {
        if self.shown { self.before.clone().zip(self.after.clone()) } else { None }
    }
}
