//! A standing figure that shows where measures are taken, as strokes without a pen: the
//! desk and the measuring sheet draw the same.

use hangtrue_geometry::Point;
use hangtrue_pattern::Measure;
use std::f64::consts::PI;

/// A stroke of the figure: places in shares of the stature, across from the middle (the
/// wearer seen from in front) and up from the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureStroke {
    /// Its places.
    pub places: Vec<Point>,
    /// It is drawn broken: the floor, and what lies behind the body.
    pub broken: bool,
}

/// Half the width of the figure at a height, both as shares of the stature, from
/// the head down: torso, then the outer and the inner line of a leg. Drawn by
/// eye; nothing is computed from it.
const TORSO: [(f64, f64); 13] = [
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
const OUTER: [(f64, f64); 8] = [
    (0.46, 0.108),
    (0.38, 0.094),
    (0.28, 0.068),
    (0.21, 0.070),
    (0.12, 0.048),
    (0.05, 0.038),
    (0.025, 0.044),
    (0.0, 0.060),
];
const INNER: [(f64, f64); 7] = [
    (0.0, 0.014),
    (0.05, 0.017),
    (0.12, 0.016),
    (0.21, 0.012),
    (0.28, 0.020),
    (0.38, 0.009),
    (0.465, 0.003),
];

/// Levels as shares of the stature.
const WAIST: f64 = 0.62;
const HIP: f64 = 0.50;
const CROTCH: f64 = 0.465;
const THIGH: f64 = 0.44;
const KNEE: f64 = 0.275;
const CALF: f64 = 0.20;
const ANKLE: f64 = 0.055;
/// The waist lies so much lower in front and higher behind, to be seen on the figure.
const TILT: f64 = 0.012;

fn stroke(places: impl IntoIterator<Item = (f64, f64)>, broken: bool) -> FigureStroke {
    let places = places.into_iter().map(|(up, across)| Point::new(across, up)).collect();
    FigureStroke { places, broken }
}

/// The body's outline, and the floor.
pub fn body() -> Vec<FigureStroke> {
    let half = |side: f64| {
        let outline = TORSO.iter().chain(&OUTER).chain(&INNER);
        let outline = outline.map(|(up, across)| Point::new(across * side, *up));
        FigureStroke { places: smooth(&outline.collect::<Vec<_>>()), broken: false }
    };
    vec![half(1.0), half(-1.0), stroke([(0.0, -0.2), (0.0, 0.2)], true)]
}

/// A soft line through the points (Catmull and Rom's spline), for the eye only.
fn smooth(points: &[Point]) -> Vec<Point> {
    const STEPS: usize = 6;
    let mut line = Vec::new();
    for i in 0..points.len().saturating_sub(1) {
        let p = |k: isize| {
            let at = (i as isize + k).clamp(0, points.len() as isize - 1);
            points[at as usize].to_vec2()
        };
        let (a, b, c, d) = (p(-1), p(0), p(1), p(2));
        for s in 0..STEPS {
            let t = s as f64 / STEPS as f64;
            let at = 0.5
                * (2.0 * b
                    + (c - a) * t
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * (t * t)
                    + (3.0 * b - a - 3.0 * c + d) * (t * t * t));
            line.push(at.to_point());
        }
    }
    line.extend(points.last());
    line
}

/// Where the tape lies for a measure.
pub fn where_taken(measure: Measure) -> Vec<FigureStroke> {
    match measure {
        Measure::WaistGirth => girth(WAIST, 0.0, 0.080),
        Measure::HipGirth => girth(HIP, 0.0, 0.113),
        Measure::ThighGirth => girth(THIGH, 0.055, 0.054),
        Measure::KneeGirth => girth(KNEE, 0.044, 0.026),
        Measure::CalfGirth => girth(CALF, 0.041, 0.031),
        Measure::AnkleGirth => girth(ANKLE, 0.028, 0.012),
        Measure::HeelGirth => girth(0.03, 0.032, 0.020),
        Measure::Stature => height(1.0),
        Measure::WaistHeight => height(WAIST),
        Measure::WaistHeightFront => upright(-0.168, 0.0, WAIST - TILT),
        Measure::WaistHeightBack => upright(-0.198, 0.0, WAIST + TILT),
        Measure::HipHeight => height(HIP),
        Measure::InsideLegHeight => vec![stroke([(CROTCH, 0.0), (0.0, 0.0)], false)],
        Measure::SeatedRise => {
            let seat = stroke([(CROTCH, -0.25), (CROTCH, -0.06)], true);
            [upright(-0.228, CROTCH, WAIST), vec![seat]].concat()
        }
        Measure::KneeHeight => height(KNEE),
        Measure::AnkleHeight => height(ANKLE),
        Measure::CrotchLength => [crotch(true), crotch(false)].concat(),
        Measure::CrotchLengthFront => crotch(true),
        Measure::CrotchLengthBack => crotch(false),
    }
}

/// A tape round the body at a level: whole in front, broken behind.
fn girth(level: f64, middle: f64, half: f64) -> Vec<FigureStroke> {
    let round = |from: f64| {
        (0..=24).map(move |i| {
            let turn = from + PI * f64::from(i) / 24.0;
            (level - 0.14 * half * turn.sin(), middle + half * turn.cos())
        })
    };
    vec![stroke(round(0.0), false), stroke(round(PI), true)]
}

/// From level to level, beside the figure, with short ends.
fn upright(across: f64, low: f64, high: f64) -> Vec<FigureStroke> {
    let end = |at: f64| stroke([(at, across - 0.012), (at, across + 0.012)], false);
    vec![stroke([(low, across), (high, across)], false), end(low), end(high)]
}

/// A height from the floor, at the side.
fn height(level: f64) -> Vec<FigureStroke> {
    let side = 0.165;
    let end = |at: f64| stroke([(at, side - 0.03), (at, side + 0.03)], false);
    vec![stroke([(0.0, side), (level, side)], false), end(0.0), end(level)]
}

/// The way from the waist to the crotch: in front whole, behind broken.
fn crotch(front: bool) -> Vec<FigureStroke> {
    let side = if front { -0.012 } else { 0.012 };
    vec![stroke([(WAIST, side), (CROTCH + 0.02, side), (CROTCH, 0.0)], !front)]
}
