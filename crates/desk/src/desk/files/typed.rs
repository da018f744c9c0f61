//! The little windows where a place is typed, and where a file lies there already.

use super::answer::{take_answer_typed, take_typed};
use crate::desk::state::Desk;
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::modal::{Edge, QUESTION, modal};
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Context, Key, Response, Ui};
use std::path::PathBuf;

pub(super) fn type_place(desk: &mut Desk, ctx: &Context) {
    let Some((asked, mut place, fault)) = desk.files.typed.clone() else { return };
    let (mut go, mut cancel) = (false, false);
    let mut leave = modal(ctx, "type a place", Edge::Note, QUESTION, |ui| {
        ui.heading(asked.title());
        ui.label("The folder and name of the file:");
        let field = ui.add(one_line(&mut place).desired_width(f32::INFINITY));
        name_field(ui, &field, "Place of the file");
        go = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if ui.memory(|m| m.focused().is_none()) {
            field.request_focus();
            cursor_to_end(ui, &field, &place);
        }
        if let Some(why) = &fault {
            ui.colored_label(desk.board.palette.ochre, why);
        }
        ui.horizontal(|ui| {
            go |= ui.button("Go on").clicked();
            cancel = ui.button("Cancel").clicked();
        });
    });
    leave |= cancel;
    let known = fault.clone();
    desk.files.typed = Some((asked, place.clone(), known));
    if go && !place.trim().is_empty() {
        desk.files.typed = None;
        take_typed(desk, ctx, asked, PathBuf::from(place.trim()));
    } else if leave {
        desk.files.typed = None;
        desk.files.then = None;
    }
}

/// The field of the place before may have left the cursor in the middle.
fn cursor_to_end(ui: &Ui, field: &Response, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), field.id).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(CCursorRange::one(end)));
    state.store(ui.ctx(), field.id);
}

pub(super) fn ask_over(desk: &mut Desk, ctx: &Context) {
    let Some((asked, place)) = desk.files.over.clone() else { return };
    let (mut over, mut other) = (false, false);
    let shut = modal(ctx, "over", Edge::Note, QUESTION, |ui| {
        ui.heading("There is a file of that name");
        ui.add(egui::Label::new(format!("“{}” would be written over.", place.display())).wrap());
        ui.horizontal_wrapped(|ui| {
            over = ui.button("Write over it").clicked();
            other = ui.button("Choose another place").clicked();
        });
    });
    if over {
        desk.files.over = None;
        take_answer_typed(desk, ctx, asked, place);
    } else if other || shut {
        desk.files.over = None;
        desk.files.typed = Some((asked, place.display().to_string(), None));
    }
}
