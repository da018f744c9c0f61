//! How the marked lines hang, and the line drawn anew so that it settles level.

use super::state::Hang;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::length_field::name_field;
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use egui::{Grid, Ui};
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_drape::{level_name, level_when_worn};
use hangtrue_files::hang::{TOLD_OF, places_words};
use hangtrue_pattern::words::Words;
use hangtrue_pattern::words::capital;

/// Shows what was read, a line a row.
pub(super) fn show(own: &Hang, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(shown) = &own.shown else { return };
    part(ui, "How the lines will hang");
    if shown.told.lines.is_empty() {
        ui.label("No line goes to the cloth yet. Mark lines first: turn to Lines.");
        return;
    }
    for line in &shown.told.lines {
        ui.label(bold(format!("{}, {}", capital(&line.line), line.piece)));
        let words = places_words(line, board.unit());
        Grid::new(("hang", &line.piece, &line.line)).num_columns(2).spacing([10.0, 1.0]).show(
            ui,
            |ui| {
                for ((_, place), said) in TOLD_OF.iter().zip(&words) {
                    ui.small(*place);
                    ui.small(said);
                    ui.end_row();
                }
            },
        );
    }
    aside(
        board,
        ui,
        "Against the straight line between a line’s own two ends, a quarter, half and three quarters of the way to the side. ± is what other starts and meshes make of it, or the least that is claimed. At Toile the same is told from the line’s end at the side, as it is measured there.",
    );
    level_lines(own, board, requests, ui);
}

/// A button for every line that has no level one beside it yet.
fn level_lines(own: &Hang, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Some(shown) = &own.shown else { return };
    let mut names: Vec<&str> = shown.told.lines.iter().map(|l| l.line.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let is_there = |name: &str| names.contains(&level_name(name).as_str());
    let is_level = |name: &str| names.iter().any(|n| level_name(n) == name);
    let free: Vec<&str> = names.iter().copied().filter(|n| !is_there(n) && !is_level(n)).collect();
    if free.is_empty() {
        return;
    }
    part(ui, "A line that hangs level");
    if shown.settled.first.slipped {
        aside(board, ui, "The waist slipped, so no line can be drawn level on this toile.");
        return;
    }
    aside(
        board,
        ui,
        "A straight line hangs low in the middle on a toile that fits. One that hangs level is bowed on paper; it is drawn beside the straight one.",
    );
    ui.horizontal_wrapped(|ui| {
        for name in free {
            let button = ui.button(capital(name));
            name_field(ui, &button, &format!("Draw a {name} line that hangs level"));
            if button.clicked() {
                draw_level(own, requests, name);
            }
        }
    });
}

fn draw_level(own: &Hang, requests: &mut Requests, name: &str) {
    let Some(shown) = &own.shown else { return };
    match level_when_worn(&shown.pattern, &shown.settled, name) {
        Ok(drawn) => requests.edit(&level_name(name), move |d| {
            for level in drawn {
                let name = format!("{} on the {}", level.line.name, level.line.piece);
                d.push(&name, Change::MarkLine(MarkLine { line: level.line }));
            }
        }),
        Err(why) => requests.tell_fault(Words::why(why)),
    }
}
