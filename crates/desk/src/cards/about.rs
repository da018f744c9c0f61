//! What a panel is for, in a few words with a small drawing. It is opened and closed at
//! the panel's head.

use super::drawing;
use crate::board::Board;
use crate::board::requests::{Request, Requests, Window};
use crate::board::stage::Stage;
use crate::kit::theme::bold_family;
use egui::text::{LayoutJob, TextFormat};
use egui::{Button, Frame, Label, Stroke, TextStyle, Ui};

/// What each panel is. Words in brackets stand in the words list.
pub(super) const ABOUT: [(Stage, &str); crate::board::stage::STAGES] = [
    (
        Stage::Body,
        "The measures of one [body]. Five are needed; each other makes the [block] follow this body more closely, and what is left empty is taken from the others. Touch a field and the figure shows where the tape goes. Change one later, and everything that was made from it follows.",
    ),
    (
        Stage::Block,
        "The [block] is the plain [pattern] drafted from the measures, one [back] and one [front]. [Ease] is what it measures more than the body. Below, what came out is set against what was asked for. Corners can also be moved by hand.",
    ),
    (
        Stage::Lines,
        "A [line] marked on the flat pieces should hang [level] on the body. Where it does not, it tells what the cloth wants. A [cloth line] is traced to the [toile]; a [paper line] stays on paper. Each lies by a rule, so it follows when the pieces change.",
    ),
    (
        Stage::AsSewn,
        "A line that is straight on paper need not be straight once the seams are sewn. At a [seam] it can [peak], [dip] or arrive with a [step]. Know this before the fitting, so that it is not taken for the body's doing. Nothing is to be done here but to look.",
    ),
    (
        Stage::Print,
        "The pieces at their [actual size], on sheets that are taped together. Measure the test [square] first: when it is as large as it says, so is the pattern. Each piece and [sheet] says for whom it is and which [fitting] it belongs to.",
    ),
    (
        Stage::Toile,
        "Sew the [toile] in cheap cloth, put it on the body, and look where the lines are not level. How far a place hangs below level is its [droop]. Measure it by ruler, or take photos and mark the lines on them. Below stand the [causes] it may have, each with a change to try.",
    ),
    (
        Stage::Pinch,
        "Cloth that is too much is folded away with pins along a line: a [pinch]. Measure at each [pin place] how much is taken, from mark to mark on the flat cloth, then write it down here. The methods to [take up] the pinch on paper stand side by side; nothing is changed until you accept one.",
    ),
    (
        Stage::Correct,
        "Some shapes of a body are known without pins: a full [seat], one hip higher, a sway in the back. A [correction] changes the paper by so much, and says which measures it keeps. The old outline stays to be seen under the new one.",
    ),
    (
        Stage::Walk,
        "To [walk] a seam is to lay one edge along the other as it will be sewn. Where lengths or notches do not meet, the pattern is [true]d: here it says how far each is off, and one press mends it. Do it before you print again.",
    ),
];

/// The text of a panel.
fn text_of(stage: Stage) -> &'static str {
    ABOUT.iter().find(|a| a.0 == stage).map_or("", |a| a.1)
}

/// The words in brackets.
pub(super) fn terms(text: &str) -> impl Iterator<Item = &str> {
    text.split('[').skip(1).filter_map(|rest| rest.split(']').next())
}

/// The panel's name, and the control that opens and closes what it is.
pub(super) fn head(open: &mut bool, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let stage = board.stage;
    ui.horizontal_wrapped(|ui| {
        ui.heading(stage.name());
        let words = if *open { "Close “what is this”" } else { "What is this?" };
        if ui.add(Button::new(words)).on_hover_text("Shift+F1").clicked() {
            *open = !*open;
        }
    });
    if *open {
        let edge = Stroke::new(1.0, board.palette.edge);
        Frame::new().stroke(edge).inner_margin(8.0).corner_radius(5.0).show(ui, |ui| {
            ui.set_width(ui.available_width());
            shown(stage, board, requests, ui);
        });
    }
}

fn shown(stage: Stage, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    drawing::show(stage, board, ui);
    ui.add(Label::new(laid_out(text_of(stage), board, ui)).wrap());
    ui.horizontal_wrapped(|ui| {
        ui.label("Words:");
        for word in terms(text_of(stage)) {
            let link = ui.button(word.to_lowercase());
            crate::kit::length_field::name_field(
                ui,
                &link,
                &format!("Word: {}", word.to_lowercase()),
            );
            if link.clicked() {
                requests.ask_for(Request::Turn(Window::Word(word.to_lowercase())));
            }
        }
    });
}

/// The text with its terms bold.
fn laid_out(text: &str, board: &Board, ui: &Ui) -> LayoutJob {
    let plain = TextFormat {
        font_id: TextStyle::Body.resolve(ui.style()),
        color: board.palette.text,
        ..TextFormat::default()
    };
    let mut bold = plain.clone();
    bold.font_id.family = bold_family();
    let mut job = LayoutJob::default();
    for (index, part) in text.split('[').enumerate() {
        let (term, rest) = part.split_once(']').filter(|_| index > 0).unwrap_or(("", part));
        job.append(term, 0.0, bold.clone());
        job.append(rest, 0.0, plain.clone());
    }
    job
}
