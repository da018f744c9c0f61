//! The mark by which a printed project is known again.

use crate::digest::digest_of;
use crate::ron_text;
use hangtrue_adjust::{Change, Document};

/// Hexadecimal digits of the mark: 64 bits, so that two states of a project have the
/// same by chance once in 10^19.
const DIGITS: usize = 16;

/// The mark of what a project's pieces are drawn from: where the pattern starts and
/// the changes that are made, without their names, and without rounds, which move
/// nothing; and the cutting plan. None when that cannot be written as text.
pub fn print_mark(document: &Document) -> Option<String> {
    let moves = |change: &&Change| !matches!(change, Change::CloseRound(_));
    let made = document.changes.iter().filter(|e| e.on).map(|e| &e.change);
    let made: Vec<&Change> = made.filter(moves).collect();
    // A plan in which nothing is chosen is left out: projects printed before there were
    // plans keep their mark.
    let plan = Some(&document.cutting).filter(|plan| !plan.is_usual());
    let text = match plan {
        None => ron_text::written(&(&document.start, made)),
        Some(plan) => ron_text::written(&(&document.start, made, plan)),
    };
    let text = text.ok()?;
    Some(digest_of(&text).chars().take(DIGITS).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_adjust::CloseRound;

    #[test]
    fn what_moves_paper_changes_the_mark_and_nothing_else_does() {
        let bare = crate::demo::bare().unwrap();
        let mark = print_mark(&bare).unwrap();
        assert_eq!(mark.len(), DIGITS);
        let mut other = bare.clone();
        other.title = "other".into();
        other.push("r", Change::CloseRound(CloseRound { date: String::new(), note: "n".into() }));
        assert_eq!(print_mark(&other).unwrap(), mark);
        crate::demo::mark(
            &mut other,
            &hangtrue_adjust::Replay::new(bare).current().unwrap().clone(),
        );
        let marked = print_mark(&other).unwrap();
        assert_ne!(marked, mark);
        other.changes.last_mut().unwrap().on = false;
        assert_ne!(print_mark(&other).unwrap(), marked);
    }
}
