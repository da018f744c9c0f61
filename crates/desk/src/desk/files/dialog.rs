//! Asking for a place: by the system's own dialog, or to be typed.

use super::places::{usual_name, usual_place};
use crate::board::asked::Asked;
use crate::desk::state::Desk;
use crate::kit::job::Job;
use egui::Context;
use std::path::Path;
use std::time::Duration;

/// Opens the system's own dialog beside the desk, which goes on meanwhile; where there is
/// none, or the maker types places rather, the window where one is typed.
pub(crate) fn ask(desk: &mut Desk, ctx: &Context, asked: Asked) {
    if desk.files.dialog.is_some() {
        return;
    }
    if desk.board.types_places() {
        return ask_typed(desk, asked);
    }
    let start = desk.board.filed.path().map(Path::to_owned);
    let document = desk.board.document().clone();
    let job = Job::begin(ctx, asked.title(), move |_| {
        let dialog = rfd::FileDialog::new().set_title(asked.title());
        let mut dialog = match asked {
            Asked::Bring => dialog.add_filter("Drawings", &["svg", "dxf"]),
            Asked::TakePhoto => dialog.add_filter("Photos", &["jpg", "jpeg", "png", "JPG", "JPEG"]),
            Asked::Photo => {
                dialog.add_filter("Photos and saved work", &["png", "jpg", "jpeg", "ron"])
            }
            Asked::ClassList => dialog.add_filter("Tables", &["csv", "CSV", "txt"]),
            Asked::AddPhoto => dialog.add_filter("Photos", &["png", "jpg", "jpeg"]),
            _ => dialog.add_filter("Hangtrue", &[asked.ending()]),
        };
        if let Some(folder) = start.as_ref().and_then(|p| p.parent()) {
            dialog = dialog.set_directory(folder);
        }
        if asked.reads() {
            dialog.pick_file()
        } else {
            dialog.set_file_name(usual_name(asked, start.as_deref(), &document)).save_file()
        }
    });
    desk.files.dialog = Some((asked, job));
}

/// Opens the window where a place is typed. For a file that is written the usual place
/// stands there already: beside the project, else where projects lie.
fn ask_typed(desk: &mut Desk, asked: Asked) {
    desk.files.typed = Some((asked, usual_place(desk, asked), None));
}

/// A dialog answered faster than this was not answered by a person: the system
/// has none to show.
pub(super) const TOO_FAST: Duration = Duration::from_millis(700);

pub(super) fn type_instead(desk: &mut Desk, asked: Asked) {
    desk.board.no_dialogs = true;
    let why = "The system has no file dialog to show, so type the place here.";
    desk.files.typed = Some((asked, usual_place(desk, asked), Some(why.into())));
}
