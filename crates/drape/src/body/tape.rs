//! The body measured as a tape would.

use super::shape::Shape;
use nalgebra::Vector2;

/// Rays to a tape.
const RAYS: usize = 128;
/// Further out than any body, mm.
const OUTSIDE: f64 = 700.0;

/// How far from a middle the skin lies along a ray, mm (regula falsi, Illinois).
fn skin(level: impl Fn(f64) -> f64, guess: f64) -> f64 {
    let (mut a, mut fa) = (0.0, level(0.0).min(-1e-9));
    let (mut b, mut fb) = (OUTSIDE, f64::NAN);
    // From the guess outwards: near the skin the level is near the distance.
    let mut t = guess;
    for _ in 0..60 {
        let f = level(t);
        if f.abs() < 1e-7 {
            return t;
        }
        if f > 0.0 {
            (b, fb) = (t, f);
        } else {
            (a, fa) = (t, f);
        }
        if b - a < 1e-7 {
            break;
        }
        let falsi = if fb.is_nan() { t - f * 1.05 + 1e-3 } else { a - fa * (b - a) / (fb - fa) };
        let step = t - f;
        t = if step > a && step < b { step } else { falsi };
        if t <= a || t >= b {
            t = 0.5 * (a + b);
        }
    }
    t
}

/// The points where rays from a middle leave the body at a level.
pub fn section(shape: &Shape, middle: (f64, f64), z: f64) -> Vec<Vector2<f64>> {
    let mut guess = 60.0;
    (0..RAYS)
        .map(|k| {
            let (sine, cosine) = (std::f64::consts::TAU * k as f64 / RAYS as f64).sin_cos();
            let at = |t: f64| (middle.0 + t * cosine, middle.1 + t * sine);
            guess = skin(|t| shape.level(at(t).0, at(t).1, z), guess);
            let (x, y) = at(guess);
            Vector2::new(x, y)
        })
        .collect()
}

/// The length of the tight loop round points, mm: their convex hull.
pub fn hull_length(mut points: Vec<Vector2<f64>>) -> f64 {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = Vector2<f64>>| {
        let mut chain: Vec<Vector2<f64>> = Vec::new();
        for p in points {
            while chain.len() > 1 {
                let (a, b) = (chain[chain.len() - 2], chain[chain.len() - 1]);
                if (b - a).perp(&(p - b)) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.windows(2).map(|w| (w[1] - w[0]).norm()).sum::<f64>()
    };
    half(&mut points.iter().copied()) + half(&mut points.iter().rev().copied())
}

/// Round both sides at a level.
pub fn girth(shape: &Shape, middle: (f64, f64), z: f64) -> f64 {
    let right = section(shape, middle, z);
    let left = right.iter().map(|p| Vector2::new(-p.x, p.y));
    hull_length(right.iter().copied().chain(left).collect())
}

/// Round the right leg at a level.
pub fn leg_girth(shape: &Shape, z: f64) -> f64 {
    let middle = (shape.leg.x.at(z), shape.leg.y.at(z));
    hull_length(section(shape, middle, z).into_iter().filter(|p| p.x > -1.0).collect())
}

/// The breadth and the depth at a level, mm.
pub fn breadth_and_depth(shape: &Shape, middle: (f64, f64), z: f64) -> (f64, f64) {
    let points = section(shape, middle, z);
    let most = |f: fn(&Vector2<f64>) -> f64| points.iter().map(f).fold(f64::NEG_INFINITY, f64::max);
    (2.0 * most(|p| p.x), most(|p| p.y) + most(|p| -p.y))
}

/// The seam line of the body in its middle plane, front waist to back waist, and
/// the lengths of its front and back part, parted where it lies lowest.
#[derive(Debug, Clone)]
pub struct CrotchLine {
    /// y and z along it.
    pub points: Vec<Vector2<f64>>,
    /// From the front waist to the lowest place, mm.
    pub front: f64,
    /// From there to the back waist, mm.
    pub back: f64,
}

/// Points along each straight part and along the underside.
const ALONG: usize = 24;
const UNDER: usize = 48;

/// Measures the crotch length between the points at `waist`.
pub fn crotch_line(shape: &Shape, waist: f64) -> CrotchLine {
    let torso = &shape.torso;
    let level = |k: usize| waist + (shape.base - waist) * k as f64 / ALONG as f64;
    let front = |z: f64| Vector2::new(torso.y.at(z) + torso.front.at(z), z);
    let back = |z: f64| Vector2::new(torso.y.at(z) - torso.back.at(z), z);
    let mut points: Vec<Vector2<f64>> = (0..ALONG).map(|k| front(level(k))).collect();
    let y = torso.y.at(shape.base);
    let mut guess = torso.front.at(shape.base);
    for k in 0..=UNDER {
        let (sine, cosine) = (std::f64::consts::PI * k as f64 / UNDER as f64).sin_cos();
        let at = |t: f64| Vector2::new(y + t * cosine, shape.base - t * sine);
        guess = skin(|t| shape.level(0.0, at(t).x, at(t).y), guess);
        points.push(at(guess));
    }
    points.extend((0..ALONG).rev().map(|k| back(level(k))));
    let lowest =
        (0..points.len()).min_by(|&a, &b| points[a].y.total_cmp(&points[b].y)).unwrap_or(0);
    let long = |part: &[Vector2<f64>]| part.windows(2).map(|w| (w[1] - w[0]).norm()).sum();
    CrotchLine { front: long(&points[..=lowest]), back: long(&points[lowest..]), points }
}
