//! As sewn: how the lines run once the seams are sewn, as a picture and in
//! numbers.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::picture::{self, SewnPiece};
use crate::kit::say::{aside, fault, part};
use egui::Ui;
use hangtrue_adjust::{BESIDE_SEAM, SeamReading, laid_across, read_as_sewn, what_stands_out};
use hangtrue_geometry::{Affine, Point, Rect};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use std::sync::Arc;

/// Which reading is shown in the picture: line, join.
#[derive(Debug, Clone, Default)]
pub(crate) struct AsSewnCard {
    chosen: Option<(String, String)>,
}

/// How much of the cloth round the crossing the picture shows, mm each way.
const ROUND: f64 = 260.0;

/// Shows the card.
pub(super) fn show(own: &mut AsSewnCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Ok(shown) = board.shown() else { return };
    let pattern = shown.new;
    if board.trial.is_none() && board.selected.is_none() {
        see(board, requests, &pattern);
    }
    let readings = match read_as_sewn(&pattern) {
        Ok(readings) if readings.is_empty() => {
            ui.label("No line crosses a seam yet. Mark lines first: turn to Lines.");
            return;
        }
        Ok(readings) => readings,
        Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
    };
    part(ui, "At the seams");
    let verdict = what_stands_out(&readings, board.unit());
    ui.add(egui::Label::new(verdict).wrap());
    ui.add_space(4.0);
    let chosen = readings
        .iter()
        .find(|r| own.chosen.as_ref().is_some_and(|c| c.0 == r.line && c.1 == r.join))
        .or_else(|| readings.iter().find(|r| r.on_cloth && r.onto.ends_with("mirrored")))
        .or_else(|| readings.iter().find(|r| r.on_cloth))
        .or(readings.first())
        .cloned();
    if let Some(reading) = &chosen {
        draw(board, ui, &pattern, reading);
        ui.add(egui::Label::new(in_words(board, reading)).wrap());
        aside(board, ui, meets(board, reading));
    }
    part(ui, "Every line at every seam");
    for reading in &readings {
        let is_chosen = chosen.as_ref() == Some(reading);
        let words = format!(
            "{}{} · {}\n{}",
            reading.line,
            if reading.on_cloth { "" } else { " (paper only)" },
            reading.join,
            reading.found().in_unit(board.unit()),
        );
        if ui
            .add(
                egui::Button::selectable(is_chosen, words)
                    .wrap()
                    .min_size(egui::vec2(ui.available_width(), 0.0)),
            )
            .clicked()
        {
            own.chosen = Some((reading.line.clone(), reading.join.clone()));
        }
    }
    aside(
        board,
        ui,
        format!(
            "A line that dips is lowest at the seam, one that peaks is highest there: so far off straight, {} from the seam. On a tapered leg lines square to the grain peak a little at every seam; that is no fault.",
            show_length(BESIDE_SEAM, board.unit())
        ),
    );
}

/// The live picture of one line that is being set: how it meets its seams.
pub(super) fn of_line(own: &mut AsSewnCard, board: &Board, ui: &mut Ui, piece: &str, line: &str) {
    let Ok(shown) = board.shown() else { return };
    let readings = match read_as_sewn(&shown.new) {
        Ok(readings) => readings,
        Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
    };
    let is_its = |r: &&SeamReading| {
        r.line == line && (r.piece == piece || r.onto == piece || r.onto.starts_with(piece))
    };
    let readings: Vec<SeamReading> = readings.iter().filter(is_its).cloned().collect();
    let is_chosen = |r: &&SeamReading| own.chosen.as_ref().is_some_and(|c| c.1 == r.join);
    let mirrored = |r: &&SeamReading| r.onto.ends_with("mirrored");
    let found = readings.iter().find(is_chosen).or_else(|| readings.iter().find(mirrored));
    let Some(chosen) = found.or(readings.first()).cloned() else {
        ui.label("It meets no seam that is sewn to another with a line of the same name.");
        return;
    };
    draw(board, ui, &shown.new, &chosen);
    for reading in &readings {
        let words = format!("{}: {}", reading.join, reading.found().in_unit(board.unit()));
        if ui.add(egui::Button::selectable(*reading == chosen, words).wrap()).clicked() {
            own.chosen = Some((reading.line.clone(), reading.join.clone()));
        }
    }
    ui.add(egui::Label::new(in_words(board, &chosen)).wrap());
}

fn in_words(board: &Board, reading: &SeamReading) -> String {
    reading.words().in_unit(board.unit())
}

fn meets(board: &Board, reading: &SeamReading) -> String {
    let (a, b) = reading.meets;
    format!(
        "It meets the {} {} from its matched end on the {} and {} on the {}.",
        reading.join,
        show_length(a, board.unit()),
        reading.piece,
        show_length(b, board.unit()),
        reading.onto
    )
}

/// The pattern as it is now was looked at.
fn see(board: &Board, requests: &mut Requests, pattern: &Arc<hangtrue_pattern::Pattern>) {
    let seen = board.seen.as_sewn.as_ref().is_some_and(|s| Arc::ptr_eq(s, pattern));
    if !seen {
        requests.ask_for(Request::ReadAsSewn(pattern.clone()));
    }
}

fn draw(
    board: &Board,
    ui: &mut Ui,
    pattern: &Arc<hangtrue_pattern::Pattern>,
    reading: &SeamReading,
) {
    let Some(join) = pattern.joins.iter().find(|j| j.name == reading.join) else { return };
    let across = match laid_across(pattern, join, reading.meets.0) {
        Ok(across) => across,
        Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
    };
    let other = join.second.as_ref().map_or(&join.first.piece, |s| &s.piece).clone();
    let sheets = board.sheets(pattern, 0.8);
    let (lines, _) = pattern.place_lines();
    let on = |piece: &str| lines.iter().filter(|l| l.piece == piece).collect();
    let (Some(first), Some(second)) = (sheets.get(&join.first.piece), sheets.get(&other)) else {
        return;
    };
    let laid = [
        SewnPiece { sheet: first, lines: on(&join.first.piece), by: Affine::IDENTITY },
        SewnPiece { sheet: second, lines: on(&other), by: across },
    ];
    let words =
        format!("{} as sewn at the {}: {}", reading.line, reading.join, in_words(board, reading));
    let (rect, painter) =
        picture::frame(ui, &board.palette, 250.0 * board.settings.letters.sqrt(), &words);
    let at = crossing(pattern, join, reading);
    // The picture stands as the wearer does: the seam hangs down.
    let upright = upright_at(pattern, join, reading.meets.0);
    let round = Rect::from_center_size(Point::ORIGIN, (2.0 * ROUND, 1.4 * ROUND));
    let view =
        picture::fitted(round, rect.shrink(6.0)) * upright * Affine::translate(-at.to_vec2());
    picture::as_sewn(&painter, view, &board.palette, &laid, &reading.line);
}

fn crossing(
    pattern: &hangtrue_pattern::Pattern,
    join: &hangtrue_pattern::Join,
    reading: &SeamReading,
) -> Point {
    let seam = pattern.piece(&join.first.piece).and_then(|p| p.seam(&join.first.seam));
    seam.map_or(Point::ORIGIN, |s| s.place(join.first.from, reading.meets.0).point)
}

/// The turn that makes the seam of a mirror join upright, so that both halves
/// are seen alike; a join of two pieces is left as the first piece lies.
fn upright_at(
    pattern: &hangtrue_pattern::Pattern,
    join: &hangtrue_pattern::Join,
    distance: f64,
) -> Affine {
    if !join.is_mirror() {
        return Affine::IDENTITY;
    }
    let seam = pattern.piece(&join.first.piece).and_then(|p| p.seam(&join.first.seam));
    let Ok(seam) = seam else { return Affine::IDENTITY };
    let mut along = seam.place(join.first.from, distance).direction;
    if along.y > 0.0 {
        along = -along;
    }
    let down = hangtrue_geometry::Vec2::new(0.0, -1.0);
    Affine::rotate(hangtrue_geometry::angle_between(along, down))
}
