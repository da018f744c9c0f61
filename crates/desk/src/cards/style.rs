//! Style on the fitted pattern: the list of styles, and one of them being given.

use super::correct::{made, name_row};
use super::{effect, legs};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::board::trial::Trial;
use crate::kit::length_field::{bare_length_field, step_of};
use crate::kit::say::{aside, part};
use crate::table::ways_out::accept_or_leave;
use egui::Ui;
use hangtrue_adjust::{Change, STYLES, Style};
use hangtrue_pattern::Leg;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::capital;

/// Shows the card: it is silent while another change is being tried.
pub(super) fn show(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let change = board.trial.as_ref().map(|trial| trial.change.clone());
    match change.as_ref().map(|change| (change.plain(), change.leg())) {
        Some((Change::Style(style), leg)) => work(board, requests, ui, style, leg),
        Some(_) => {}
        None => choose(board, requests, ui),
    }
}

fn choose(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Style");
    aside(
        board,
        ui,
        "Given to the pattern that fits. Each stands in the list and can be switched off: the fitted pattern below it stays as it is.",
    );
    for listed in STYLES {
        let about = listed.about;
        ui.add_space(4.0);
        if ui.button(capital(about.name)).clicked() {
            let style = (listed.with)(0.0).usual_in(board.unit());
            requests.show_now();
            requests.begin(Trial::new(about.name, Change::Style(style)));
        }
        let what = format!("It {}.", about.what);
        ui.add(egui::Label::new(egui::RichText::new(what).small()).wrap());
    }
    made(board, requests, ui, ("Styles given", |c| matches!(c.plain(), Change::Style(_))));
}

fn work(board: &Board, requests: &mut Requests, ui: &mut Ui, old: &Style, old_leg: Option<Leg>) {
    let about = old.about();
    let Some(trial) = board.trial.as_ref() else { return };
    let (mut name, mut leg, mut amount) = (trial.name.clone(), old_leg, old.amount());
    let what = format!("{}: it {}.", capital(about.name), about.what);
    ui.add(egui::Label::new(what).wrap());
    name_row(ui, &mut name, "Name of the style");
    let unit = board.unit();
    part(ui, "How much");
    let range = about.usual_range(unit);
    amount_row(board, ui, ("Amount of the style", about.amount, range), &mut amount);
    let mut new = old.with_amount(amount);
    if let (Some(second), Some(mut chosen)) = (about.second, old.second()) {
        let range = second.usual_range(unit);
        let called = ("Second amount of the style", second.amount, range);
        amount_row(board, ui, called, &mut chosen);
        new = new.with_second(chosen);
    }
    legs::choice(board, ui, &mut leg);
    if (&new, leg, &name) != (old, old_leg, &trial.name) {
        let change = Change::Style(new).on_leg(leg);
        requests.try_out(Trial { change, name, at: trial.at });
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
    part(ui, "What it does to the paper");
    ui.add(egui::Label::new(about.effect).wrap());
    effect::of_trial(board, ui);
}

/// The amount: typed, or by steps of the tape.
fn amount_row(
    board: &Board,
    ui: &mut Ui,
    (label, what, (low, high)): (&str, &str, (f64, f64)),
    amount: &mut f64,
) {
    let (palette, unit) = (board.palette, board.unit());
    aside(board, ui, format!("{}.", capital(what)));
    ui.horizontal_wrapped(|ui| {
        bare_length_field(ui, &palette, label, amount, unit);
        for (words, by) in [("Less", -step_of(unit)), ("More", step_of(unit))] {
            if ui.button(words).on_hover_text(show_length(by.abs(), unit)).clicked() {
                *amount += by;
            }
        }
    });
    let words = format!("From {} to {}.", show_length(low, unit), show_length(high, unit));
    aside(board, ui, words);
}
