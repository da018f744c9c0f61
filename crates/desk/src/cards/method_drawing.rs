//! What each method does to the paper, in a few strokes: a back in a box of 100 by 70.
//! Nothing is measured on it.

use crate::kit::picture;
use crate::kit::theme::Palette;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Ui, vec2};
use hangtrue_adjust::Method;

/// Height of a drawing at letters of 100 %, points.
const HIGH: f32 = 74.0;

/// Shows it, as wide as there is room.
pub(super) fn show(ui: &mut Ui, palette: &Palette, letters: f32, method: &Method) {
    let words = format!("A drawing: {}", says(method));
    let (rect, painter) = picture::frame(ui, palette, HIGH * letters.sqrt(), &words);
    let inks = palette.on_paper();
    painter.rect_filled(rect, 5.0, inks.paper);
    let pen = Pen { painter, rect: rect.shrink(5.0) };
    let (ink, taken) = (Stroke::new(1.4, inks.ink), inks.madder);
    match method {
        Method::TopAndScoop(_) => {
            pen.broken(&outline(TOP, CROTCH), inks.indigo);
            pen.closed(&outline(LOWER_TOP, DEEPER_CROTCH), ink);
            pen.arrow((44.0, 2.0), (45.5, 11.0), taken);
            pen.arrow((30.0, 36.0), (24.0, 42.5), taken);
        }
        Method::SlashAndLap(_) => {
            pen.filled(&[(86.5, 38.0), (17.0, 38.0), (20.5, 47.0)], taken.gamma_multiply(0.35));
            pen.closed(&outline(TOP, CROTCH), ink);
            pen.line(&[(86.5, 38.0), (17.0, 38.0)], taken);
            pen.line(&[(86.5, 38.0), (20.5, 47.0)], taken);
            pen.dot((86.5, 38.0), taken);
        }
        Method::Distribute(_) => {
            let strip = [(15.5, 39.0), (86.5, 39.0), (85.5, 46.0), (20.0, 46.0)];
            pen.filled(&strip, taken.gamma_multiply(0.35));
            pen.closed(&outline(TOP, CROTCH), ink);
            pen.line(&strip[..2], taken);
            pen.line(&strip[2..], taken);
        }
    }
}

fn says(method: &Method) -> &'static str {
    match method {
        Method::TopAndScoop(_) => {
            "the top of the centre seam lowered and the crotch curve scooped deeper, the old line broken"
        }
        Method::SlashAndLap(_) => "a wedge across the back that closes to nothing at the side",
        Method::Distribute(_) => "a strip across the back, as wide at both ends",
    }
}

type Dot = (f32, f32);

/// The waist's centre corner, and the crotch curve from below it to the crotch point.
const TOP: Dot = (40.0, 5.0);
const LOWER_TOP: Dot = (42.0, 11.0);
const CROTCH: [Dot; 4] = [(35.0, 22.0), (30.0, 31.0), (22.0, 34.5), (14.0, 36.0)];
const DEEPER_CROTCH: [Dot; 4] = [(37.0, 23.0), (34.0, 34.0), (25.0, 39.5), (14.0, 38.5)];

/// A back: waist, side, the cut-off leg, inseam, crotch.
fn outline(top: Dot, crotch: [Dot; 4]) -> Vec<Dot> {
    let [below_waist, bend, before_point, point] = crotch;
    vec![
        top,
        (80.0, 3.0),
        (85.0, 18.0),
        (87.0, 34.0),
        (84.0, 67.0),
        (34.0, 67.0),
        (24.0, 52.0),
        point,
        before_point,
        bend,
        below_waist,
    ]
}

struct Pen {
    painter: Painter,
    rect: Rect,
}

impl Pen {
    fn at(&self, (x, y): Dot) -> Pos2 {
        let s = (self.rect.width() / 100.0).min(self.rect.height() / 70.0);
        self.rect.center() + vec2(x - 50.0, y - 35.0) * s
    }

    fn all(&self, places: &[Dot]) -> Vec<Pos2> {
        places.iter().map(|p| self.at(*p)).collect()
    }

    fn closed(&self, places: &[Dot], pen: Stroke) {
        self.painter.add(Shape::closed_line(self.all(places), pen));
    }

    fn filled(&self, places: &[Dot], ink: Color32) {
        self.painter.add(Shape::convex_polygon(self.all(places), ink, Stroke::NONE));
    }

    fn broken(&self, places: &[Dot], ink: Color32) {
        let mut points = self.all(places);
        points.extend(points.first().copied());
        self.painter.extend(Shape::dashed_line(&points, Stroke::new(1.2, ink), 4.0, 3.0));
    }

    fn line(&self, places: &[Dot], ink: Color32) {
        self.painter.add(Shape::line(self.all(places), Stroke::new(1.8, ink)));
    }

    fn dot(&self, place: Dot, ink: Color32) {
        self.painter.circle_filled(self.at(place), 2.5, ink);
    }

    fn arrow(&self, from: Dot, to: Dot, ink: Color32) {
        let (from, to) = (self.at(from), self.at(to));
        let back = (from - to).normalized() * 5.0;
        let pen = Stroke::new(1.6, ink);
        self.painter.line_segment([from, to], pen);
        for side in [1.0, -1.0] {
            self.painter.line_segment([to, to + back + back.rot90() * 0.6 * side], pen);
        }
    }
}
