//! What was read from a photo, drawn over it on the screen.

use crate::board::Board;
use crate::kit::over_photo;
use crate::kit::theme::Palette;
use crate::kit::view::pos;
use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Ui, vec2};
use hangtrue_files::worn::{Drawn, ReadPhoto, Way, overlay};
use hangtrue_geometry::{Affine, Point};

/// Where a photo lies on the screen.
pub(crate) struct LaidPhoto {
    /// From its pixels to the screen.
    pub to_screen: Affine,
}

impl LaidPhoto {
    fn scale(&self) -> f64 {
        let [a, b, ..] = self.to_screen.as_coeffs();
        a.hypot(b)
    }

    fn at(&self, p: Point) -> Pos2 {
        pos(self.to_screen * p)
    }
}

/// Draws levels, lines, arrows and their amounts. Plates stand upright however the
/// photo is turned.
pub(crate) fn paint(board: &Board, ui: &Ui, painter: &Painter, read: &ReadPhoto, laid: &LaidPhoto) {
    let size = egui::TextStyle::Small.resolve(ui.style()).size;
    let letter = f64::from(size) / laid.scale().max(1e-6);
    let drawn = overlay(read, board.unit(), letter);
    let inks = board.palette.on_paper();
    for part in &drawn {
        line(painter, part, laid, &inks);
    }
    for part in &drawn {
        match part {
            Drawn::Arrow { from, to, way } => {
                arrow(painter, laid.at(*from), laid.at(*to), ink_of(*way, &inks), &inks);
            }
            Drawn::Plate { place, tells_of, way, .. } => {
                let plate = plate_on(laid, *place);
                let at = laid.at(*tells_of);
                let from = egui::pos2(
                    at.x.clamp(plate.left(), plate.right()),
                    if at.y < plate.top() { plate.top() } else { plate.bottom() },
                );
                let ink = ink_of(way.unwrap_or(Way::Level), &inks);
                painter.line_segment([from, at], Stroke::new(1.0, ink));
            }
            _ => {}
        }
    }
    for part in &drawn {
        if let Drawn::Plate { place, words, way, .. } = part {
            let plate = plate_on(laid, *place);
            let ink = ink_of(way.unwrap_or(Way::Level), &inks);
            painter.rect_filled(plate, 3.0, inks.paper.gamma_multiply(0.94));
            let edge = egui::StrokeKind::Inside;
            painter.rect_stroke(plate, 3.0, Stroke::new(1.0, ink), edge);
            let galley =
                painter.layout_no_wrap(words.clone(), FontId::proportional(size), inks.ink);
            let at = plate.center() - galley.size() / 2.0;
            painter.galley(at, galley, inks.ink);
        }
    }
}

/// The plate on the screen, upright.
fn plate_on(laid: &LaidPhoto, place: hangtrue_geometry::Rect) -> Rect {
    let size = vec2(place.width() as f32, place.height() as f32) * laid.scale() as f32;
    Rect::from_center_size(laid.at(place.center()), size)
}

fn ink_of(way: Way, inks: &Palette) -> Color32 {
    match way {
        Way::Droop => inks.madder,
        Way::Rise => inks.indigo,
        Way::Level => inks.ink,
    }
}

fn line(painter: &Painter, part: &Drawn, laid: &LaidPhoto, inks: &Palette) {
    let halo = |width: f32| Stroke::new(width, inks.paper.gamma_multiply(0.75));
    let run = |points: &[Point]| points.iter().map(|p| laid.at(*p)).collect::<Vec<Pos2>>();
    match part {
        Drawn::Level(points) => {
            let pen = Stroke::new(1.6, inks.indigo);
            over_photo::broken(painter, run(points), halo(3.2), pen, (8.0, 5.0));
        }
        Drawn::Line(points) => {
            let pen = Stroke::new(2.0, inks.madder);
            over_photo::whole(painter, run(points), halo(4.4), pen);
        }
        Drawn::Faint(points) => {
            let pen = Stroke::new(1.3, inks.madder.gamma_multiply(0.6));
            painter.extend(Shape::dashed_line(&run(points), pen, 3.0, 3.0));
        }
        Drawn::Arrow { .. } | Drawn::Plate { .. } => {}
    }
}

fn arrow(painter: &Painter, from: Pos2, to: Pos2, ink: Color32, inks: &Palette) {
    let along = to - from;
    let length = along.length();
    if length < 0.5 {
        return;
    }
    let halo = Stroke::new(5.0, inks.paper.gamma_multiply(0.75));
    painter.line_segment([from, to], halo);
    painter.line_segment([from, to], Stroke::new(2.2, ink));
    let unit = along / length;
    let head = 9.0_f32.min(length);
    let back = to - unit * head;
    let square = vec2(-unit.y, unit.x) * (head * 0.5);
    painter.add(Shape::convex_polygon(vec![to, back + square, back - square], ink, Stroke::NONE));
}
