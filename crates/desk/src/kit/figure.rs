//! A standing figure that shows where a measure is taken.

use crate::kit::theme::Palette;
use egui::{Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use hangtrue_pattern::Measure;

/// Half the width of the figure at a height, both as shares of the stature, from
/// the head down: torso, then the outer and the inner line of a leg. Drawn by
/// eye; nothing is computed from it.
const TORSO: [(f32, f32); 13] = [
    (1.0, 0.0),
    (0.992, 0.022),
    (0.955, 0.042),
    (0.91, 0.036),
    (0.88, 0.025),
    (0.855, 0.028),
    (0.838, 0.075),
    (0.815, 0.112),
    (0.76, 0.100),
    (0.70, 0.088),
    (0.62, 0.078),
    (0.56, 0.098),
    (0.50, 0.110),
];
const OUTER: [(f32, f32); 8] = [
    (0.46, 0.108),
    (0.38, 0.094),
    (0.28, 0.068),
    (0.21, 0.070),
    (0.12, 0.048),
    (0.05, 0.038),
    (0.025, 0.044),
    (0.0, 0.060),
];
const INNER: [(f32, f32); 7] = [
    (0.0, 0.014),
    (0.05, 0.017),
    (0.12, 0.016),
    (0.21, 0.012),
    (0.28, 0.020),
    (0.38, 0.009),
    (0.465, 0.003),
];

/// Levels as shares of the stature.
const WAIST: f32 = 0.62;
const HIP: f32 = 0.50;
const CROTCH: f32 = 0.465;
const THIGH: f32 = 0.44;
const KNEE: f32 = 0.275;
const CALF: f32 = 0.20;
const ANKLE: f32 = 0.055;

struct Figure {
    rect: Rect,
}

impl Figure {
    fn at(&self, height: f32, across: f32) -> Pos2 {
        let tall = self.rect.height();
        pos2(self.rect.center().x + across * tall, self.rect.bottom() - height * tall)
    }
}

/// Draws the figure and, strongly, where the measure is taken.
pub(crate) fn draw(painter: &Painter, into: Rect, palette: &Palette, measure: Option<Measure>) {
    let figure = Figure { rect: into.shrink2(vec2(8.0, 12.0)) };
    let inks = palette.on_paper();
    let pen = Stroke::new(1.6, inks.ink_soft);
    for side in [1.0, -1.0] {
        let outline = TORSO.iter().chain(&OUTER).chain(&INNER);
        let points: Vec<Pos2> = outline.map(|(h, w)| figure.at(*h, w * side)).collect();
        painter.add(Shape::line(smooth(&points), pen));
    }
    let floor = [figure.at(0.0, -0.2), figure.at(0.0, 0.2)];
    painter.extend(Shape::dashed_line(&floor, Stroke::new(1.0, inks.ink_soft), 6.0, 4.0));
    if let Some(measure) = measure {
        mark(painter, &figure, &inks, measure);
    }
}

/// A soft line through the points (Catmull and Rom's spline), for the eye only.
fn smooth(points: &[Pos2]) -> Vec<Pos2> {
    const STEPS: usize = 6;
    let mut line = Vec::new();
    for i in 0..points.len().saturating_sub(1) {
        let p = |k: isize| {
            let at = (i as isize + k).clamp(0, points.len() as isize - 1);
            points[at as usize].to_vec2()
        };
        let (a, b, c, d) = (p(-1), p(0), p(1), p(2));
        for s in 0..STEPS {
            let t = s as f32 / STEPS as f32;
            let at = 0.5
                * (2.0 * b
                    + (c - a) * t
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * (t * t)
                    + (3.0 * b - a - 3.0 * c + d) * (t * t * t));
            line.push(at.to_pos2());
        }
    }
    line.extend(points.last());
    line
}

fn mark(painter: &Painter, figure: &Figure, inks: &Palette, measure: Measure) {
    let pen = Stroke::new(3.0, inks.madder);
    match measure {
        Measure::WaistGirth => girth(painter, figure, pen, WAIST, 0.0, 0.080),
        Measure::HipGirth => girth(painter, figure, pen, HIP, 0.0, 0.113),
        Measure::ThighGirth => girth(painter, figure, pen, THIGH, 0.055, 0.054),
        Measure::KneeGirth => girth(painter, figure, pen, KNEE, 0.044, 0.026),
        Measure::CalfGirth => girth(painter, figure, pen, CALF, 0.041, 0.031),
        Measure::AnkleGirth => girth(painter, figure, pen, ANKLE, 0.028, 0.012),
        Measure::HeelGirth => girth(painter, figure, pen, 0.03, 0.032, 0.020),
        Measure::Stature => height(painter, figure, pen, 1.0),
        Measure::WaistHeight => height(painter, figure, pen, WAIST),
        Measure::HipHeight => height(painter, figure, pen, HIP),
        Measure::InsideLegHeight => {
            painter.line_segment([figure.at(CROTCH, 0.0), figure.at(0.0, 0.0)], pen);
        }
        Measure::KneeHeight => height(painter, figure, pen, KNEE),
        Measure::AnkleHeight => height(painter, figure, pen, ANKLE),
        Measure::CrotchLength => {
            crotch(painter, figure, pen, true);
            crotch(painter, figure, pen, false);
        }
        Measure::CrotchLengthFront => crotch(painter, figure, pen, true),
        Measure::CrotchLengthBack => crotch(painter, figure, pen, false),
    }
}

/// A tape round the body at a level: whole in front, broken behind.
fn girth(painter: &Painter, figure: &Figure, pen: Stroke, level: f32, middle: f32, half: f32) {
    let round = |from: f32| -> Vec<Pos2> {
        (0..=24)
            .map(|i| {
                let turn = from + std::f32::consts::PI * i as f32 / 24.0;
                figure.at(level - 0.14 * half * turn.sin(), middle + half * turn.cos())
            })
            .collect()
    };
    painter.add(Shape::line(round(0.0), pen));
    painter.extend(Shape::dashed_line(&round(std::f32::consts::PI), pen, 4.0, 4.0));
}

/// A height from the floor, at the side.
fn height(painter: &Painter, figure: &Figure, pen: Stroke, level: f32) {
    let side = 0.165;
    painter.line_segment([figure.at(0.0, side), figure.at(level, side)], pen);
    for end in [0.0, level] {
        painter.line_segment([figure.at(end, side - 0.03), figure.at(end, side + 0.03)], pen);
    }
}

/// The way from the waist to the crotch: in front whole, behind broken.
fn crotch(painter: &Painter, figure: &Figure, pen: Stroke, front: bool) {
    let side = if front { -0.012 } else { 0.012 };
    let line = [figure.at(WAIST, side), figure.at(CROTCH + 0.02, side), figure.at(CROTCH, 0.0)];
    if front {
        painter.add(Shape::line(line.to_vec(), pen));
    } else {
        painter.extend(Shape::dashed_line(&line, pen, 6.0, 4.0));
    }
}
