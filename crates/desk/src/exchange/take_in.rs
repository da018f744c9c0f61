//! Pieces that were brought or traced, drawn, and taken into the project or a new
//! one once the maker says so.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::kit::picture::{fitted, frame};
use crate::kit::say::part;
use crate::kit::sheet::{Sheets, on_screen};
use crate::kit::theme::Palette;
use egui::{Painter, Shape, Stroke, Ui};
use hangtrue_adjust::{BringIn, Change, Document};
use hangtrue_geometry::Affine;
use hangtrue_pattern::Pattern;

/// The pieces side by side, as they would lie on the table; `words` is what a
/// screen reader says before their names.
pub(crate) fn draw(
    board: &Board,
    ui: &mut Ui,
    pattern: &Pattern,
    sheets: &Sheets,
    (words, height): (&str, f32),
) {
    const GAP: f64 = 60.0;
    let names: Vec<&str> = sheets.sheets.iter().map(|s| s.piece.as_str()).collect();
    let words = format!("{words}: {}", names.join(", "));
    let (rect, painter) = frame(ui, &board.palette, height, &words);
    let mut x = 0.0;
    let mut moves = Vec::new();
    let mut whole: Option<hangtrue_geometry::Rect> = None;
    for sheet in &sheets.sheets {
        let by = hangtrue_geometry::Vec2::new(x - sheet.bounds.x0, -sheet.bounds.y0);
        let laid = sheet.bounds + by;
        whole = Some(whole.map_or(laid, |w| w.union(laid)));
        x += sheet.bounds.width() + GAP;
        moves.push(by);
    }
    let Some(whole) = whole else { return };
    let view = fitted(whole, rect.shrink(10.0));
    for ((sheet, by), piece) in sheets.sheets.iter().zip(moves).zip(&pattern.pieces) {
        let place = view * Affine::translate(by);
        paint(&painter, &board.palette, sheet, piece, place);
        let at = crate::kit::view::pos(place * sheet.bounds.center());
        let font = egui::TextStyle::Body.resolve(ui.style());
        painter.text(at, egui::Align2::CENTER_CENTER, &sheet.piece, font, board.palette.ink);
    }
}

fn paint(
    painter: &Painter,
    palette: &Palette,
    sheet: &crate::kit::sheet::DrawnPiece,
    piece: &hangtrue_pattern::Piece,
    place: Affine,
) {
    painter.add(Shape::mesh(sheet.paper.mesh(place, palette.paper)));
    let ink = Stroke::new(1.4, palette.ink);
    painter.add(Shape::line(on_screen(&sheet.outline, place), ink));
    for leg in &sheet.darts {
        painter.add(Shape::line(on_screen(leg, place), ink));
    }
    let soft = Stroke::new(1.0, palette.ink_soft);
    for line in &piece.inner {
        let points = on_screen(&crate::kit::sheet::drawn(&line.chain, 0.3), place);
        painter.extend(Shape::dashed_line(&points, soft, 6.0, 4.0));
    }
    let grain = on_screen(&[piece.grain.from, piece.grain.to], place);
    painter.add(Shape::line(grain, soft));
}

/// What becomes of pieces whose names are on the table already.
pub(crate) fn clash(board: &Board, ui: &mut Ui, pattern: &Pattern, replace: &mut bool) {
    let Ok(current) = board.replay.current() else { return };
    let names = pattern.pieces.iter().map(|p| p.name.as_str());
    let taken: Vec<&str> = names.filter(|n| current.piece(n).is_ok()).collect();
    if taken.is_empty() {
        return;
    }
    part(ui, "On the table already");
    ui.label(taken.join(", "));
    let (beside, instead) = if pattern.pieces.len() == 1 {
        ("Lay the new one beside it, numbered", "Let the new one take its place")
    } else {
        ("Lay the new ones beside them, numbered", "Let the new ones take their place")
    };
    ui.radio_value(replace, false, beside);
    ui.radio_value(replace, true, instead);
}

/// Takes the pieces into the project as one change; false when they cannot be.
pub(crate) fn bring_into(
    board: &Board,
    requests: &mut Requests,
    (how, from): (&str, &str),
    pattern: &Pattern,
    replace: bool,
) -> bool {
    let Ok(current) = board.replay.current().cloned() else { return false };
    let change = BringIn::of(from, pattern, &current, replace);
    let words = change.words();
    let change = Change::BringIn(change);
    match change.apply(&current) {
        Err(why) => {
            requests.tell_fault(hangtrue_pattern::words::Words::why(why));
            false
        }
        Ok(outcome) => {
            requests.turn_away();
            requests.show_now();
            let name = format!("{how} {from}");
            requests.edit(&words, move |d| d.push(&name, change));
            requests.fit();
            let notes: String = outcome.notes.iter().map(|n| format!(" Note: {n}.")).collect();
            requests.tell(format!("{words}. Undo takes all of it back.{notes}"));
            true
        }
    }
}

/// Puts a new project on the desk.
pub(crate) fn start_new(requests: &mut Requests, document: Document, from: &str) {
    requests.ask_for(Request::StartNew(Box::new(document), from.to_owned()));
}
