//! The parameters of a method, to be typed and chosen.

use crate::board::Board;
use crate::kit::length_field::{bare_length_field, optional_length_field};
use crate::kit::number_field::percent_field;
use egui::Ui;
use hangtrue_adjust::{
    Distribute, Mates, Method, Proposal, SecondCut, Share, SlashAndLap, TopAndScoop,
};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::words::capital;

/// Shows the parameters of the method chosen.
pub(super) fn show(proposals: &[Proposal], board: &Board, ui: &mut Ui, method: &mut Method) {
    let (palette, unit) = (board.palette, board.unit());
    match method {
        Method::TopAndScoop(TopAndScoop { amount, zero_from_side, keep_waist }) => {
            ui.horizontal_wrapped(|ui| {
                ui.label("Centre goes down by");
                optional_length_field(
                    ui,
                    &palette,
                    "Centre goes down by",
                    amount,
                    unit,
                    "as pinned",
                );
            });
            ui.horizontal_wrapped(|ui| {
                let label = "Waist left alone, from the side";
                ui.label(label);
                bare_length_field(ui, &palette, label, zero_from_side, unit);
            });
            ui.checkbox(keep_waist, "Keep the sewn waist by the dart");
        }
        Method::SlashAndLap(slash) => slash_parameters(proposals, board, ui, slash),
        Method::Distribute(Distribute { take, mates }) => {
            ui.horizontal_wrapped(|ui| {
                ui.label("An even strip of");
                optional_length_field(ui, &palette, "An even strip of", take, unit, "the mean");
            });
            ui.radio_value(mates, Mates::Follow, "The other piece loses as much");
            ui.radio_value(mates, Mates::Ease, "The difference is eased in");
        }
    }
}

fn slash_parameters(proposals: &[Proposal], board: &Board, ui: &mut Ui, slash: &mut SlashAndLap) {
    ui.radio_value(&mut slash.second_cut, SecondCut::Least, "Second cut where it disturbs least");
    for proposal in proposals {
        let words = format!(
            "{}: laps {}",
            capital(&proposal.words),
            show_length(proposal.lap, board.unit())
        );
        ui.radio_value(&mut slash.second_cut, proposal.second_cut.clone(), words)
            .on_hover_text(proposal.consequence.in_unit(board.unit()));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Take");
        ui.radio_value(&mut slash.share, Share::All, "all of it");
        ui.radio_value(&mut slash.share, Share::WhatTheDartGives, "what the dart gives");
        let half = matches!(slash.share, Share::Part(_));
        if ui.radio(half, "a part").clicked() && !half {
            slash.share = Share::Part(0.5);
        }
        if let Share::Part(part) = &mut slash.share {
            percent_field(ui, &board.palette, "Part of the pinch taken", 0.0..=100.0, part);
        }
    });
    ui.checkbox(&mut slash.keep_crotch, "Redraw the crotch seam to its old length");
    if slash.keep_crotch {
        ui.checkbox(&mut slash.may_grow, "It may grow where cloth is let out");
    }
}
