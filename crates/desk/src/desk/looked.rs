//! What was looked at stays looked at when the desk is opened again: the lines as sewn and
//! the walked seams, for each project's file, by the mark of what they were looked at on.

use super::state::Desk;
use crate::board::settings::LookedAt;
use hangtrue_adjust::{CuttingPlan, Document};
use hangtrue_files::print::print_mark;
use hangtrue_pattern::Pattern;
use std::sync::Arc;

/// The mark of the pattern itself, without what is cut of it.
fn mark(document: &Document) -> Option<String> {
    print_mark(&Document { cutting: CuttingPlan::default(), ..document.clone() })
}

/// Keeps what was looked at, beside the other settings of the desk.
pub(super) fn remember(desk: &mut Desk) {
    let board = &mut desk.board;
    // What is only being tried is not the project.
    if board.trial.is_some() || board.dirty {
        return;
    }
    let (Some(file), Ok(now)) = (board.filed.path(), board.replay.current()) else { return };
    let is_now = |seen: &Arc<Pattern>| **seen == **now;
    let sewn = board.seen.as_sewn.as_ref().is_some_and(is_now);
    let walked = board.seen.walked.as_ref().is_some_and(is_now);
    if !sewn && !walked {
        return;
    }
    let Some(mark) = mark(board.document()) else { return };
    let before = board.settings.looked_at(file).cloned();
    let mut looked = before.clone().unwrap_or_else(|| LookedAt::nothing(file));
    if sewn {
        looked.as_sewn = Some(mark.clone());
    }
    if walked {
        looked.walked = Some(mark);
    }
    if before.as_ref() != Some(&looked) {
        board.settings.has_looked(looked);
        desk.keep_settings();
    }
}

/// Takes up what was looked at in the file that was just laid on the desk, and turns to
/// what comes next.
pub(super) fn take_up(desk: &mut Desk) {
    recall(desk);
    desk.board.stage = desk.board.next().0;
}

fn recall(desk: &mut Desk) {
    let board = &mut desk.board;
    let (Some(file), Ok(now)) = (board.filed.path(), board.replay.current()) else { return };
    let Some(looked) = board.settings.looked_at(file) else { return };
    let mark = mark(board.document());
    board.seen.as_sewn = looked.as_sewn.as_ref().map(|then| {
        // What they were looked at on is gone: no pattern is like it.
        if Some(then) == mark.as_ref() { now.clone() } else { Arc::default() }
    });
    board.seen.walked =
        looked.walked.as_ref().filter(|then| Some(*then) == mark.as_ref()).map(|_| now.clone());
    desk.judge();
}
