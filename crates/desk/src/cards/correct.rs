//! Correct: the catalogue of corrections, and one of them being made.

use super::{effect, legs};
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::stage::is_correction;
use crate::board::trial::Trial;
use crate::hang::state::Hang;
use crate::hang::weighing::{self, Weighable};
use crate::kit::field::one_line;
use crate::kit::length_field::{bare_length_field, name_field, name_id, step_of};
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use crate::table::ways_out::accept_or_leave;
use egui::{ComboBox, Ui};
use hangtrue_adjust::corrections::About;
use hangtrue_adjust::corrections::Chapter;
use hangtrue_adjust::{AtDart, CATALOGUE, Change, Correction};
use hangtrue_pattern::Leg;
use hangtrue_pattern::units::{INCH, Unit, show_length};
use hangtrue_pattern::words::capital;

/// What the card keeps.
#[derive(Default)]
pub(crate) struct CorrectCard {
    /// What is looked for in the catalogue.
    wanted: String,
    /// The part of the catalogue that is open.
    open: Option<Chapter>,
}

/// Shows the card.
pub(super) fn show(
    (own, hang): (&mut CorrectCard, &mut Hang),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let change = board.trial.as_ref().map(|d| d.change.clone());
    match change.as_ref().map(|c| (c.plain(), c.leg())) {
        Some((Change::Correct(correction), leg)) => {
            work(hang, board, requests, ui, correction.clone(), leg)
        }
        // A style has a card of its own.
        Some((Change::Style(_), _)) => {}
        Some((Change::PartLegs(_), _)) => legs::parting(board, requests, ui),
        Some((Change::JoinLegs(join), _)) => legs::joining(board, requests, ui, *join),
        _ => choose(own, board, requests, ui),
    }
}

fn choose(own: &mut CorrectCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Look for");
        let field = one_line(&mut own.wanted).hint_text("seat, knee, dart …").desired_width(190.0);
        let field = ui.add(field);
        name_field(ui, &field, "Look for a correction");
    });
    let wanted = own.wanted.trim().to_lowercase();
    if wanted.is_empty() {
        for place in Chapter::ALL {
            group(own, board, requests, ui, place);
        }
    } else {
        let fits = |a: &About| a.name.contains(&wanted) || a.what.to_lowercase().contains(&wanted);
        let found: Vec<About> = CATALOGUE.iter().map(|l| l.about).filter(fits).collect();
        if found.is_empty() {
            ui.label("No correction speaks of that. Empty the field to see them all.");
        }
        for about in found {
            offer(board, requests, ui, about);
        }
    }
    made(board, requests, ui, ("Corrections made", is_correction));
    ui.add_space(8.0);
    legs::offer(board, requests, ui);
    aside(
        board,
        ui,
        "What each correction is for is common practice, with no published source; how it is drawn is ours.",
    );
}

/// A part of the catalogue, to be opened and folded away.
fn group(
    own: &mut CorrectCard,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    place: Chapter,
) {
    let open = own.open == Some(place);
    let names: Vec<&str> = place.corrections().map(|l| l.about.name).collect();
    let (place_words, names) = (place.heading(), names.join(", "));
    let words = format!("{place_words}: {names}");
    let sign = if open { "–" } else { "+" };
    let button = egui::Button::new((bold(place_words), egui::Atom::grow(), sign)).selected(open);
    let button = ui.add(button.min_size(egui::vec2(ui.available_width(), 0.0)));
    name_field(ui, &button, &words);
    if button.clicked() {
        own.open = if open { None } else { Some(place) };
    }
    if open {
        for listed in place.corrections() {
            offer(board, requests, ui, listed.about);
        }
        ui.add_space(6.0);
    } else {
        aside(board, ui, names);
    }
}

/// One correction and what it is for.
fn offer(board: &Board, requests: &mut Requests, ui: &mut Ui, about: About) {
    ui.add_space(4.0);
    if ui.button(capital(about.name)).clicked() {
        begin(board, requests, about);
    }
    let what = format!("It {}.", about.what);
    ui.add(egui::Label::new(egui::RichText::new(what).small()).wrap());
}

/// Lays a correction on the table by a first amount.
fn begin(board: &Board, requests: &mut Requests, about: About) {
    let Ok(correction) = Correction::named(about.name, first_amount(about, board.unit())) else {
        return;
    };
    requests.show_now();
    requests.begin(Trial::new(about.name, Change::Correct(correction)));
}

/// An amount to begin with: 1/4 in or 5 mm, when the correction takes as much.
fn first_amount(about: About, unit: Unit) -> f64 {
    let usual = if matches!(unit, Unit::Mm | Unit::Cm) { 5.0 } else { INCH / 4.0 };
    let (low, high) = about.usual(unit);
    if high > 0.0 { usual.min(high) } else { (-usual).max(low) }
}

/// The changes of a kind that were made, to be edited again.
pub(super) fn made(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    (heading, is_of_kind): (&str, fn(&Change) -> bool),
) {
    let changes = board.document().changes.iter().enumerate();
    let mut changes = changes.filter(|(_, entry)| is_of_kind(&entry.change)).peekable();
    if changes.peek().is_some() {
        part(ui, heading);
    }
    for (index, entry) in changes {
        let words = format!("Edit “{}” again ({})", entry.name, entry.change.words(board.unit()));
        if ui.add(egui::Button::new(words).wrap()).clicked() {
            requests.ask_for(Request::EditAgain(index));
        }
    }
}

fn work(
    hang: &mut Hang,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    old: Correction,
    old_leg: Option<Leg>,
) {
    let about = old.about();
    let (mut new, mut leg) = (old.clone(), old_leg);
    let what = format!("{}: it {}.", capital(about.name), about.what);
    ui.add(egui::Label::new(what).wrap());
    let Some(trial) = board.trial.as_ref() else { return };
    let mut name = trial.name.clone();
    name_row(ui, &mut name, "Name of the correction");
    let mut amount = old.amount();
    amount_rows(board, ui, about, &mut amount);
    new = new.with_amount(amount);
    dart_row(board, ui, &mut new);
    legs::choice(board, ui, &mut leg);
    if (&new, leg, &name) != (&old, old_leg, &trial.name) {
        let change = Change::Correct(new).on_leg(leg);
        requests.try_out(Trial { change, name, at: trial.at });
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
    part(ui, "What it does to the paper");
    ui.add(egui::Label::new(about.effect).wrap());
    effect::of_trial(board, ui);
    on_the_body(hang, board, ui, about.name);
    ui.add_space(8.0);
    aside(
        board,
        ui,
        "Sure of the amount? Pin or let out the toile by as much before you cut again. Safety pins when the wearer has to sit.",
    );
}

/// What the correction on the table would do to the marked lines.
fn on_the_body(hang: &mut Hang, board: &Board, ui: &mut Ui, name: &str) {
    let (Some(before), Some(after)) = (board.trial_base(), board.trial_made()) else { return };
    let change = Weighable { name: name.to_owned(), before, after };
    on_its_own(ui, "on the body", |ui| {
        weighing::show(hang, board, ui, &change, std::slice::from_ref(&change));
    });
}

/// The name of the change being tried.
pub(super) fn name_row(ui: &mut Ui, name: &mut String, label: &str) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        let field = ui.add(one_line(name).desired_width(190.0));
        name_field(ui, &field, label);
    });
}

/// The amount: typed, by steps of the tape, or along the usual range.
fn amount_rows(board: &Board, ui: &mut Ui, about: About, amount: &mut f64) {
    let (palette, unit) = (board.palette, board.unit());
    let (low, high) = about.usual(unit);
    part(ui, "How much");
    aside(board, ui, format!("{}.", capital(about.amount)));
    ui.horizontal_wrapped(|ui| {
        bare_length_field(ui, &palette, "Amount of the correction", amount, unit);
        let step = step_of(unit);
        for (words, by) in [("Less", -step), ("More", step)] {
            let button = ui.button(words).on_hover_text(show_length(by.abs(), unit));
            if button.clicked() {
                *amount += by;
            }
        }
        if ui.button("The other way").clicked() {
            *amount = -*amount;
        }
    });
    ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(60.0);
    let slider = egui::Slider::new(amount, low..=high).show_value(false);
    // An amount beyond the usual range may be typed, and is not drawn back into it.
    let slider = ui.add(slider.clamping(egui::SliderClamping::Edits));
    name_field(ui, &slider, "Amount along the usual range");
    if slider.dragged() || slider.changed() {
        let step = 0.5 * step_of(unit);
        *amount = (*amount / step).round() * step;
    }
    let usual = format!("Usually {} to {}.", show_length(low, unit), show_length(high, unit));
    if (low..=high).contains(amount) {
        aside(board, ui, usual);
    } else {
        ui.colored_label(palette.ochre, format!("More than is usual. {usual}"));
    }
}

/// Which dart, for the corrections of one dart.
fn dart_row(board: &Board, ui: &mut Ui, correction: &mut Correction) {
    let Some(AtDart { piece, dart }) = correction.dart() else { return };
    let Some(base) = board.trial_base() else { return };
    let one = if base.is_apart() { base.one_leg(Leg::Right) } else { (*base).clone() };
    let chosen = match dart.as_deref() {
        Some(dart) => format!("{dart} of the {piece}"),
        None => format!("the one nearest the centre of the {piece}"),
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Which dart");
        let combo = ComboBox::from_id_salt("dart").selected_text(&chosen).show_ui(ui, |ui| {
            for on in &one.pieces {
                for (_, _, there) in on.darts() {
                    let words = format!("{} of the {}", there.name, on.name);
                    if ui.selectable_label(words == chosen, &words).clicked() {
                        piece.clone_from(&on.name);
                        *dart = Some(there.name.clone());
                    }
                }
            }
        });
        name_id(ui, combo.response.id, &format!("Which dart: {chosen}"));
    });
}
