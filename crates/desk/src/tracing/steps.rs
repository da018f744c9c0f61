//! The card at the side: one step after the other, each with one sentence of what
//! to do.

use super::photo::{Ending, Photo, Step};
use super::{known, marks, outline, take};
use crate::about::{self, Topic};
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::on_its_own::on_its_own;
use crate::kit::panels::Panels;
use crate::kit::scroll::scrolled;
use egui::{ScrollArea, Ui};

/// Shows the card; says how the work ends, if it does.
pub(super) fn show(
    photo: &mut Photo,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) -> Option<Ending> {
    // On a low screen the steps are scrolled with the rest.
    let low = Panels::of(ui.ctx().content_rect().size(), board.settings.letters).low;
    if !low {
        all_steps(photo, ui);
    }
    let (mut end, before) = (None, photo.step);
    scrolled(ui, ScrollArea::vertical().auto_shrink([false, false]), true, |ui| {
        ui.set_max_width(ui.available_width());
        if low {
            all_steps(photo, ui);
        }
        if photo.about {
            about::text(topic(photo.step), board, requests, ui);
        }
        on_its_own(ui, "step", |ui| match photo.step {
            Step::Known => known::show(photo, board, ui),
            Step::Marks => marks::show(photo, board, ui),
            Step::Outline => outline::show(photo, board, requests, ui),
            Step::Grain => outline::grain(photo, board, ui),
            Step::Take => end = take::show(photo, board, ui),
        });
        if let Some((next, words)) = photo.step.next() {
            ui.add_space(10.0);
            if ui.button(words).clicked() {
                photo.go_to(next);
            }
        }
        ui.add_space(30.0);
    });
    if photo.step != before {
        requests.ask_for(Request::HushNotice);
    }
    end
}

/// The steps, one of which is open.
fn all_steps(photo: &mut Photo, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for step in Step::ALL {
            if ui.selectable_label(photo.step == step, step.name()).clicked() {
                photo.go_to(step);
            }
        }
        ui.add_space(6.0);
        about::switch(&mut photo.about, ui);
    });
    ui.separator();
}

fn topic(step: Step) -> Topic {
    match step {
        Step::Known => Topic::KnownSize,
        Step::Marks => Topic::Marks,
        Step::Outline => Topic::Edge,
        Step::Grain => Topic::Grain,
        Step::Take => Topic::BringIn,
    }
}
