//! The row above the photos: which photo is looked at, what was done, and the ways
//! out.

use super::{End, Photo};
use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use crate::kit::theme::bold;
use egui::{Button, Context, Ui};

/// Shows the row; says how the work ends, if it does.
pub(super) fn show(desk: &mut Desk, photo: &mut Photo, ui: &mut Ui) -> Option<End> {
    let mut leave = false;
    ui.horizontal_wrapped(|ui| {
        ui.heading("A piece from a photo");
        let saved = photo.said == photo.saved;
        ui.menu_button("Photo files", |ui| {
            ui.set_min_width(280.0);
            let row = |ui: &mut Ui, words: &str, keys: &str| {
                let plain = Button::new(words);
                let button = if keys.is_empty() { plain } else { plain.shortcut_text(keys) };
                let clicked = ui.add(button).clicked();
                if clicked {
                    ui.close();
                }
                clicked
            };
            if row(ui, "Add another photo of the piece…", "") {
                files::ask(desk, Asked::AddPhoto);
            }
            if row(ui, "Add a photo by typing its place…", "") {
                desk.files.typed = Some((Asked::AddPhoto, String::new(), None));
            }
            ui.separator();
            if row(ui, "Save the work on the photo…", "Ctrl+S") {
                files::ask(desk, Asked::SaveJob);
            }
            if row(ui, "Save the work by typing a place…", "") {
                desk.files.typed = Some((Asked::SaveJob, String::new(), None));
            }
            if photo.slots[photo.at].above.is_some() {
                ui.separator();
                if row(ui, "Save the picture from straight above…", "") {
                    files::ask(desk, Asked::SaveStraight);
                }
                if row(ui, "Save that picture by typing a place…", "") {
                    desk.files.typed = Some((Asked::SaveStraight, String::new(), None));
                }
            }
        });
        let undo = ui.add_enabled(!photo.past.is_empty(), Button::new("Undo"));
        if undo.on_hover_text("Ctrl+Z").clicked() {
            photo.undo();
        }
        let redo = ui.add_enabled(!photo.future.is_empty(), Button::new("Redo"));
        if redo.on_hover_text("Ctrl+Shift+Z").clicked() {
            photo.redo();
        }
        leave = ui.button("Leave the photo").clicked();
        let soft = desk.palette.text_soft;
        ui.colored_label(soft, "The project on the table is not changed by this.");
        if !saved && photo.past.len() > 2 {
            ui.colored_label(desk.palette.ochre, "not saved");
        }
    });
    if photo.slots.len() > 1 {
        ui.horizontal_wrapped(|ui| {
            for index in 0..photo.slots.len() {
                let words = format!("Photo {}: {}", index + 1, photo.said.photos[index].file);
                if ui.selectable_label(photo.at == index, words).clicked() {
                    photo.look_at(index);
                }
            }
        });
    }
    notice(desk, ui);
    if let Some(why) = &photo.not_kept {
        let words = format!("No safety copy of this work can be made: {why}. Save it now.");
        ui.colored_label(desk.palette.ochre, words);
    }
    if leave && photo.said != photo.saved {
        photo.leaving = true;
        leave = false;
    }
    leave.then_some(End::Leave)
}

fn notice(desk: &mut Desk, ui: &mut Ui) {
    let Some(notice) = desk.notice.clone() else { return };
    ui.horizontal_wrapped(|ui| {
        let (colour, word) = if notice.is_fault {
            (desk.palette.ochre, "Not done:")
        } else {
            (desk.palette.sage, "Done:")
        };
        ui.colored_label(colour, bold(word));
        ui.label(&notice.text);
        if ui.button("Close").clicked() {
            desk.notice = None;
        }
    });
}

/// Asks what becomes of work that is in no file.
pub(super) fn leaving(desk: &mut Desk, photo: &mut Photo, ctx: &Context) -> Option<End> {
    if !photo.leaving {
        return None;
    }
    let (mut keep, mut give_up, mut stay) = (false, false, false);
    stay |= crate::exchange::modal(ctx, "leave the photo", 440.0, |ui| {
        ui.heading("The work on the photo is not saved");
        ui.label("The marks and places you set are in no file yet.");
        ui.horizontal_wrapped(|ui| {
            keep = ui.button("Save it first").clicked();
            give_up = ui.button("Give it up").clicked();
            stay = ui.button("Stay here").clicked();
        });
    });
    if keep {
        files::ask(desk, Asked::SaveJob);
    }
    photo.leaving = !(keep || give_up || stay);
    give_up.then_some(End::Leave)
}
