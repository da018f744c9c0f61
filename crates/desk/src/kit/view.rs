//! What part of the table is looked at, and how large.

use crate::kit::look_round::Moves;
use egui::{Pos2, Rect, Vec2};
use hangtrue_geometry::Rect as PaperRect;
use hangtrue_geometry::{Affine, Point};

/// What part of a table or a picture is looked at. Lengths on the table are mm, in
/// a picture pixels; y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PanZoom {
    /// The place in the middle of the canvas, mm.
    pub centre: Point,
    /// Points of the screen per mm or pixel.
    pub scale: f64,
    limits: Limits,
}

/// How small and large a thing is shown, and what is left free round all of it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Limits {
    /// The smallest and largest scale.
    scales: (f64, f64),
    /// Points of the screen.
    margin: f64,
}

/// The whole table, and threads of the paper.
const OF_TABLE: Limits = Limits { scales: (0.05, 60.0), margin: 26.0 };
/// A large scan whole, and single pixels.
const OF_PICTURE: Limits = Limits { scales: (0.01, 40.0), margin: 16.0 };

impl Default for PanZoom {
    fn default() -> Self {
        Self { centre: Point::ORIGIN, scale: 0.6, limits: OF_TABLE }
    }
}

impl PanZoom {
    /// The view of a picture, in its pixels; its y, which runs down, is turned up.
    pub fn of_picture() -> Self {
        Self { centre: Point::ORIGIN, scale: 1.0, limits: OF_PICTURE }
    }

    /// Looks at a place from so near.
    pub fn at(self, centre: Point, scale: f64) -> Self {
        Self { centre, scale, ..self }
    }

    /// The affine map from the table to the screen.
    pub fn to_screen(self, canvas: Rect) -> Affine {
        let c = canvas.center();
        let s = self.scale;
        Affine::new([
            s,
            0.0,
            0.0,
            -s,
            f64::from(c.x) - s * self.centre.x,
            f64::from(c.y) + s * self.centre.y,
        ])
    }

    /// The place on the table under a place on the screen, mm.
    pub fn on_table(self, canvas: Rect, at: Pos2) -> Point {
        self.to_screen(canvas).inverse() * Point::new(f64::from(at.x), f64::from(at.y))
    }

    /// Moves the paper by so many points of the screen.
    pub fn pan(&mut self, by: Vec2) {
        self.centre.x -= f64::from(by.x) / self.scale;
        self.centre.y += f64::from(by.y) / self.scale;
    }

    /// Zooms by a factor so that what is under `at` stays there.
    pub fn zoom_at(&mut self, canvas: Rect, at: Pos2, factor: f64) {
        let before = self.on_table(canvas, at);
        self.scale = (self.scale * factor).clamp(self.limits.scales.0, self.limits.scales.1);
        let after = self.on_table(canvas, at);
        self.centre += before - after;
    }

    /// Moves and zooms as it was asked.
    pub fn take(&mut self, canvas: Rect, asked: &Moves) {
        self.pan(asked.pan);
        for (at, factor) in &asked.zooms {
            self.zoom_at(canvas, *at, *factor);
        }
    }

    /// Shows all of `what` with a margin, and below so many points at the top,
    /// where words lie.
    pub fn fit(&mut self, canvas: Rect, above: f32, what: PaperRect) {
        let Limits { margin, scales } = self.limits;
        // Words that fill half of the canvas leave the other half to the pieces.
        let above = above.min(canvas.height() / 2.0);
        let canvas = Rect::from_min_max(canvas.min + Vec2::new(0.0, above), canvas.max);
        let wide = (f64::from(canvas.width()) - 2.0 * margin).max(20.0) / what.width().max(1.0);
        let high = (f64::from(canvas.height()) - 2.0 * margin).max(20.0) / what.height().max(1.0);
        self.scale = wide.min(high).clamp(scales.0, scales.1);
        self.centre = what.center();
        self.centre.y += f64::from(above) / 2.0 / self.scale;
    }
}

/// A point of the table as egui has it.
pub(crate) fn pos(p: Point) -> Pos2 {
    Pos2::new(p.x as f32, p.y as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zooming_holds_what_is_under_the_pointer() {
        let canvas = Rect::from_min_size(Pos2::new(100.0, 50.0), Vec2::new(800.0, 600.0));
        let mut view = PanZoom::default();
        view.pan(Vec2::new(31.0, -17.0));
        let at = Pos2::new(220.0, 480.0);
        let before = view.on_table(canvas, at);
        view.zoom_at(canvas, at, 3.7);
        assert!((view.on_table(canvas, at) - before).hypot() < 1e-9);
        let there = view.to_screen(canvas) * before;
        assert!((there.x - 220.0).abs() < 1e-6 && (there.y - 480.0).abs() < 1e-6);
    }

    #[test]
    fn fitting_shows_all_of_it() {
        let canvas = Rect::from_min_size(Pos2::ZERO, Vec2::new(900.0, 500.0));
        let what = PaperRect::new(-300.0, -740.0, 500.0, 230.0);
        let mut view = PanZoom::default();
        view.fit(canvas, 42.0, what);
        for corner in [(what.x0, what.y0), (what.x1, what.y1)] {
            let p = pos(view.to_screen(canvas) * Point::from(corner));
            assert!(canvas.contains(p), "{p:?}");
        }
    }
}
