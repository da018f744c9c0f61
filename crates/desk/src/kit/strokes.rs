//! Small drawings of a few strokes in a box of their own, as large as the frame lets it be.
//! Nothing is measured on them.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// A place of the box, y down.
pub(crate) type Dot = (f32, f32);

/// Draws in a box of a width and a height, in the middle of its frame.
pub(crate) struct Strokes {
    pub painter: Painter,
    pub frame: Rect,
    /// Width and height of the box.
    pub size: Dot,
}

impl Strokes {
    pub fn at(&self, (x, y): Dot) -> Pos2 {
        let (wide, high) = self.size;
        let s = (self.frame.width() / wide).min(self.frame.height() / high);
        self.frame.center() + vec2(x - wide / 2.0, y - high / 2.0) * s
    }

    fn all(&self, places: &[Dot]) -> Vec<Pos2> {
        places.iter().map(|p| self.at(*p)).collect()
    }

    pub fn line(&self, places: &[Dot], width: f32, ink: Color32) {
        self.painter.add(Shape::line(self.all(places), Stroke::new(width, ink)));
    }

    pub fn closed(&self, places: &[Dot], width: f32, ink: Color32) {
        self.painter.add(Shape::closed_line(self.all(places), Stroke::new(width, ink)));
    }

    /// A shape that bends one way, filled.
    pub fn filled(&self, places: &[Dot], ink: Color32) {
        self.painter.add(Shape::convex_polygon(self.all(places), ink, Stroke::NONE));
    }

    pub fn broken(&self, places: &[Dot], width: f32, ink: Color32) {
        let pen = Stroke::new(width, ink);
        self.painter.extend(Shape::dashed_line(&self.all(places), pen, 4.5, 3.5));
    }

    pub fn dot(&self, place: Dot, radius: f32, ink: Color32) {
        self.painter.circle_filled(self.at(place), radius, ink);
    }

    pub fn arrow(&self, from: Dot, to: Dot, ink: Color32) {
        /// Length of the head, points, and half its width against that.
        const HEAD: (f32, f32) = (6.5, 0.55);
        let (from, to) = (self.at(from), self.at(to));
        let back = (from - to).normalized() * HEAD.0;
        let wings = [to + back + back.rot90() * HEAD.1, to, to + back - back.rot90() * HEAD.1];
        let pen = Stroke::new(1.6, ink);
        self.painter.line_segment([from, to], pen);
        self.painter.add(Shape::line(wings.to_vec(), pen));
    }

    /// A curve from the first place to the last, bent towards the second.
    pub fn bow(&self, [a, b, c]: [Dot; 3], width: f32, ink: Color32) {
        self.line(&bow(a, b, c), width, ink);
    }
}

/// A soft curve between two places, bent towards a third (a parabola, for the eye only).
pub(crate) fn bow(a: Dot, b: Dot, c: Dot) -> Vec<Dot> {
    const STEPS: u16 = 12;
    (0..=STEPS)
        .map(|i| {
            let t = f32::from(i) / f32::from(STEPS);
            let of = |a: f32, b: f32, c: f32| {
                a * (1.0 - t) * (1.0 - t) + 2.0 * b * t * (1.0 - t) + c * t * t
            };
            (of(a.0, b.0, c.0), of(a.1, b.1, c.1))
        })
        .collect()
}
