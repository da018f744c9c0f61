//! Body: the measures, with a figure that shows where each is taken, and words
//! for those that contradict each other.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::kit::field::one_line;
use crate::kit::length_field::name_field;
use crate::kit::measure_row::{Rows, figure_beside_words, is_judged, measure_row};
use crate::kit::say::{aside, fault};
use egui::Ui;
use hangtrue_adjust::Start;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{DraftError, Measure, Measures, draft};

/// Measures as typed that do not make a block yet.
#[derive(Debug, Clone, Default)]
pub(crate) struct BodyCard {
    typed: Option<(Measures, DraftError)>,
}

/// Shows the card.
pub(super) fn show(own: &mut BodyCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    names(board, requests, ui);
    let Start::Block { measures, plan } = board.document().start.clone() else {
        ui.label("This project started from pieces that were brought in, not from measures.");
        return;
    };
    let rows = Rows { palette: board.palette, unit: board.unit(), letters: board.settings.letters };
    figure_beside_words(ui, rows, 230.0 * board.settings.letters.sqrt());
    let wrong = own.typed.clone();
    let mut new = wrong.as_ref().map_or_else(|| measures.clone(), |w| w.0.clone());
    let mut changed = None;
    for measure in Measure::ALL {
        if measure_row(ui, rows, measure, &mut new, wrong.as_ref().map(|w| &w.1), "") {
            changed = Some(measure);
        }
    }
    if let Some(measure) = changed {
        match draft(&new, &plan) {
            Ok(_) => {
                own.typed = None;
                requests.edit_on(&format!("the {measure}"), move |d| {
                    d.start = Start::Block { measures: new, plan };
                });
            }
            Err(why) => own.typed = Some((new, why)),
        }
    }
    if let Some((_, wrong)) = wrong.as_ref().filter(|w| is_judged(ui, &w.1)) {
        fault(board, ui, &wrong.in_unit(board.unit()));
        aside(board, ui, "The block on the table stays as it was until the measures agree.");
        if ui.button("Back to the measures that agreed").clicked() {
            own.typed = None;
        }
    }
    aside(
        board,
        ui,
        "Measures left empty are taken from the others, by the proportions of many bodies.",
    );
    if ui.button("Save a measuring sheet to write on…").clicked() {
        requests.ask(Asked::SaveMeasuring);
    }
}

fn names(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let (title, client) = (board.document().title.clone(), board.document().client.clone());
    for (label, was, is_title) in [("Title", title, true), ("Made for", client, false)] {
        let mut text = was.clone();
        ui.horizontal(|ui| {
            ui.label(label);
            let field = ui.add(one_line(&mut text).desired_width(f32::INFINITY));
            name_field(ui, &field, label);
        });
        if text != was {
            requests.edit_on(&format!("the {}", label.to_lowercase()), move |d| {
                if is_title {
                    d.title = text;
                } else {
                    d.client = text;
                }
            });
        }
    }
}
