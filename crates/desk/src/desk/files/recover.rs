//! What was not saved the last time is offered again.

use crate::desk::recovery::LeftBehind;
use crate::desk::state::Desk;
use crate::kit::modal::{Edge, QUESTION, modal};
use egui::Context;
use hangtrue_files::project::{self, Standing};

pub(super) fn offer_recovery(desk: &mut Desk, ctx: &Context) {
    let Some(LeftBehind { file, kept, standing }) = desk.files.left_behind.first().cloned() else {
        return;
    };
    let (mut take, mut throw, mut later) = (false, false, false);
    later |= modal(ctx, "recover", Edge::Note, QUESTION, |ui| {
        ui.heading("Recover what was not saved");
        let place = kept.place().map_or("no file".into(), |f| f.display().to_string());
        ui.label(format!(
            "The desk closed last time before “{}” for {} was saved ({place}, {} changes).",
            kept.document.title,
            kept.document.client,
            kept.document.changes.len()
        ));
        if let Some(words) = standing_words(kept.held.is_some(), standing) {
            ui.add(egui::Label::new(words).wrap());
        }
        ui.horizontal_wrapped(|ui| {
            take = ui.button("Recover it").clicked();
            throw = ui.button("Throw it away").clicked();
            later = ui.button("Ask again next time").clicked();
        });
    });
    if take {
        let rest = desk.files.left_behind.split_off(1);
        let is_as_read = standing == Some(Standing::AsRead);
        desk.put(kept.document, kept.held);
        desk.files.left_behind = rest;
        desk.board.filed.never_saved();
        desk.recovery.work_done();
        let held = desk.board.filed.held().cloned();
        desk.recovery.takes_over(file, desk.board.history.now(), held.as_ref());
        desk.cards.toile.doubts.take_over(&desk.board);
        desk.say(if is_as_read {
            "recovered. Save it to keep it."
        } else {
            "recovered. Save it to keep it; you are asked where to."
        });
    } else if throw {
        let _ = std::fs::remove_file(file);
        desk.files.left_behind.remove(0);
        // Photos that only this work named go with it.
        if let Some(held) = &kept.held {
            let _ = project::open(held.file());
        }
    } else if later {
        desk.files.left_behind.clear();
    }
}

/// What is to be known of the file that unsaved work belongs to.
fn standing_words(is_known: bool, standing: Option<Standing>) -> Option<&'static str> {
    match standing {
        Some(Standing::AsRead) => None,
        Some(Standing::Changed) => {
            Some("Its file was changed since. Nothing is saved over that; you are asked first.")
        }
        Some(Standing::Gone) => {
            Some("Its file is no longer there. When you save, you are asked where to.")
        }
        // Kept by an older version, which did not say which file it meant.
        None if !is_known => Some("When you save it, you are asked where to."),
        None => None,
    }
}
