//! Unsaved work before it is left: saved first, given up, or stayed with.

use super::asking::Leaving;
use super::opening::open;
use super::saving::save;
use crate::desk::state::Desk;
use crate::kit::modal::{Edge, QUESTION, modal};
use egui::Context;

pub(super) fn ask_leaving(desk: &mut Desk, ctx: &Context) {
    let Some(leaving) = desk.files.leaving.clone() else { return };
    let (mut keep, mut give_up, mut stay) = (false, false, false);
    stay |= modal(ctx, "not saved", Edge::Note, QUESTION, |ui| {
        ui.heading("This work is not saved");
        ui.label(format!("“{}” has changes that are in no file yet.", desk.board.document().title));
        ui.horizontal_wrapped(|ui| {
            let first = ui.button("Save first");
            if ui.memory(|m| m.focused().is_none()) {
                first.request_focus();
            }
            keep = first.clicked();
            give_up = ui.button("Give the changes up").clicked();
            stay = ui.button("Stay here").clicked();
        });
    });
    if keep {
        desk.files.leaving = None;
        desk.files.then = Some(leaving);
        save(desk, ctx);
    } else if give_up {
        desk.files.leaving = None;
        desk.recovery.forget();
        desk.cards.toile.doubts.leave(&desk.board);
        match leaving {
            Leaving::Close => {
                desk.files.may_close = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
            Leaving::Open(path) => open(desk, &path),
            Leaving::New => {
                // What was given up is not asked about again.
                let saved = desk.board.filed.saved().cloned();
                if let Some(saved) = saved {
                    let held = desk.board.filed.held().cloned();
                    desk.put(saved, held);
                }
                desk.welcome.new_client();
            }
        }
    } else if stay {
        desk.files.leaving = None;
    }
}

/// Goes on to what was asked for before the work was saved.
pub(super) fn go_on(desk: &mut Desk, ctx: &Context) {
    let waits = desk.files.dialog.is_some() || desk.files.typed.is_some();
    if waits || desk.outside.asks() || desk.files.over.is_some() || desk.board.is_unsaved() {
        return;
    }
    match desk.files.then.take() {
        Some(Leaving::Close) => {
            desk.files.may_close = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        Some(Leaving::Open(path)) => open(desk, &path),
        Some(Leaving::New) => desk.welcome.new_client(),
        None => {}
    }
}
