//! Signs on the worn toile, ticked from small drawings: there, not there, or not looked
//! for, which is what stands until somebody looked.

use super::sign_drawing;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::drop_down::{drop_down, item};
use crate::kit::length_field::{name_field, name_id};
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use egui::{ComboBox, RichText, Ui};
use hangtrue_adjust::OPEN_ROUND;
use hangtrue_adjust::reading::{Leg, Looked, SeenFrom, Sign};
use hangtrue_pattern::words::capital;

/// Shows the card.
pub(super) fn show(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    part(ui, "Folds, drag lines, seams from the side");
    let found = board.document().journal.signs_of(OPEN_ROUND);
    let there = found.iter().filter(|l| l.seen).count();
    aside(
        board,
        ui,
        format!(
            "{} of {} looked for, {there} there. What you did not look for says nothing.",
            found.len(),
            Sign::ALL.len()
        ),
    );
    for (from, head) in [
        (SeenFrom::Back, "Seen from behind"),
        (SeenFrom::Front, "Seen in front"),
        (SeenFrom::Side, "Seen from the side"),
    ] {
        ui.collapsing(head, |ui| {
            for sign in Sign::ALL.iter().filter(|s| s.from() == from) {
                let of_it = found.iter().find(|l| l.sign == *sign).copied();
                one(board, requests, ui, *sign, of_it);
            }
        });
    }
}

fn one(board: &Board, requests: &mut Requests, ui: &mut Ui, sign: Sign, found: Option<Looked>) {
    ui.add_space(3.0);
    ui.horizontal_top(|ui| {
        sign_drawing::show(ui, &board.palette, board.settings.letters, sign);
        ui.vertical(|ui| {
            ui.label(bold(capital(sign.name())));
            ui.add(egui::Label::new(RichText::new(sign.looks()).small()).wrap());
            ui.horizontal_wrapped(|ui| answers(requests, ui, sign, found));
        });
    });
}

/// The three answers, and on which leg.
fn answers(requests: &mut Requests, ui: &mut Ui, sign: Sign, found: Option<Looked>) {
    let looked = |seen| Some(Looked { sign, seen, leg: None });
    let mut write = |found: Option<Looked>| {
        let words = match found {
            Some(found) => format!("looked: {}", found.words()),
            None => format!("not looked for: {}", sign.name()),
        };
        requests.edit(&words, move |d| d.journal.look_for(OPEN_ROUND, sign, found));
    };
    let is = found.map(|l| l.seen);
    for (answer, words) in
        [(looked(true), "there"), (looked(false), "not there"), (None, "not looked for")]
    {
        let button = ui.radio(is == answer.map(|l| l.seen), words);
        name_field(ui, &button, &format!("{}: {words}", capital(sign.name())));
        if button.clicked() && is != answer.map(|l| l.seen) {
            write(answer);
        }
    }
    let Some(found) = found.filter(|l| l.seen && sign.from() != SeenFrom::Side) else { return };
    let leg_words = |leg: Option<Leg>| {
        leg.map_or("both legs", |leg| match leg {
            Leg::Left => "left leg",
            Leg::Right => "right leg",
        })
    };
    let list = ComboBox::from_id_salt(sign.name()).selected_text(leg_words(found.leg)).width(80.0);
    let shown = drop_down(ui, list, |ui| {
        for leg in [None, Some(Leg::Left), Some(Leg::Right)] {
            if item(ui, found.leg == leg, leg_words(leg)).clicked() && found.leg != leg {
                write(Some(Looked { leg, ..found }));
            }
        }
    });
    let label = format!("Legs that show the {}: {}", sign.name(), leg_words(found.leg));
    name_id(ui, shown.response.id, &label);
}
