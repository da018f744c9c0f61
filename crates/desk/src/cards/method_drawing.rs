//! What each method does to the paper, in a few strokes: a back in a box of 100 by 70.
//! Nothing is measured on it.

use crate::kit::picture;
use crate::kit::strokes::{Dot, Strokes};
use crate::kit::theme::Palette;
use egui::Ui;
use hangtrue_adjust::Method;

/// Height of a drawing at letters of 100 %, points.
const HIGH: f32 = 74.0;

/// Shows it, as wide as there is room.
pub(super) fn show(ui: &mut Ui, palette: &Palette, letters: f32, method: &Method) {
    let words = format!("A drawing: {}", says(method));
    let (rect, painter) = picture::frame(ui, palette, HIGH * letters.sqrt(), &words);
    let inks = palette.on_paper();
    painter.rect_filled(rect, 5.0, inks.paper);
    let pen = Strokes { painter, frame: rect.shrink(5.0), size: (100.0, 70.0) };
    let (ink, taken) = (inks.ink, inks.madder);
    match method {
        Method::TopAndScoop(_) => {
            let old = outline(TOP, CROTCH);
            pen.broken(&[old.as_slice(), &old[..1]].concat(), 1.2, inks.indigo);
            pen.closed(&outline(LOWER_TOP, DEEPER_CROTCH), 1.4, ink);
            pen.arrow((44.0, 2.0), (45.5, 11.0), taken);
            pen.arrow((30.0, 36.0), (24.0, 42.5), taken);
        }
        Method::SlashAndLap(_) => {
            pen.filled(&[(86.5, 38.0), (17.0, 38.0), (20.5, 47.0)], taken.gamma_multiply(0.35));
            pen.closed(&outline(TOP, CROTCH), 1.4, ink);
            pen.line(&[(86.5, 38.0), (17.0, 38.0)], 1.8, taken);
            pen.line(&[(86.5, 38.0), (20.5, 47.0)], 1.8, taken);
            pen.dot((86.5, 38.0), 2.5, taken);
        }
        Method::Distribute(_) => {
            let strip = [(15.5, 39.0), (86.5, 39.0), (85.5, 46.0), (20.0, 46.0)];
            pen.filled(&strip, taken.gamma_multiply(0.35));
            pen.closed(&outline(TOP, CROTCH), 1.4, ink);
            pen.line(&strip[..2], 1.8, taken);
            pen.line(&strip[2..], 1.8, taken);
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
