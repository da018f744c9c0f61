//! Small pictures on the cards: pieces old under new, and pieces laid against
//! each other as they are sewn.

use crate::kit::sheet::{Sheets, on_screen};
use crate::kit::theme::Palette;
use crate::kit::view::pos;
use egui::{Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, vec2};
use hangtrue_geometry::{Affine, Rect as PaperRect};
use hangtrue_pattern::PlacedLine;

/// The map that fits a box of the paper into a box of the screen.
pub(crate) fn fitted(what: PaperRect, into: Rect) -> Affine {
    let wide = f64::from(into.width()) / what.width().max(1e-6);
    let high = f64::from(into.height()) / what.height().max(1e-6);
    let s = wide.min(high);
    let c = into.center();
    Affine::new([
        s,
        0.0,
        0.0,
        -s,
        f64::from(c.x) - s * what.center().x,
        f64::from(c.y) + s * what.center().y,
    ])
}

/// A frame on a card for a picture, with the name a screen reader says.
pub(crate) fn frame(ui: &mut Ui, palette: &Palette, height: f32, words: &str) -> (Rect, Painter) {
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, words));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 5.0, palette.table);
    (rect, painter)
}

/// One piece, the old outline broken over the new paper.
pub(crate) fn old_under_new(
    painter: &Painter,
    into: Rect,
    palette: &Palette,
    piece: &str,
    old: &Sheets,
    new: Option<&Sheets>,
) {
    let Some(old) = old.get(piece) else { return };
    let new = new.and_then(|n| n.get(piece));
    let bounds = new.map_or(old.bounds, |n| n.bounds.union(old.bounds));
    let place = fitted(bounds, into.shrink(8.0));
    if let Some(new) = new {
        painter.add(Shape::mesh(new.paper.mesh(place, palette.paper)));
        let ink = Stroke::new(1.4, palette.ink);
        painter.add(Shape::line(on_screen(&new.outline, place), ink));
        for leg in &new.darts {
            painter.add(Shape::line(leg.map(|p| pos(place * p)).to_vec(), ink));
        }
    }
    let pen = Stroke::new(1.2, palette.on_paper().indigo);
    painter.extend(Shape::dashed_line(&on_screen(&old.outline, place), pen, 5.0, 3.0));
}

/// A piece as part of a sewn picture.
pub(crate) struct SewnPiece<'a> {
    pub sheet: &'a crate::kit::sheet::DrawnPiece,
    pub lines: Vec<&'a PlacedLine>,
    pub by: Affine,
}

/// Pieces laid as they are sewn, with their lines; one line is drawn strong.
pub(crate) fn as_sewn(
    painter: &Painter,
    view: Affine,
    palette: &Palette,
    laid: &[SewnPiece],
    strong: &str,
) {
    for part in laid {
        let place = view * part.by;
        painter.add(Shape::mesh(part.sheet.paper.mesh(place, palette.paper)));
        let ink = Stroke::new(1.5, palette.ink);
        painter.add(Shape::line(on_screen(&part.sheet.outline, place), ink));
        for leg in &part.sheet.darts {
            let points: Vec<Pos2> = leg.map(|p| pos(place * p)).to_vec();
            painter.add(Shape::line(points, Stroke::new(1.0, palette.ink_soft)));
        }
    }
    for part in laid {
        let place = view * part.by;
        for line in &part.lines {
            let points = on_screen(&crate::kit::sheet::drawn(&line.chain, 0.3), place);
            let inks = palette.on_paper();
            if line.name == strong {
                painter.add(Shape::line(points, Stroke::new(2.6, inks.madder)));
            } else {
                painter.extend(Shape::dashed_line(
                    &points,
                    Stroke::new(1.2, inks.indigo),
                    8.0,
                    4.0,
                ));
            }
        }
    }
}
