//! The first page: three ways to begin, and the projects opened lately.

use super::Welcome;
use crate::about::{self, Topic};
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests, Window};
use crate::kit::say::{aside, part};
use crate::kit::sheet::on_screen;
use crate::kit::text_size::text_size_row;
use crate::kit::theme::bold;
use crate::kit::unit_choice::unit_row;
use crate::kit::{figure, picture};
use egui::{Button, Frame, Label, Rect, Shape, Stroke, Ui};
use hangtrue_geometry::Affine;
use hangtrue_pattern::{Measure, names};

/// Points a way needs beside the others, at letters of 100 %.
const WIDE: f32 = 300.0;

/// Height of the drawings, points.
const HIGH: f32 = 190.0;

pub(super) fn show(own: &mut Welcome, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    about::head((&mut own.about, false), "Welcome to Hangtrue", ui);
    if own.about {
        about::text(Topic::Begin, board, requests, ui);
    }
    let words = "Trousers fitted to one real body: draft or bring a block, print the toile, look how it hangs, pin it, and take the pins into the paper.";
    ui.add(Label::new(words).wrap());
    ui.add_space(4.0);
    let mut unit = board.unit();
    if unit_row(ui, &mut unit) {
        requests.ask_for(Request::Unit(unit));
    }
    if let Some(letters) = text_size_row(ui, board.settings.letters) {
        requests.ask_for(Request::Letters(letters));
    }
    ui.add_space(8.0);
    let beside = ui.available_width() > 3.0 * WIDE * board.settings.letters;
    if beside {
        ui.columns(3, |columns| {
            new_client(own, board, &mut columns[0]);
            pattern(board, requests, &mut columns[1]);
            example(board, requests, &mut columns[2]);
        });
    } else {
        new_client(own, board, ui);
        pattern(board, requests, ui);
        example(board, requests, ui);
    }
    lately(board, requests, ui);
}

/// One way to begin: a drawing, a sentence, and what to press.
fn way(
    board: &Board,
    ui: &mut Ui,
    (picture_words, words): (&str, &str),
    draw: impl FnOnce(&egui::Painter, Rect),
    press: impl FnOnce(&mut Ui),
) {
    let palette = board.palette;
    let frame = Frame::new().stroke(Stroke::new(1.0, palette.text_soft)).inner_margin(12.0);
    frame.corner_radius(6.0).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| {
            let (rect, painter) = picture::frame(ui, &palette, HIGH, picture_words);
            draw(&painter, rect);
            ui.add_space(4.0);
            press(ui);
            aside(palette, ui, words);
        });
    });
}

fn large(words: &str) -> Button<'_> {
    Button::new(bold(words)).wrap()
}

fn new_client(own: &mut Welcome, board: &Board, ui: &mut Ui) {
    let words =
        "Five measures of one body, and a block is drafted from them. More can be added later.";
    let draw = |painter: &egui::Painter, rect: Rect| {
        painter.rect_filled(rect, 5.0, board.palette.paper);
        figure::draw(painter, rect, &board.palette, Some(Measure::HipGirth));
    };
    way(board, ui, ("A figure with the tape round the hip", words), draw, |ui| {
        let button = ui.add(large("A new client")).on_hover_text("Ctrl+N");
        if button.clicked() {
            own.new_client();
        }
    });
}

fn pattern(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let words =
        "A block on card is digitised from a photo or a scan. A drawing is an SVG or DXF file.";
    let draw =
        |painter: &egui::Painter, rect: Rect| draw_pieces(board, painter, rect, &[names::BACK]);
    way(board, ui, ("A piece of card", words), draw, |ui| {
        ui.label(bold("A pattern I have"));
        if ui.add(large("On card: from a photo or scan…")).clicked() {
            requests.ask(Asked::Photo);
        }
        if ui.add(large("In a file: a drawing…")).clicked() {
            requests.ask(Asked::Bring);
        }
    });
}

fn example(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let words = "The trousers of an invented client, with a pinch that was pinned on her first toile. Nothing can go wrong: it is a copy.";
    let both = [names::BACK, names::FRONT];
    let draw = |painter: &egui::Painter, rect: Rect| draw_pieces(board, painter, rect, &both);
    way(board, ui, ("The pieces of the example", words), draw, |ui| {
        if ui.add(large("Look round the example")).clicked() {
            requests.ask_for(Request::LookRound);
        }
    });
}

/// Pieces of the example, lying on their side as on a table, one above the other.
fn draw_pieces(board: &Board, painter: &egui::Painter, rect: Rect, names: &[&str]) {
    /// Space between two pieces, mm.
    const GAP: f64 = 60.0;
    let Ok(pattern) = board.replay.current() else { return };
    let sheets = board.sheets(pattern, 0.3);
    // A quarter turn to the left: what was up lies at the left.
    let turned = Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]);
    let mut laid = Vec::new();
    let mut whole: Option<hangtrue_geometry::Rect> = None;
    let mut top = 0.0;
    for sheet in names.iter().filter_map(|name| sheets.get(name)) {
        let bounds = turned.transform_rect_bbox(sheet.bounds);
        let place = Affine::translate((-bounds.x0, top - bounds.y1)) * turned;
        let lies = place.transform_rect_bbox(sheet.bounds);
        whole = Some(whole.map_or(lies, |w| w.union(lies)));
        top = lies.y0 - GAP;
        laid.push((sheet, place));
    }
    let Some(whole) = whole else { return };
    let view = picture::fitted(whole, rect.shrink(12.0));
    for (sheet, place) in laid {
        let place = view * place;
        painter.add(Shape::mesh(sheet.paper.mesh(place, board.palette.paper)));
        let ink = Stroke::new(1.4, board.palette.ink);
        painter.add(Shape::line(on_screen(&sheet.outline, place), ink));
        for leg in &sheet.darts {
            painter.add(Shape::line(on_screen(leg, place), ink));
        }
    }
}

/// The projects opened lately, and any other.
fn lately(board: &Board, requests: &mut Requests, ui: &mut Ui) {
    ui.add_space(6.0);
    part(ui, "A project that is there already");
    for file in &board.settings.recent {
        let name = file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        let folder = file.parent().map(|f| f.display().to_string()).unwrap_or_default();
        if ui.add(Button::new(format!("{name} — {folder}")).wrap()).clicked() {
            requests.ask_for(Request::Open(file.clone()));
        }
    }
    ui.horizontal_wrapped(|ui| {
        if ui.add(Button::new("Open a project…")).on_hover_text("Ctrl+O").clicked() {
            requests.ask(Asked::Open);
        }
        if ui.button("Print a class from a list…").clicked() {
            requests.ask_for(Request::Turn(Window::Class));
        }
    });
}
