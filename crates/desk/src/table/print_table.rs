//! The table while printing: the drawing as it is printed, with the sheets laid
//! over it and the skipped ones crossed out.

use crate::board::Board;
use crate::kit::sheet::{drawn_path, on_screen};
use crate::kit::view::{PanZoom, pos};
use egui::{Color32, FontId, Painter, Rect, Shape, Stroke, Ui};
use hangtrue_files::print::{Anchor, Dash, Mark, Printed};
use hangtrue_geometry::{Affine, Point, Rect as PaperRect};

/// The box that holds all sheets, mm.
pub(crate) fn bounds(board: &Board) -> Option<PaperRect> {
    let printed = board.printed.as_ref()?;
    printed.grid.tiles.iter().map(|t| t.window).reduce(|a, b| a.union(b))
}

/// Shows the sheets; false when they are not worked out yet.
pub(crate) fn show(view: &PanZoom, board: &Board, ui: &Ui, canvas: Rect) -> bool {
    let Some(printed) = &board.printed else { return false };
    let to_screen = view.to_screen(canvas);
    let painter = ui.painter_at(canvas);
    sheets(board, &painter, printed, to_screen);
    for item in &printed.scene.items {
        draw_mark(&painter, &item.mark, to_screen, view.scale);
    }
    joins(board, ui, &painter, printed, to_screen);
    true
}

fn on(to_screen: Affine, window: PaperRect) -> Rect {
    let corner = |x, y| pos(to_screen * Point::new(x, y));
    Rect::from_two_pos(corner(window.x0, window.y0), corner(window.x1, window.y1))
}

fn sheets(board: &Board, painter: &Painter, printed: &Printed, to_screen: Affine) {
    for tile in &printed.grid.tiles {
        let rect = on(to_screen, tile.window);
        if tile.blank {
            let pen = Stroke::new(1.0, board.palette.text_soft);
            painter.line_segment([rect.left_top(), rect.right_bottom()], pen);
            painter.line_segment([rect.left_bottom(), rect.right_top()], pen);
        } else {
            painter.rect_filled(rect, 0.0, board.palette.paper);
        }
    }
}

/// Points beside a sheet's name, the part of its sheet the name may take, and its smallest
/// letters, points.
const ASIDE: f32 = 8.0;
const NAME_PART: f32 = 0.4;
const SMALLEST: f32 = 8.0;

fn joins(board: &Board, ui: &Ui, painter: &Painter, printed: &Printed, to_screen: Affine) {
    let inks = board.palette.on_paper();
    let size = egui::TextStyle::Body.resolve(ui.style()).size;
    for tile in &printed.grid.tiles {
        let rect = on(to_screen, tile.window);
        let corners = [
            rect.left_top(),
            rect.right_top(),
            rect.right_bottom(),
            rect.left_bottom(),
            rect.left_top(),
        ];
        painter.extend(Shape::dashed_line(&corners, Stroke::new(1.2, inks.madder), 7.0, 4.0));
        let colour = if tile.blank { board.palette.text } else { inks.madder };
        let set = |words: &str, size: f32| {
            let font = FontId::new(size, crate::kit::theme::bold_family());
            painter.layout_no_wrap(words.to_owned(), font, colour)
        };
        // The name keeps to a part of its sheet; that it is skipped is said where there is room.
        let room = rect.width() - 2.0 * ASIDE;
        let skipped = tile.blank.then(|| set(&format!("{} skipped", tile.name), size));
        let skipped = skipped.filter(|s| s.size().x <= room && s.size().y <= room * NAME_PART);
        let named = skipped.unwrap_or_else(|| {
            let plain = set(&tile.name, size);
            let part = room * NAME_PART / plain.size().max_elem();
            if part < 1.0 { set(&tile.name, (size * part).max(SMALLEST)) } else { plain }
        });
        let at = rect.left_top() + egui::vec2(ASIDE, 6.0);
        // On a plate, so that no line of the pattern runs through a sheet's name.
        let plate = Rect::from_min_size(at, named.size()).expand(2.0);
        painter.rect_filled(plate, 3.0, if tile.blank { board.palette.table } else { inks.paper });
        painter.galley(at, named, colour);
    }
}

/// Letters smaller than this on the screen are not drawn, points.
const LEGIBLE: f64 = 5.0;

fn draw_mark(painter: &Painter, mark: &Mark, to_screen: Affine, scale: f64) {
    let colour = |ink: hangtrue_files::print::Ink| Color32::from_rgb(ink.0, ink.1, ink.2);
    let fine = 0.2 / scale;
    match mark {
        Mark::Stroke(path, pen) => {
            let stroke = Stroke::new((pen.width * scale).max(0.8) as f32, colour(pen.ink));
            for run in drawn_path(path, fine) {
                let points = on_screen(&run, to_screen);
                match pen.dash {
                    Dash::Solid => {
                        painter.add(Shape::line(points, stroke));
                    }
                    _ => painter.extend(Shape::dashed_line(&points, stroke, 5.0, 3.5)),
                }
            }
        }
        Mark::Fill(path, ink) => {
            let mesh = crate::kit::sheet::fill(path, fine).mesh(to_screen, colour(*ink));
            painter.add(Shape::mesh(mesh));
        }
        Mark::Words(words) => {
            let size = words.size * scale;
            if size < LEGIBLE {
                return;
            }
            let font = FontId::proportional((size * 1.2).min(200.0) as f32);
            let galley = painter.layout_no_wrap(words.text.clone(), font, colour(words.ink));
            let turn = -words.angle as f32;
            let along = egui::Vec2::angled(turn);
            let back = match words.anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => galley.size().x / 2.0,
                Anchor::End => galley.size().x,
            };
            let up =
                egui::Vec2::angled(turn - std::f32::consts::FRAC_PI_2) * galley.size().y * 0.78;
            let at = pos(to_screen * words.at) - along * back + up;
            let shape =
                egui::epaint::TextShape::new(at, galley, colour(words.ink)).with_angle(turn);
            painter.add(shape);
        }
    }
}
