//! A piece from photos of its card: the photos in the middle, the steps at the
//! side. The project on the table is not changed before the traced piece is taken
//! in; then it is one change, or a new project.

mod bar;
mod canvas;
mod detail;
mod fields;
mod handle;
mod job_file;
mod known;
mod look;
mod loupe;
mod marks;
mod named;
mod outline;
pub(crate) mod photo;
mod said;
mod steps;
mod take;
pub(crate) mod unfinished;
mod work;

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::panels::Panels;
use egui::{CentralPanel, Context, Frame, Key, KeyboardShortcut, Margin, Modifiers, Panel, Ui};
use photo::{Ending, Photo, Step};
use std::path::Path;

pub(crate) use photo::takes;

/// Shows the photos in place of the table; true when the work on them has ended.
pub(crate) fn show(
    own: &mut Photo,
    own_folder: Option<&Path>,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) -> bool {
    let ctx = ui.ctx().clone();
    own.hear(requests, &ctx);
    let card = board.palette.card;
    let side = |margin: i8| Frame::new().fill(card).inner_margin(Margin::same(margin));
    let panels = Panels::of(ctx.content_rect().size(), board.settings.letters);
    let mut end = None;
    Panel::top("photos").frame(side(12)).show(ui, |ui| {
        end = bar::show(own, board, requests, ui);
    });
    Panel::right("photo steps")
        .frame(side(14))
        .exact_size(panels.card)
        .resizable(false)
        .show(ui, |ui| end = steps::show(own, board, requests, ui).or(end));
    CentralPanel::default().frame(Frame::NONE).show(ui, |ui| canvas::show(own, board, ui));
    end = bar::leaving(own, requests, &ctx).or(end);
    own.after(&ctx, own_folder);
    match end {
        None => false,
        Some(Ending::Leave) => true,
        // It is closed only when the piece was taken.
        Some(Ending::Into) => take::bring_into(own, board, requests),
        Some(Ending::New) => take::start_new(own, board, requests),
    }
}

/// Takes the keys while photos are traced.
pub(crate) fn keys(own: &mut Photo, requests: &mut Requests, ctx: &Context) {
    let pressed = |modifiers: Modifiers, key: Key| {
        ctx.input_mut(|i| i.consume_shortcut(&KeyboardShortcut::new(modifiers, key)))
    };
    let ctrl = Modifiers::COMMAND;
    if pressed(ctrl | Modifiers::SHIFT, Key::Z) || pressed(ctrl, Key::Y) {
        own.redo();
    } else if pressed(ctrl, Key::Z) {
        own.undo();
    }
    for (key, step) in
        [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5].into_iter().zip(Step::ALL)
    {
        if pressed(ctrl, key) {
            own.go_to(step);
        }
    }
    if pressed(ctrl, Key::S) {
        requests.ask(Asked::SaveJob);
    }
}
