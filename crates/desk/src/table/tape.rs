//! The measuring tape along the bottom edge: it follows the zoom and the pan of
//! the table, in fractions of an inch or in mm.

use super::state::Table;
use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::stage::Stage;
use crate::kit::panels::Panels;
use crate::kit::view::PanZoom;
use egui::{Align2, Color32, FontId, Rect, Sense, Stroke, TextStyle, Ui, pos2, vec2};
use hangtrue_pattern::units::{INCH, Unit};

/// Names of the units in the list.
pub(crate) const UNITS: [(Unit, &str); 5] = [
    (Unit::Eighths, "inches, 1/8"),
    (Unit::Sixteenths, "inches, 1/16"),
    (Unit::ThirtySeconds, "inches, 1/32"),
    (Unit::Cm, "centimetres"),
    (Unit::Mm, "millimetres"),
];

/// A photo that lies in place of the table: what of it is looked at, and where.
type Photo<'a> = (&'a mut PanZoom, Rect);

/// Shows the tape with its few controls.
pub(crate) fn show(
    (own, photo): (&mut Table, Option<Photo>),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let on_photo = photo.is_some();
    if Panels::of(ui.ctx().content_rect().size(), board.settings.letters).low {
        return low(own, photo, board, requests, ui);
    }
    controls((own, photo), board, requests, ui);
    let height = TextStyle::Small.resolve(ui.style()).size + 22.0;
    let (band, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    if on_photo {
        of_a_photo(board, ui, band);
    } else {
        draw(own, board, ui, band);
    }
}

/// On a low screen the controls are a menu before the tape.
fn low(own: &mut Table, photo: Option<Photo>, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let on_photo = photo.is_some();
    ui.horizontal(|ui| {
        ui.menu_button("Table", |ui| control_row((own, photo), board, requests, ui));
        let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
        let (band, _) = ui.allocate_exact_size(size, Sense::hover());
        if on_photo { of_a_photo(board, ui, band) } else { draw(own, board, ui, band) }
    });
    // The frame of the button is not cut by the edge of the screen.
    ui.add_space(3.0);
}

/// A photo has no scale of its own: each line tells what a pixel is there.
fn of_a_photo(board: &Board, ui: &Ui, band: egui::Rect) {
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(board));
    let font = TextStyle::Small.resolve(ui.style());
    let words = "A photo: near cloth looks larger than far cloth, so each line has its own scale";
    let at = Align2::CENTER_CENTER;
    painter.text(band.center(), at, words, font, board.palette.text);
}

fn controls(
    (own, photo): (&mut Table, Option<Photo>),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    ui.add_space(3.0);
    let row = egui::Frame::new().inner_margin(egui::Margin::symmetric(12, 0));
    row.show(ui, |ui| control_row((own, photo), board, requests, ui));
}

fn control_row(
    (own, mut photo): (&mut Table, Option<Photo>),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    ui.horizontal_wrapped(|ui| {
        let on_photo = photo.is_some();
        if ui.button("Show all").on_hover_text("F").clicked() {
            requests.fit();
            requests.ask_for(Request::FitPhoto);
        }
        for (words, keys, factor) in [("Zoom in", "+", 1.25), ("Zoom out", "-", 0.8)] {
            if ui.button(words).on_hover_text(keys).clicked() {
                if let Some((view, canvas)) = &mut photo {
                    view.zoom_at(*canvas, canvas.center(), factor);
                } else {
                    own.all_in_view = false;
                    let canvas = own.canvas;
                    own.view.zoom_at(canvas, canvas.center(), factor);
                }
            }
        }
        if !on_photo {
            if ui.button("Actual size").on_hover_text("T").clicked() {
                own.true_size(board, requests);
            }
            let mates = if board.settings.mates {
                "Hide the mirrored pieces"
            } else {
                "Show the mirrored pieces"
            };
            if ui.button(mates).on_hover_text("The other leg: each piece mirrored").clicked() {
                requests.ask_for(Request::Mates(!board.settings.mates));
            }
        }
        ui.separator();
        let unit = board.unit();
        let name = UNITS.iter().find(|u| u.0 == unit).map_or("", |u| u.1);
        let combo = egui::ComboBox::from_id_salt("unit").selected_text(name).width(150.0);
        let shown = combo.show_ui(ui, |ui| {
            for (choice, name) in UNITS {
                if ui.selectable_label(unit == choice, name).clicked() {
                    requests.edit("the unit", move |d| d.unit = choice);
                }
            }
        });
        crate::kit::length_field::name_id(ui, shown.response.id, &format!("Unit: {name}"));
        // Where there is little room the words would take a line of their own.
        let little = Panels::of(ui.ctx().content_rect().size(), board.settings.letters).one_place;
        if on_photo || little {
            return;
        }
        ui.separator();
        let size = board.settings.points_per_mm.map(|p| own.view.scale / p * 100.0);
        let words = match size {
            Some(percent) => format!("shown at {percent:.0} % of actual size"),
            None => "screen not measured yet".into(),
        };
        ui.colored_label(board.palette.text_soft, words);
    });
}

/// The distances between marks to choose from, mm, each with how many of them
/// make one numbered mark.
fn marks(unit: Unit) -> Vec<(f64, u32)> {
    match unit {
        Unit::Mm | Unit::Cm => vec![(1.0, 10), (5.0, 10), (10.0, 10), (50.0, 10), (100.0, 10)],
        _ => vec![(INCH / 16.0, 16), (INCH / 8.0, 8), (INCH / 4.0, 4), (INCH, 6), (INCH * 6.0, 6)],
    }
}

/// Marks nearer to each other than this run together, points of the screen.
const APART: f64 = 5.0;

fn ground(board: &Board) -> Color32 {
    if board.palette.evening {
        Color32::from_rgb(0x5a, 0x4d, 0x2b)
    } else {
        Color32::from_rgb(0xf2, 0xdf, 0x9b)
    }
}

/// The distance between the marks that suits the zoom, mm, and how many of them
/// make a numbered one.
fn suiting(unit: Unit, scale: f64, size: f32) -> Option<(f64, u32)> {
    let choices = marks(unit);
    let (mark, mut numbered) =
        choices.iter().find(|m| m.0 * scale >= APART).or(choices.last()).copied()?;
    // Numbers of large letters stand farther apart.
    while mark * f64::from(numbered) * scale < f64::from(size) * 3.0 {
        numbered *= 2;
    }
    Some((mark, numbered))
}

/// How long a mark is drawn, points of the screen.
fn length_of(i: i64, numbered: u32) -> f32 {
    if i.rem_euclid(i64::from(numbered)) == 0 {
        13.0
    } else if i.rem_euclid(i64::from(numbered / 2).max(1)) == 0 {
        9.0
    } else {
        5.0
    }
}

/// Points that the hanging tape is wide.
pub(crate) fn width(ui: &Ui) -> f32 {
    TextStyle::Small.resolve(ui.style()).size + 20.0
}

/// A second tape hangs down the left edge of the table: nought at the top of the
/// pieces, counted downwards.
pub(crate) fn hang(own: &Table, board: &Board, ui: &Ui, band: egui::Rect) {
    let (canvas, size) = (own.canvas, TextStyle::Small.resolve(ui.style()).size);
    let sheets =
        (board.stage == Stage::Print).then(|| crate::table::print_table::bounds(board)).flatten();
    let start = board.replay.start().ok();
    let pieces = || start.and_then(|p| board.lay.bounds(p));
    let Some(top) = sheets.or_else(pieces).map(|b| b.y1) else { return };
    let (unit, scale) = (board.unit(), own.view.scale);
    let Some((mark, numbered)) = suiting(unit, scale, size) else { return };
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(board));
    painter.vline(band.right(), band.y_range(), Stroke::new(1.5, board.palette.text_soft));
    let down = |y: f32| top - own.view.on_table(canvas, pos2(canvas.left(), y)).y;
    let (first, last) = (down(band.top()) / mark, down(band.bottom()) / mark);
    let y_of =
        |mm: f64| (f64::from(canvas.center().y) + (own.view.centre.y - (top - mm)) * scale) as f32;
    let ink = Stroke::new(1.2, board.palette.text);
    let font = FontId::proportional(size);
    for i in first.floor() as i64..=last.ceil() as i64 {
        let y = y_of(i as f64 * mark);
        let long = length_of(i, numbered);
        painter.line_segment([pos2(band.right() - long, y), pos2(band.right(), y)], ink);
        if i.rem_euclid(i64::from(numbered)) == 0 {
            let words = number(i as f64 * mark, unit);
            let galley = painter.layout_no_wrap(words, font.clone(), board.palette.text);
            // A number that would be cut is left out: half of it reads as another.
            let half = galley.size().x / 2.0;
            if y - half < band.top() || y + half > band.bottom() {
                continue;
            }
            // Numbers are read with the head turned to the left, as on a tape
            // that hangs.
            let at = pos2(band.left() + 2.0, y + half);
            let text = egui::epaint::TextShape::new(at, galley, board.palette.text);
            painter.add(text.with_angle(-std::f32::consts::FRAC_PI_2));
        }
    }
    if let Some(pointer) = ui.input(|i| i.pointer.hover_pos()).filter(|p| canvas.contains(*p)) {
        painter.hline(band.x_range(), pointer.y, Stroke::new(2.0, board.palette.madder));
    }
}

fn draw(own: &Table, board: &Board, ui: &Ui, band: egui::Rect) {
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(board));
    painter.hline(band.x_range(), band.top(), Stroke::new(1.5, board.palette.text_soft));
    let unit = board.unit();
    let scale = own.view.scale;
    let size = TextStyle::Small.resolve(ui.style()).size;
    let Some((mark, numbered)) = suiting(unit, scale, size) else { return };
    // The tape starts at the left edge of the first piece: zero lies there.
    let canvas = own.canvas;
    if !canvas.is_finite() || canvas.width() <= 0.0 {
        return;
    }
    let left = own.view.on_table(canvas, pos2(band.left(), canvas.center().y)).x;
    let right = own.view.on_table(canvas, pos2(band.right(), canvas.center().y)).x;
    let x_of = |mm: f64| (f64::from(canvas.center().x) + (mm - own.view.centre.x) * scale) as f32;
    let ink = Stroke::new(1.2, board.palette.text);
    let font = FontId::proportional(size);
    let (first, last) = ((left / mark).floor() as i64, (right / mark).ceil() as i64);
    for i in first..=last {
        let x = x_of(i as f64 * mark);
        let is_numbered = i.rem_euclid(i64::from(numbered)) == 0;
        let long = length_of(i, numbered);
        painter.line_segment([pos2(x, band.top()), pos2(x, band.top() + long)], ink);
        if is_numbered {
            let words = number(i as f64 * mark, unit);
            let galley = painter.layout_no_wrap(words, font.clone(), board.palette.text);
            let half = galley.size().x / 2.0;
            if x - half < band.left() || x + half > band.right() {
                continue;
            }
            let at = pos2(x - half, band.bottom() - 2.0 - galley.size().y);
            painter.galley(at, galley, board.palette.text);
        }
    }
    if let Some(pointer) = ui.input(|i| i.pointer.hover_pos()).filter(|p| canvas.contains(*p)) {
        painter.vline(pointer.x, band.y_range(), Stroke::new(2.0, board.palette.madder));
    }
}

fn number(mm: f64, unit: Unit) -> String {
    let value = match unit {
        Unit::Mm => mm,
        Unit::Cm => mm / 10.0,
        _ => mm / INCH,
    };
    let whole = format!("{:.0}", value.round()).replace('-', "−");
    // The unit stands once, at nought.
    match (whole.trim_start_matches('−') == "0", unit) {
        (false, _) => whole,
        (true, Unit::Mm) => "0 mm".into(),
        (true, Unit::Cm) => "0 cm".into(),
        (true, _) => "0 in".into(),
    }
}
