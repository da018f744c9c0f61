//! What of known size lies beside the card, and what took the photo.

use super::fields::sentence;
use super::photo::Photo;
use super::said::Kind;
use crate::board::Board;
use crate::kit::drop_down::{drop_down, item, pick};
use crate::kit::length_field::{length_field, name_id};
use crate::kit::say::{aside, part};
use egui::{ComboBox, Ui};
use hangtrue_files::photo::{LensKind, OutlineSeen, SheetSize};
use hangtrue_pattern::units::show_length;

/// The sheets to choose from.
const SHEETS: [(SheetSize, &str); 7] = [
    (SheetSize::A4, "A4"),
    (SheetSize::A3, "A3"),
    (SheetSize::A2, "A2"),
    (SheetSize::A1, "A1"),
    (SheetSize::A0, "A0"),
    (SheetSize::A5, "A5"),
    (SheetSize::Letter, "Letter"),
];

pub(super) fn show(photo: &mut Photo, board: &Board, ui: &mut Ui) {
    let (unit, palette) = (board.unit(), board.palette);
    sentence(ui, "Say what of known size lies beside the card, flat on the same table.");
    let several = photo.slots.len() > 1;
    let now = photo.now_mut();
    let mut kind = now.kind;
    for one in Kind::ALL {
        if one != Kind::Shared || several {
            ui.radio_value(&mut kind, one, one.words());
        }
    }
    now.turn_to(kind);
    ui.add_space(4.0);
    match now.kind {
        Kind::Sheet => {
            let own = matches!(now.sheet, SheetSize::Measured(..));
            let words = SHEETS.iter().find(|s| s.0 == now.sheet).map_or("My own size", |s| s.1);
            ui.horizontal_wrapped(|ui| {
                ui.label("Which sheet");
                let shown =
                    drop_down(ui, ComboBox::from_id_salt("sheet").selected_text(words), |ui| {
                        for (sheet, words) in SHEETS {
                            let (width, height) = sheet.size();
                            let (width, height) =
                                (show_length(width, unit), show_length(height, unit));
                            let words = format!("{words}: {width} × {height}");
                            pick(ui, &mut now.sheet, sheet, words);
                        }
                        let measured = SheetSize::Measured(now.own_size.0, now.own_size.1);
                        if item(ui, own, "My own size").clicked() {
                            now.sheet = measured;
                        }
                    });
                name_id(ui, shown.response.id, &format!("Which sheet: {words}"));
            });
            if own {
                length_field(ui, &palette, "Its short side", &mut now.own_size.0, unit);
                length_field(ui, &palette, "Its long side", &mut now.own_size.1, unit);
            }
        }
        Kind::Grid => {
            length_field(ui, &palette, "From line to line", &mut now.pitch, unit);
            aside(board, ui, "Put the rotary cutter and blades away before you lay the card out.");
        }
        Kind::Places => aside(
            board,
            ui,
            "Small crosses on the table, each measured from one corner: so far to the right, so far up.",
        ),
        Kind::Distances => aside(
            board,
            ui,
            "Small crosses on the table, the distances between them taped: for four marks at least five, the diagonals among them.",
        ),
        Kind::Shared => {
            aside(board, ui, "The other photo has to show at least four of the same marks.");
        }
    }
    part(ui, "What took the photo?");
    for (lens, words) in [
        (LensKind::Camera, "A telephone or a camera"),
        (LensKind::Wide, "A wide lens that bends straight lines"),
        (LensKind::Scanner, "A flatbed scanner"),
    ] {
        ui.radio_value(&mut now.lens, lens, words);
    }
    if several {
        part(ui, "What does this photo show?");
        let mut edge = now.outline != OutlineSeen::Nothing;
        ui.radio_value(&mut edge, true, "The card's edge");
        ui.radio_value(&mut edge, false, "Only marks, from one photo to another");
        match (edge, &now.outline) {
            (true, OutlineSeen::Nothing) => now.outline = OutlineSeen::default(),
            (false, o) if *o != OutlineSeen::Nothing => now.outline = OutlineSeen::Nothing,
            _ => {}
        }
    }
    aside(
        board,
        ui,
        "What is known should lie round the card, not at one end of it; take the photo from straight above. Stand on the floor or on a firm step, not on a chair.",
    );
    if several && ui.button("Take this photo away").clicked() {
        photo.remove_photo(photo.at);
    }
}
