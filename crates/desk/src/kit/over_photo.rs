//! Lines over a photo: light under dark, so that they are seen on any ground.

use egui::{Painter, Pos2, Shape, Stroke};

/// A whole line over its halo.
pub(crate) fn whole(painter: &Painter, line: Vec<Pos2>, halo: Stroke, pen: Stroke) {
    painter.add(Shape::line(line.clone(), halo));
    painter.add(Shape::line(line, pen));
}

/// A broken line over its whole halo.
pub(crate) fn broken(
    painter: &Painter,
    line: Vec<Pos2>,
    halo: Stroke,
    pen: Stroke,
    (dash, gap): (f32, f32),
) {
    painter.add(Shape::line(line.clone(), halo));
    painter.extend(Shape::dashed_line(&line, pen, dash, gap));
}
