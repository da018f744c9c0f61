//! A project comes on the desk: opened from its file, or just begun.

use super::asking::Leaving;
use super::places::{sentence, whole_place, with_ending};
use crate::board::asked::Asked;
use crate::board::stage::Stage;
use crate::desk::state::Desk;
use hangtrue_adjust::Document;
use hangtrue_files::project;
use hangtrue_pattern::words::Words;
use std::path::{Path, PathBuf};

/// Opens a file, after asking when there is unsaved work.
pub(crate) fn open_asking(desk: &mut Desk, path: PathBuf) {
    if desk.board.is_unsaved() {
        desk.files.leaving = Some(Leaving::Open(path));
    } else {
        open(desk, &path);
    }
}

/// Opens the form of a new client, after asking when there is unsaved work.
pub(crate) fn new_asking(desk: &mut Desk) {
    if desk.board.is_unsaved() {
        desk.files.leaving = Some(Leaving::New);
    } else {
        desk.welcome.new_client();
    }
}

/// Puts a project that was just begun on the desk, saved where it was asked to be. A
/// file that is there already is never written over: the form says so.
pub(crate) fn begin(desk: &mut Desk, document: Document, place: Option<PathBuf>) {
    let Some(place) = place else {
        desk.put(document, None);
        desk.board.filed.never_saved();
        desk.recovery.work_done();
        return desk.go_to(Stage::Block);
    };
    let place = whole_place(desk, &place);
    if place.is_dir() {
        let why = format!("“{}” is a folder: write the file’s name behind it.", place.display());
        return desk.welcome.refused(why);
    }
    let place = with_ending(&place, Asked::BeginAs.ending());
    match project::save_new(&place, &document) {
        Ok(held) => {
            desk.put(document, Some(held));
            desk.board.settings.used(&place);
            desk.keep_settings();
            desk.go_to(Stage::Block);
            desk.say(format!("the block is drafted, and saved in “{}”.", place.display()));
        }
        Err(why) => desk.welcome.refused(sentence(&why.to_string())),
    }
}

pub(super) fn open(desk: &mut Desk, path: &Path) {
    match project::open(path) {
        Ok((document, held)) => {
            desk.put(document, Some(held));
            desk.board.settings.used(path);
            desk.keep_settings();
        }
        Err(why) => desk.say_fault(Words::why(why)),
    }
}
