//! Saving the project: into its file or under another name, its photos with it.

use super::dialog::ask;
use crate::board::asked::Asked;
use crate::desk::looked;
use crate::desk::outside::notice;
use crate::desk::state::Desk;
use egui::Context;
use hangtrue_files::project::{self, Held, ProjectError};
use hangtrue_files::save::{Over, is_same_file};
use hangtrue_pattern::words::Words;
use std::path::Path;

/// Saves into the project's file, or asks for one.
pub(crate) fn save(desk: &mut Desk, ctx: &Context) {
    let Some(mut held) = desk.board.filed.held().cloned() else {
        return ask(desk, ctx, Asked::SaveAs);
    };
    desk.cards.toile.doubts.before_saving(&desk.board);
    match held.save(desk.board.document()) {
        Ok(()) => is_saved_at(desk, held),
        Err(ProjectError::ChangedMeanwhile { .. } | ProjectError::Gone { .. }) => {
            notice::ask_again(desk);
        }
        Err(why) => {
            desk.files.then = None;
            desk.say_fault(Words::why(why));
        }
    }
}

/// The project lies in that file now; its photos come along.
pub(crate) fn is_saved_at(desk: &mut Desk, held: Held) {
    let path = held.file().to_owned();
    desk.board.settings.used(&path);
    desk.keep_settings();
    desk.say(format!("saved in “{}”.", path.display()));
    desk.recovery.forget();
    let now = desk.board.history.now().clone();
    let before = desk.board.filed.saved_at(held, now);
    looked::remember(desk);
    match before.filter(|b| b.file() != path) {
        Some(before) => {
            photos_along(desk, before.file(), &path);
            desk.cards.toile.doubts.leave_file(before.file());
        }
        None => {
            let gone = desk.cards.toile.doubts.saved(&desk.board);
            gone.iter().for_each(|photo| desk.cards.toile.photos.forget(&path, photo));
        }
    }
}

/// Saves under a name that was asked for. Its own file is saved as always; another
/// project is never written over, and what else lies there only after it was asked.
pub(super) fn save_as(desk: &mut Desk, ctx: &Context, path: &Path) -> Result<(), Words> {
    if desk.board.filed.path().is_some_and(|own| is_same_file(own, path)) {
        save(desk, ctx);
        return Ok(());
    }
    let held = project::save_new_over(path, desk.board.document(), Over::Replace);
    is_saved_at(desk, held.map_err(Words::why)?);
    Ok(())
}

/// Photos lie beside the project's file: saved under another name, it takes them
/// along.
fn photos_along(desk: &mut Desk, from: &Path, to: &Path) {
    let document = desk.board.document().clone();
    let files: Vec<&str> = document.journal.photos.iter().map(|p| p.file.as_str()).collect();
    match hangtrue_files::album::copy_along(from, to, &files) {
        Ok(0) => {}
        Ok(1) => desk.say(format!("saved in “{}”; its photo was copied along.", to.display())),
        Ok(n) => desk.say(format!("saved in “{}”; {n} photos were copied along.", to.display())),
        Err(why) => desk.say_fault(Words::why(why)),
    }
}
