//! The measuring tape along the bottom edge: it follows the zoom and the pan of
//! the table, in fractions of an inch or in mm.

use crate::desk::desk::Desk;
use crate::board::stage::Stage;
use egui::{Align2, Color32, FontId, Sense, Stroke, TextStyle, Ui, pos2, vec2};
use hangtrue_pattern::units::{INCH, Unit};

/// Names of the units in the list.
pub(crate) const UNITS: [(Unit, &str); 5] = [
    (Unit::Eighths, "inches, 1/8"),
    (Unit::Sixteenths, "inches, 1/16"),
    (Unit::ThirtySeconds, "inches, 1/32"),
    (Unit::Cm, "centimetres"),
    (Unit::Mm, "millimetres"),
];

/// Shows the tape with its few controls.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    controls(desk, ui);
    let height = TextStyle::Small.resolve(ui.style()).size + 22.0;
    let (band, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    if crate::toile::photo_table::is_shown(desk) {
        of_a_photo(desk, ui, band);
    } else {
        draw(desk, ui, band);
    }
}

/// A photo has no scale of its own: each line tells what a pixel is there.
fn of_a_photo(desk: &Desk, ui: &Ui, band: egui::Rect) {
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(desk));
    let font = TextStyle::Small.resolve(ui.style());
    let words = "A photo: near cloth looks larger than far cloth, so each line has its own scale";
    let at = Align2::CENTER_CENTER;
    painter.text(band.center(), at, words, font, desk.palette.text);
}

fn controls(desk: &mut Desk, ui: &mut Ui) {
    ui.add_space(3.0);
    let row = egui::Frame::new().inner_margin(egui::Margin::symmetric(12, 0));
    row.show(ui, |ui| control_row(desk, ui));
}

fn control_row(desk: &mut Desk, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        let on_photo = crate::toile::photo_table::is_shown(desk);
        if ui.button("Show all").on_hover_text("F").clicked() {
            desk.fit_wanted = true;
            desk.cards.toile.fit_wanted = true;
        }
        for (words, keys, factor) in [("Nearer", "+", 1.25), ("Farther", "-", 0.8)] {
            if ui.button(words).on_hover_text(keys).clicked() {
                let canvas = desk.canvas;
                if on_photo {
                    desk.cards.toile.view.zoom_at(canvas, canvas.center(), factor);
                } else {
                    desk.all_in_view = false;
                    desk.view.zoom_at(canvas, canvas.center(), factor);
                }
            }
        }
        if !on_photo {
            if ui.button("True size").on_hover_text("T").clicked() {
                crate::table::true_size(desk);
            }
            let mates =
                if desk.settings.mates { "Put the mates away" } else { "Lay the mates out" };
            if ui.button(mates).on_hover_text("The other leg: each piece mirrored").clicked() {
                desk.set_mates(!desk.settings.mates);
            }
        }
        ui.separator();
        let unit = desk.unit();
        let name = UNITS.iter().find(|u| u.0 == unit).map_or("", |u| u.1);
        let combo = egui::ComboBox::from_id_salt("unit").selected_text(name).width(150.0);
        let shown = combo.show_ui(ui, |ui| {
            for (choice, name) in UNITS {
                if ui.selectable_label(unit == choice, name).clicked() {
                    desk.edit("the unit", |d| d.unit = choice);
                }
            }
        });
        crate::kit::length_field::name_id(ui, shown.response.id, &format!("Unit: {name}"));
        if on_photo {
            return;
        }
        ui.separator();
        let size = desk.settings.points_per_mm.map(|p| desk.view.scale / p * 100.0);
        let words = match size {
            Some(percent) => format!("shown at {percent:.0} % of true size"),
            None => "screen not measured yet".into(),
        };
        ui.colored_label(desk.palette.text_soft, words);
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

fn ground(desk: &Desk) -> Color32 {
    if desk.palette.evening {
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
pub(crate) fn hang(desk: &Desk, ui: &Ui, band: egui::Rect) {
    let (canvas, size) = (desk.canvas, TextStyle::Small.resolve(ui.style()).size);
    let sheets = (desk.stage == Stage::Print).then(|| crate::table::print_table::bounds(desk)).flatten();
    let start = desk.replay.start().ok();
    let pieces = || start.and_then(|p| desk.lay.bounds(p));
    let Some(top) = sheets.or_else(pieces).map(|b| b.y1) else { return };
    let (unit, scale) = (desk.unit(), desk.view.scale);
    let Some((mark, numbered)) = suiting(unit, scale, size) else { return };
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(desk));
    painter.vline(band.right(), band.y_range(), Stroke::new(1.5, desk.palette.text_soft));
    let down = |y: f32| top - desk.view.on_table(canvas, pos2(canvas.left(), y)).y;
    let (first, last) = (down(band.top()) / mark, down(band.bottom()) / mark);
    let y_of =
        |mm: f64| (f64::from(canvas.center().y) + (desk.view.centre.y - (top - mm)) * scale) as f32;
    let ink = Stroke::new(1.2, desk.palette.text);
    let font = FontId::proportional(size);
    for i in first.floor() as i64..=last.ceil() as i64 {
        let y = y_of(i as f64 * mark);
        let long = length_of(i, numbered);
        painter.line_segment([pos2(band.right() - long, y), pos2(band.right(), y)], ink);
        if i.rem_euclid(i64::from(numbered)) == 0 {
            let words = number(i as f64 * mark, unit);
            let galley = painter.layout_no_wrap(words, font.clone(), desk.palette.text);
            // Numbers are read with the head turned to the left, as on a tape
            // that hangs.
            let at = pos2(band.left() + 2.0, y + galley.size().x / 2.0);
            let text = egui::epaint::TextShape::new(at, galley, desk.palette.text);
            painter.add(text.with_angle(-std::f32::consts::FRAC_PI_2));
        }
    }
    if let Some(pointer) = ui.input(|i| i.pointer.hover_pos()).filter(|p| canvas.contains(*p)) {
        painter.hline(band.x_range(), pointer.y, Stroke::new(2.0, desk.palette.madder));
    }
}

fn draw(desk: &Desk, ui: &Ui, band: egui::Rect) {
    let painter = ui.painter_at(band);
    painter.rect_filled(band, 0.0, ground(desk));
    painter.hline(band.x_range(), band.top(), Stroke::new(1.5, desk.palette.text_soft));
    let unit = desk.unit();
    let scale = desk.view.scale;
    let size = TextStyle::Small.resolve(ui.style()).size;
    let Some((mark, numbered)) = suiting(unit, scale, size) else { return };
    // The tape starts at the left edge of the first piece: zero lies there.
    let canvas = desk.canvas;
    if !canvas.is_finite() || canvas.width() <= 0.0 {
        return;
    }
    let left = desk.view.on_table(canvas, pos2(band.left(), canvas.center().y)).x;
    let right = desk.view.on_table(canvas, pos2(band.right(), canvas.center().y)).x;
    let x_of = |mm: f64| (f64::from(canvas.center().x) + (mm - desk.view.centre.x) * scale) as f32;
    let ink = Stroke::new(1.2, desk.palette.text);
    let font = FontId::proportional(size);
    let (first, last) = ((left / mark).floor() as i64, (right / mark).ceil() as i64);
    for i in first..=last {
        let x = x_of(i as f64 * mark);
        let is_numbered = i.rem_euclid(i64::from(numbered)) == 0;
        let long = length_of(i, numbered);
        painter.line_segment([pos2(x, band.top()), pos2(x, band.top() + long)], ink);
        if is_numbered {
            let at = pos2(x, band.bottom() - 2.0);
            painter.text(
                at,
                Align2::CENTER_BOTTOM,
                number(i as f64 * mark, unit),
                font.clone(),
                desk.palette.text,
            );
        }
    }
    if let Some(pointer) = ui.input(|i| i.pointer.hover_pos()).filter(|p| canvas.contains(*p)) {
        painter.vline(pointer.x, band.y_range(), Stroke::new(2.0, desk.palette.madder));
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
