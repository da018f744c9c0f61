//! That the file was written by somebody else is noticed.

use super::found::{OnDisk, Outside, Question, found};
use crate::desk::at_desks::AtDesk;
use crate::desk::state::Desk;
use crate::kit::watch::Watch;
use egui::Context;
use hangtrue_adjust::differences;
use hangtrue_files::project::{Held, Standing};
use std::path::Path;

/// Looks whether somebody else wrote the file, and whether the project lies on a
/// second desk.
pub(crate) fn look(desk: &mut Desk, ctx: &Context) {
    let Some(held) = desk.board.filed.held().cloned() else {
        desk.outside = Outside::default();
        return;
    };
    if desk.outside.watch.as_ref().is_none_or(|w| w.file() != held.file()) {
        desk.outside.watch = Some(Watch::begin(ctx, held.file()));
        desk.outside.put_off = None;
        // It may have been written between the reading and now.
        notice(desk, &held);
    }
    mark_at_desk(desk, held.file());
    if desk.outside.watch.as_ref().is_some_and(Watch::take_changed) {
        notice(desk, &held);
    }
}

fn notice(desk: &mut Desk, held: &Held) {
    if held.standing() == Standing::AsRead {
        // Put right by whoever wrote it.
        desk.outside.question = None;
        desk.board.filed.differs = false;
        return;
    }
    let found = found(held);
    if desk.outside.put_off.as_ref() != Some(&found) {
        ask(desk, found);
    }
}

fn mark_at_desk(desk: &mut Desk, project: &Path) {
    let Some(own) = desk.own_folder.as_deref() else { return };
    if desk.outside.at_desk.as_ref().is_some_and(|a| a.project() == project) {
        return;
    }
    // The mark of the project before goes first.
    desk.outside.at_desk = None;
    let at_desk = AtDesk::mark(own, project);
    if at_desk.is_elsewhere() {
        desk.say_fault(format!(
            "“{}” lies on another desk too. Work on it at one of them: what one saves, the other has to take before it can save.",
            project.display()
        ));
    }
    desk.outside.at_desk = Some(at_desk);
}

/// Saving was refused: the file is not the one that was read.
pub(crate) fn ask_again(desk: &mut Desk) {
    if let Some(held) = desk.board.filed.held().cloned() {
        ask(desk, found(&held));
    }
}

fn ask(desk: &mut Desk, found: OnDisk) {
    desk.board.filed.differs = true;
    let mine = desk.board.document();
    let differences = match &found {
        OnDisk::Theirs(theirs, _) => Some(match desk.board.filed.saved() {
            Some(read) => [differences(read, theirs), differences(read, mine)],
            // What it was when it was read is not known any more.
            None => [differences(mine, theirs), differences(theirs, mine)],
        }),
        _ => None,
    };
    desk.outside.put_off = None;
    desk.outside.question = Some(Question { found, differences, shown: false });
}
