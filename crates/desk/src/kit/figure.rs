//! A standing figure that shows where a measure is taken.

use crate::kit::theme::Palette;
use egui::{Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use hangtrue_files::print::people::figure::{FigureStroke, body, where_taken};
use hangtrue_pattern::Measure;

/// Draws the figure and, strongly, where the measure is taken.
pub(crate) fn draw(painter: &Painter, into: Rect, palette: &Palette, measure: Option<Measure>) {
    let inks = palette.on_paper();
    let frame = into.shrink2(vec2(8.0, 12.0));
    let draw = |stroke: &FigureStroke, pen: Stroke, (on, off): (f32, f32)| {
        let tall = frame.height();
        let at = |x: f64, y: f64| {
            pos2(frame.center().x + x as f32 * tall, frame.bottom() - y as f32 * tall)
        };
        let places: Vec<Pos2> = stroke.places.iter().map(|p| at(p.x, p.y)).collect();
        if stroke.broken {
            painter.extend(Shape::dashed_line(&places, pen, on, off));
        } else {
            painter.add(Shape::line(places, pen));
        }
    };
    for stroke in body() {
        let width = if stroke.broken { 1.0 } else { 1.6 };
        draw(&stroke, Stroke::new(width, inks.ink_soft), (6.0, 4.0));
    }
    for stroke in measure.into_iter().flat_map(where_taken) {
        draw(&stroke, Stroke::new(3.0, inks.madder), (4.0, 4.0));
    }
}
