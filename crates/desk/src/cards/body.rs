//! Body: the measures, with a figure that shows where each is taken, and words
//! for those that contradict each other.

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::{IN_HAND, name_field, optional_length_field};
use crate::kit::say::{aside, fault};
use crate::kit::theme::bold;
use crate::kit::words::capital;
use crate::kit::{figure, picture};
use egui::{Id, Ui};
use hangtrue_adjust::Start;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{DraftError, Measure, MeasureError, Measures, draft};

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
    let in_hand: Option<String> = ui.data(|d| d.get_temp(Id::unique(IN_HAND)));
    let in_hand = Measure::ALL.into_iter().find(|m| in_hand.as_deref() == Some(&label(*m)));
    let height = 250.0 * board.settings.letters.sqrt();
    let words = in_hand.map_or("A figure standing".into(), |m| {
        format!("Where the {m} is taken: {}", m.definition())
    });
    let (rect, painter) = picture::frame(ui, &board.palette, height, &words);
    painter.rect_filled(rect, 5.0, board.palette.paper);
    figure::draw(&painter, rect, &board.palette, in_hand);
    match in_hand {
        Some(m) => ui.add(egui::Label::new(m.definition()).wrap()),
        None => ui.add(egui::Label::new("Go into a measure to see where it is taken.").wrap()),
    };
    let wrong = own.typed.clone();
    let mut new = wrong.as_ref().map_or_else(|| measures.clone(), |w| w.0.clone());
    let mut changed = None;
    for measure in Measure::ALL {
        if row(board, ui, measure, &mut new, wrong.as_ref().map(|w| &w.1)) {
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
    if wrong.is_some() {
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
}

fn names(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let (title, client) = (board.document().title.clone(), board.document().client.clone());
    for (label, was, is_title) in [("Title", title, true), ("Made for", client, false)] {
        let mut text = was.clone();
        ui.horizontal(|ui| {
            ui.label(label);
            let field = ui.add(egui::TextEdit::singleline(&mut text).desired_width(f32::INFINITY));
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

fn label(measure: Measure) -> String {
    capital(measure.name())
}

/// One measure; true when it changed. What is wrong with it stands under it.
fn row(
    board: &Board,
    ui: &mut Ui,
    measure: Measure,
    measures: &mut Measures,
    wrong: Option<&DraftError>,
) -> bool {
    let (palette, unit) = (board.palette, board.unit());
    let named = wrong.is_some_and(|w| involves(w, measure));
    let mut value = measures.get(measure);
    let derived = measures.get_or_derived(measure).filter(|_| value.is_none());
    let hint = derived.map_or("not taken".into(), |d| format!("≈ {}", show_length(d, unit)));
    let mut changed = false;
    ui.horizontal_wrapped(|ui| {
        let name = label(measure);
        let text = if named {
            bold(format!("{name} (!)")).color(palette.ochre)
        } else {
            egui::RichText::new(&name)
        };
        let size = egui::vec2(170.0 * board.settings.letters, 22.0);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(size, left, |ui| {
            ui.set_min_width(size.x);
            ui.add(egui::Label::new(text).wrap());
        });
        let hint = if measure.is_optional() { hint.as_str() } else { "" };
        changed = optional_length_field(ui, &palette, &name, &mut value, unit, hint);
    });
    if changed {
        match value {
            Some(mm) => measures.set(measure, mm),
            None => drop(measures.remove(measure)),
        }
    }
    if let Some(wrong) = wrong
        && wrong.measure() == Some(measure)
    {
        fault(board, ui, &wrong.in_unit(board.unit()));
    }
    changed
}

/// Whether the fault is about this measure, alone or against another.
fn involves(wrong: &DraftError, measure: Measure) -> bool {
    let other = match wrong {
        DraftError::Measures(MeasureError::Contradiction { other, .. })
        | DraftError::Disagree { other, .. } => Some(*other),
        _ => None,
    };
    wrong.measure() == Some(measure) || other == Some(measure)
}
