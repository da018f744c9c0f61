//! The card: settling, from where it is looked at, how the lines hang, and the body.

use super::state::Hang;
use super::{body_fields, lines, work};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::board::stage::Stage;
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, fault, part, told};
use crate::kit::theme::bold;
use egui::{Label, ProgressBar, Ui};
use hangtrue_drape::LABEL;
use hangtrue_drape::picture::Viewpoint;
use hangtrue_pattern::words::InUnit;

/// The button that opens it, where lines are marked and where they are read as sewn.
pub(crate) fn invite(own: &mut Hang, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "How will it hang?");
    aside(
        board,
        ui,
        "Before cloth is cut: how the sewn pieces hang on a body of these measures. Predicted, not seen.",
    );
    if ui.button("Show how it will hang").clicked() {
        (own.open, own.wanted) = (true, true);
        requests.turn_away();
        requests.go_to(Stage::AsSewn);
    }
}

/// Shows the card.
pub(crate) fn show(own: &mut Hang, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    if !own.open {
        return invite(own, board, requests, ui);
    }
    work::look(own, board, ui.ctx());
    work::begin_wanted(own, board, ui.ctx());
    if ui.button("Back to the cutting table").clicked() {
        own.open = false;
        return;
    }
    ui.add(Label::new(bold(LABEL).color(board.palette.madder)).wrap());
    if own.asked.is_none() {
        return body_fields::no_body(board, requests, ui);
    }
    on_its_own(ui, "settling", |ui| settling(own, board, ui));
    looked_at(own, ui);
    on_its_own(ui, "what came of it", |ui| {
        if own.is_fresh() {
            lines::show(own, board, requests, ui);
            doubts(own, board, ui);
            if ui.button("Save the picture…").clicked() {
                requests.ask(Asked::SaveHang);
            }
        }
    });
    body_fields::show(own, board, requests, ui);
}

/// The button that works it out from another card, and its progress.
pub(crate) fn work_out_here(own: &mut Hang, board: &Board, ui: &mut Ui) {
    work::look(own, board, ui.ctx());
    if own.asked.is_some() {
        settling(own, board, ui);
    }
}

fn settling(own: &mut Hang, board: &Board, ui: &mut Ui) {
    if let Some(work) = &own.work {
        let (words, done) = (work.job.words.clone(), work.job.part as f32);
        // Beside large letters the words would be cut off in the bar.
        ui.add(Label::new(words).wrap());
        ui.add(ProgressBar::new(done));
        if ui.button("Stop working it out").clicked() {
            own.work = None;
        }
        aside(
            board,
            ui,
            "It takes from some seconds to some minutes, as fast as the machine is. Go on at any other stage meanwhile: when it is done you are told there.",
        );
        return;
    }
    if let Some(why) = &own.fault {
        fault(board, ui, why);
    }
    if own.is_fresh() {
        let began_earlier = own.shown.as_ref().is_some_and(|s| s.told.began_earlier);
        if began_earlier && ui.button("Work it out afresh").clicked() {
            work::begin(own, board, ui.ctx(), false);
        }
        return;
    }
    if own.shown.is_some() {
        told(board, ui, "Something was changed since: the picture is of before.".into(), true);
        ui.horizontal_wrapped(|ui| {
            if ui.button("Work it out from where it lay").clicked() {
                work::begin(own, board, ui.ctx(), true);
            }
            if ui.button("Work it out afresh").clicked() {
                work::begin(own, board, ui.ctx(), false);
            }
        });
        aside(
            board,
            ui,
            "From where it lay takes a second or two and has a wide ±; afresh takes some seconds more.",
        );
    } else {
        if ui.button("Work out how it hangs").clicked() {
            work::begin(own, board, ui.ctx(), false);
        }
    }
}

/// From where it is looked at.
fn looked_at(own: &mut Hang, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        for (view, name) in
            [(Viewpoint::BACK, "Back"), (Viewpoint::SIDE, "Side"), (Viewpoint::FRONT, "Front")]
        {
            let chosen = own.view == view;
            let button = ui.add(egui::Button::selectable(chosen, name));
            let label = format!("Look from the {}", name.to_lowercase());
            crate::kit::length_field::name_field(ui, &button, &label);
            if button.clicked() {
                own.view = view;
                (own.near, own.moved) = (1.0, egui::Vec2::ZERO);
            }
        }
        ui.checkbox(&mut own.thin, "Body seen through the cloth");
    });
}

fn doubts(own: &Hang, board: &Board, ui: &mut Ui) {
    let Some(shown) = &own.shown else { return };
    let slipped = shown.settled.first.slipped;
    for (k, doubt) in
        hangtrue_drape::doubts(&shown.pattern, &shown.told, &shown.settled).iter().enumerate()
    {
        told(board, ui, doubt.in_unit(board.unit()), slipped && k == 0);
    }
}
