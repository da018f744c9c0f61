//! The row above the photos: which photo is looked at, what was done, and the ways
//! out.

use super::photo::{Ending, Photo};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests};
use crate::kit::menu::row;
use crate::kit::modal::{Edge, QUESTION, modal};
use crate::kit::panels::Panels;
use crate::kit::theme::bold;
use egui::{Button, Context, Ui};

/// Shows the row; says how the work ends, if it does.
pub(super) fn show(
    photo: &mut Photo,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) -> Option<Ending> {
    let mut leave = false;
    ui.horizontal_wrapped(|ui| {
        // On a low screen what is pressed has the room.
        let low = Panels::of(ui.ctx().content_rect().size(), board.settings.letters).low;
        if !low {
            ui.heading("A piece from a photo");
        }
        let saved = !photo.is_unsaved();
        let (steps, can_redo) = photo.steps();
        ui.menu_button("Photo files", |ui| {
            ui.set_min_width(280.0);
            if row(ui, "Add another photo of the piece…", "") {
                requests.ask(Asked::AddPhoto);
            }
            ui.separator();
            if row(ui, "Save the work on the photo…", "Ctrl+S") {
                requests.ask(Asked::SaveJob);
            }
            if photo.slots[photo.at].above.is_some() {
                ui.separator();
                if row(ui, "Save the picture from straight above…", "") {
                    requests.ask(Asked::SaveStraight);
                }
            }
        });
        let undo = ui.add_enabled(steps > 0, Button::new("Undo"));
        if undo.on_hover_text("Ctrl+Z").clicked() {
            photo.undo();
        }
        let redo = ui.add_enabled(can_redo, Button::new("Redo"));
        if redo.on_hover_text("Ctrl+Shift+Z").clicked() {
            photo.redo();
        }
        leave = ui.button("Leave the photo").clicked();
        let soft = board.palette.text_soft;
        if !low {
            ui.colored_label(soft, "The project on the table is not changed by this.");
        }
        if !saved && steps > 2 {
            ui.colored_label(board.palette.ochre, "not saved");
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
    notice(board, requests, ui);
    if let Some(why) = &photo.not_kept {
        let words = format!("No safety copy of this work can be made: {why}. Save it now.");
        ui.colored_label(board.palette.ochre, words);
    }
    if leave && photo.is_unsaved() {
        photo.leaving = true;
        leave = false;
    }
    leave.then_some(Ending::Leave)
}

fn notice(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(notice) = board.notice.clone() else { return };
    ui.horizontal_wrapped(|ui| {
        let (colour, word) = if notice.is_fault {
            (board.palette.ochre, "Not done:")
        } else {
            (board.palette.sage, "Done:")
        };
        ui.colored_label(colour, bold(word));
        ui.label(&notice.text);
        if ui.button("Close").clicked() {
            requests.ask_for(Request::HushNotice);
        }
    });
}

/// Asks what becomes of work that is in no file.
pub(super) fn leaving(photo: &mut Photo, requests: &mut Requests, ctx: &Context) -> Option<Ending> {
    if !photo.leaving {
        return None;
    }
    let (mut keep, mut give_up, mut stay) = (false, false, false);
    stay |= modal(ctx, "leave the photo", Edge::Thin, QUESTION, |ui| {
        ui.heading("The work on the photo is not saved");
        ui.label("The marks and places you set are in no file yet.");
        ui.horizontal_wrapped(|ui| {
            keep = ui.button("Save it first").clicked();
            give_up = ui.button("Give it up").clicked();
            stay = ui.button("Stay here").clicked();
        });
    });
    if keep {
        requests.ask(Asked::SaveJob);
    }
    photo.leaving = !(keep || give_up || stay);
    give_up.then_some(Ending::Leave)
}
