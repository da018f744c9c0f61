//! A photo comes on the desk: of a card to be traced, or of the toile.

use crate::board::stage::Stage;
use crate::desk::state::Desk;
use crate::toile;
use crate::tracing::photo::Photo;
use egui::Context;
use std::path::{Path, PathBuf};

/// A photo is one of the toile while the toile is looked at, else one of a card.
pub(super) fn take_photo(desk: &mut Desk, ctx: &Context, path: PathBuf) {
    if desk.board.stage == Stage::Toile && desk.board.filed.path().is_some() {
        toile::take_in::look_at(&mut desk.cards.toile, ctx, path);
    } else {
        open_tracing(desk, ctx, &path);
    }
}

/// Opens a photo, or a saved job, to be traced; nothing of the project is changed.
pub(super) fn open_tracing(desk: &mut Desk, ctx: &Context, file: &Path) {
    match Photo::open(ctx, file, desk.board.unit()) {
        Ok(photo) => {
            desk.set_trial(None);
            desk.board.notice = None;
            desk.tracing = Some(Box::new(photo));
        }
        Err(why) => desk.say_fault(why),
    }
}

/// Goes on with work that an earlier desk left in no file.
pub(crate) fn go_on_tracing(desk: &mut Desk, ctx: &Context, file: PathBuf) {
    open_tracing(desk, ctx, &file);
    if let Some(photo) = &mut desk.tracing {
        photo.goes_on_from(file);
        desk.say("this is the work on the photo that was not finished. Save it to keep it.");
    }
}

/// Adds a photo to those being traced.
pub(super) fn add_photo(desk: &mut Desk, ctx: &Context, file: &Path) {
    let Some(photo) = &mut desk.tracing else { return open_tracing(desk, ctx, file) };
    if let Err(why) = photo.add(ctx, file, desk.board.unit()) {
        desk.say_fault(why);
    }
}
