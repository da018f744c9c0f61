//! A place that was asked for is given: what it was asked for is done there.

use super::opening::open_asking;
use super::photos::{add_photo, open_tracing};
use super::places::{sentence, usual_name, whole_place, with_ending};
use super::saving::save_as;
use super::writing::write;
use crate::board::asked::Asked;
use crate::desk::state::Desk;
use crate::{exchange, toile};
use egui::Context;
use hangtrue_files::save::{Over, SaveError, is_same_file, may_write};
use hangtrue_pattern::words::{InUnit, Words};
use std::path::{Path, PathBuf};

/// Does what a place was asked for; why not, when it cannot be written there.
fn take_answer(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) -> Result<(), Words> {
    match asked {
        Asked::Open => open_asking(desk, path),
        Asked::SaveAs => save_as(desk, ctx, &with_ending(&path, asked.ending()))?,
        Asked::BeginAs => desk.welcome.lies_in(path),
        Asked::Bring => exchange::bring::look_at(&mut desk.exchange.bring, ctx, path),
        Asked::TakePhoto => toile::take_in::look_at(&mut desk.cards.toile, ctx, path),
        Asked::Photo => open_tracing(desk, ctx, &path),
        Asked::AddPhoto => add_photo(desk, ctx, &path),
        Asked::ClassList => desk.exchange.class.list_is(&path),
        _ => {
            let told = write(desk, asked, &with_ending(&path, asked.ending()))?;
            desk.say(told);
        }
    }
    Ok(())
}

/// The same for a place that was typed: what was typed stands there again with the
/// reason when nothing could be written, so that it need not be typed anew.
pub(super) fn take_answer_typed(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    let place = path.display().to_string();
    if let Err(why) = take_answer(desk, ctx, asked, path) {
        let why = sentence(&why.in_unit(desk.board.unit()));
        desk.files.typed = Some((asked, place, Some(why)));
    }
}

/// Takes a place that the system's own dialog gave. It asked by itself about the
/// file it named, but not about the one with the ending added.
pub(super) fn take_chosen(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    if !asked.reads() && with_ending(&path, asked.ending()) != path {
        take_typed(desk, ctx, asked, path);
    } else if let Err(why) = take_answer(desk, ctx, asked, path) {
        desk.files.then = None;
        desk.say_fault(why);
    }
}

/// Takes a place that was typed; a file that lies there is not written over
/// unasked, and a project not at all but by its own saving.
pub(super) fn take_typed(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    let path = whole_place(desk, &path);
    let mut ask_again = |place: &Path, why: &str| {
        desk.files.typed = Some((asked, place.display().to_string(), Some(why.to_owned())));
    };
    if path.is_dir() {
        return if asked.reads() {
            ask_again(&path, "That is a folder: type the name of the file behind it.");
        } else {
            let name = usual_name(asked, desk.board.filed.path(), desk.board.document());
            ask_again(
                &path.join(name),
                "That is a folder: the name of the file stands behind it now.",
            );
        };
    }
    let place = with_ending(&path, asked.ending());
    let is_own = desk.board.filed.path().is_some_and(|own| is_same_file(own, &place));
    if asked.reads() || asked == Asked::BeginAs || (asked == Asked::SaveAs && is_own) {
        return take_answer_typed(desk, ctx, asked, path);
    }
    match may_write(&place, Over::Never) {
        Err(SaveError::Exists { .. }) => desk.files.over = Some((asked, place)),
        Err(why @ SaveError::IsProject { .. }) => ask_again(&place, &sentence(&why.to_string())),
        // What else is wrong is told by the writing.
        _ => take_answer_typed(desk, ctx, asked, path),
    }
}
