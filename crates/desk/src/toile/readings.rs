//! What a marked photo tells: line by line how far it hangs from level, and what
//! cannot be known from it.

use crate::board::Board;
use crate::kit::say::{aside, part};
use egui::Ui;
use hangtrue_adjust::RoundPhoto;
use hangtrue_adjust::worn::{Hang, LevelBy, View};
use hangtrue_files::worn::{
    FAINT, ReadPhoto, hang_words, leg_words, name_in_reading, place_words, told_at,
};
use hangtrue_pattern::units::{show_fine, show_length, show_number};
use hangtrue_pattern::words::InUnit;

/// The stations that are told on the card: ends, quarters, middle.
const TOLD: [usize; 5] = [0, 2, 4, 6, 8];

pub(super) fn show(board: &Board, ui: &mut Ui, photo: &RoundPhoto, read: &ReadPhoto) {
    part(ui, "How the lines hang");
    aside(
        board,
        ui,
        "Measured from level at the last end of each line: a droop hangs below it, a rise lies above. The true amount lies within the ± nineteen times out of twenty.",
    );
    for hang in &read.hangs {
        line(board, ui, hang);
    }
    for note in read.notes.iter().filter(|n| n.contains("not read")) {
        let words = note.in_unit(board.unit());
        ui.add(
            egui::Label::new(egui::RichText::new(words).small().color(board.palette.ochre)).wrap(),
        );
    }
    part(ui, "What cannot be known from it");
    for words in unknown(photo, read) {
        aside(board, ui, words);
    }
}

/// What is surely off level, in a few words above the marks.
pub(super) fn summary(board: &Board, ui: &mut Ui, read: &ReadPhoto) {
    let unit = board.unit();
    let most = |hang: &Hang| {
        let told = (0..hang.stations.len())
            .filter(|i| hang.stations[*i].not_told.is_none())
            .map(|i| (i, told_at(hang, i)));
        let sure = told.filter(|(_, (mm, error))| mm.abs() > *error);
        sure.max_by(|a, b| a.1.0.abs().total_cmp(&b.1.0.abs()))
    };
    let mut all_level = true;
    for hang in &read.hangs {
        let Some((index, (mm, error))) = most(hang) else { continue };
        all_level = false;
        let place = place_words(hang, hang.stations[index].share);
        let words = format!(
            "{}, {}: {}, {place}",
            hangtrue_pattern::words::capital(&hang.line),
            leg_words(hang.leg),
            hang_words(mm, error, unit)
        );
        ui.add(egui::Label::new(crate::kit::theme::bold(words)).wrap());
    }
    if all_level {
        ui.colored_label(board.palette.sage, "No line is off level by more than its ±.");
    }
}

fn line(board: &Board, ui: &mut Ui, hang: &Hang) {
    let unit = board.unit();
    ui.add_space(4.0);
    ui.label(crate::kit::theme::bold(format!(
        "{}, {}",
        hangtrue_pattern::words::capital(&hang.line),
        leg_words(hang.leg)
    )));
    for index in TOLD.into_iter().filter(|i| *i + 1 < hang.stations.len()) {
        let (mm, error) = told_at(hang, index);
        let at = &hang.stations[index];
        let words = match at.not_told {
            Some(_) => "not read".to_owned(),
            None => hang_words(mm, error, unit),
        };
        station(board, ui, &place_words(hang, at.share), &words);
    }
    station(board, ui, &place_words(hang, 1.0), "level is taken here");
    let degrees = |value: f64, error: f64| {
        format!("{}° ± {}°", show_number(value, 1), show_number(error.max(0.05), 1))
    };
    aside(
        board,
        ui,
        format!(
            "Slopes {}; turns {} in its middle. A pixel is {} ± {} there. {} of the bend seen is only the roundness of the body; at its ends, drawn faint, the cloth is more than {FAINT:.0} times as long as it looks.",
            degrees(hang.slope.value, hang.slope.error),
            degrees(hang.turn.value, hang.turn.error),
            show_fine(hang.mm_per_pixel.value, unit),
            show_fine(hang.mm_per_pixel.error, unit),
            show_length(hang.roundness, unit),
        ),
    );
    for doubt in hang.doubts() {
        let words = egui::RichText::new(format!("Doubtful: {}", doubt.in_unit(unit)))
            .color(board.palette.ochre);
        ui.add(egui::Label::new(words).wrap());
    }
    for words in hang.not_told() {
        let words = egui::RichText::new(words.in_unit(unit)).color(board.palette.ochre);
        ui.add(egui::Label::new(words).wrap());
    }
    if name_in_reading(&hang.line).is_none() {
        aside(board, ui, "The reading has no rules for this line; it is shown for your own eyes.");
    }
}

/// A station and what the line does there; large letters take a line each.
fn station(board: &Board, ui: &mut Ui, place: &str, words: &str) {
    const LARGE: f32 = 1.3;
    let place = hangtrue_pattern::words::capital(place);
    if board.settings.letters > LARGE {
        let words = egui::RichText::new(format!("{place}: {words}")).small();
        ui.add(egui::Label::new(words).wrap());
        return;
    }
    let wide = ui.available_width();
    ui.horizontal_top(|ui| {
        ui.allocate_ui(egui::vec2(wide * 0.4, 0.0), |ui| {
            ui.set_width(wide * 0.4);
            ui.small(place);
        });
        ui.small(words);
    });
}

fn unknown(photo: &RoundPhoto, read: &ReadPhoto) -> Vec<&'static str> {
    let mut words = vec![
        "The half that is turned away, how deep folds are, and whether the cloth stands off the body: look at the other sides too.",
        "Whether the line was drawn level on the cloth, the cloth cut on grain, and the weight on both feet.",
    ];
    if matches!(read.photo.view, View::LeftSide | View::RightSide) {
        words.push("From the side a line has no inseam and no side seam: this photo is no part of the reading.");
    }
    let marks = photo.marks.as_ref();
    if marks.is_some_and(|m| m.level == Some(LevelBy::Camera)) {
        words.push("Which way a line slopes, to better than about 1°: the camera's own level was believed.");
    }
    if marks.is_some_and(|m| m.straight_ahead) {
        words.push(
            "How much of a bend is roundness: the camera was believed to look straight ahead.",
        );
    }
    words
}
