//! The smooth line that many measured places speak for.
//!
//! A cubic spline with even spans over the arc length (de Boor 1978, memory), by
//! least squares. Its number of spans is the one of least Schwarz criterion (1978,
//! memory): one more span must pay for the numbers it brings, so that noise is not
//! followed and what the places do show is.

use super::distances;
use crate::{Point, Vec2};
use nalgebra::{DMatrix, DVector};

/// Numbers of spans tried.
const SPANS: [usize; 18] = [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 20, 26, 34, 44, 58, 76, 100];
/// Neighbouring places share pixels: about two count as one.
const SHARED: f64 = 2.0;
/// No places are truer than this, mm.
const TRUEST: f64 = 1e-4;

/// A cubic spline from 0 to 1 with even spans.
#[derive(Debug, Clone)]
pub(super) struct Spline {
    control: Vec<Point>,
}

/// The spline through places and what it leaves of them.
pub(super) struct Smoothed {
    pub(super) spline: Spline,
    /// Standard deviation of the places across it, mm.
    pub(super) scatter: f64,
    /// Places for each free number of it.
    pub(super) together: f64,
}

/// The smooth line through at least two places, from the first to the last of
/// them exactly, with no span shorter than `shortest`, mm.
pub(super) fn smoothed(places: &[Point], shortest: f64) -> Smoothed {
    let gone = distances(places);
    let length = gone[gone.len() - 1];
    let at: Vec<f64> = gone.iter().map(|g| if length > 0.0 { g / length } else { 0.0 }).collect();
    let most = ((length / shortest) as usize).min(places.len() / 4).max(1);
    let count = places.len() as f64 / SHARED;
    let mut best: Option<(f64, Smoothed)> = None;
    for spans in SPANS.into_iter().filter(|s| *s <= most) {
        let Some(spline) = Spline::fit(places, &at, spans) else { continue };
        let squares: f64 = places.iter().zip(&at).map(|(p, t)| spline.across(*p, *t)).sum();
        let scatter = (squares / places.len() as f64).sqrt();
        let free = (spans + 1) as f64;
        let score = count * 2.0 * scatter.max(TRUEST).ln() + free * count.max(2.0).ln();
        if best.as_ref().is_none_or(|b| score < b.0) {
            let together = places.len() as f64 / free;
            best = Some((score, Smoothed { spline, scatter, together }));
        }
    }
    best.map_or_else(|| chord(places), |b| b.1)
}

/// The straight line from the first to the last place.
fn chord(places: &[Point]) -> Smoothed {
    let (a, b) = (places[0], places[places.len() - 1]);
    let control = [0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0].map(|t| a.lerp(b, t)).to_vec();
    Smoothed { spline: Spline { control }, scatter: 0.0, together: 1.0 }
}

/// The knots of so many even spans, the ends four times.
fn knot(spans: usize, k: usize) -> f64 {
    (k.saturating_sub(3).min(spans)) as f64 / spans as f64
}

/// Which four control points move the place at `t`, and by how much each (the
/// recursion of Cox and de Boor).
fn weights(spans: usize, t: f64) -> (usize, [f64; 4]) {
    let span = ((t * spans as f64) as usize).min(spans - 1);
    let first = span + 3;
    let mut all = [1.0, 0.0, 0.0, 0.0];
    for degree in 1..=3 {
        let mut left = 0.0;
        for (k, weight) in all.iter_mut().enumerate().take(degree) {
            let (low, high) = (knot(spans, first + k + 1 - degree), knot(spans, first + k + 1));
            let part = *weight / (high - low);
            *weight = left + (high - t) * part;
            left = (t - low) * part;
        }
        all[degree] = left;
    }
    (span, all)
}

impl Spline {
    fn spans(&self) -> usize {
        self.control.len() - 3
    }

    fn fit(places: &[Point], at: &[f64], spans: usize) -> Option<Self> {
        let (first, last) = (places[0], places[places.len() - 1]);
        let inner = spans + 1;
        let mut normal = DMatrix::<f64>::zeros(inner, inner);
        let (mut by_x, mut by_y) = (DVector::<f64>::zeros(inner), DVector::<f64>::zeros(inner));
        for (place, t) in places.iter().zip(at) {
            let (from, weights) = weights(spans, *t);
            let mut rest = place.to_vec2();
            for (k, w) in weights.iter().enumerate() {
                match from + k {
                    0 => rest -= first.to_vec2() * *w,
                    i if i == inner + 1 => rest -= last.to_vec2() * *w,
                    _ => {}
                }
            }
            let free = |k: usize| (1..=inner).contains(&(from + k)).then(|| from + k - 1);
            for (k, w) in weights.iter().enumerate() {
                let Some(row) = free(k) else { continue };
                by_x[row] += w * rest.x;
                by_y[row] += w * rest.y;
                for (l, v) in weights.iter().enumerate() {
                    if let Some(column) = free(l) {
                        normal[(row, column)] += w * v;
                    }
                }
            }
        }
        // Where places are missing the control points are held in even steps.
        let hair = 1e-6 * normal.trace() / inner as f64;
        let end = |i: usize| match i {
            0 => Some(first.to_vec2()),
            i if i == inner + 1 => Some(last.to_vec2()),
            _ => None,
        };
        for middle in 1..=inner {
            let bend = [(middle - 1, 1.0), (middle, -2.0), (middle + 1, 1.0)];
            for (i, w) in bend {
                if end(i).is_some() {
                    continue;
                }
                for (j, v) in bend {
                    match end(j) {
                        Some(held) => {
                            by_x[i - 1] -= hair * w * v * held.x;
                            by_y[i - 1] -= hair * w * v * held.y;
                        }
                        None => normal[(i - 1, j - 1)] += hair * w * v,
                    }
                }
            }
        }
        let normal = normal.cholesky()?;
        let (x, y) = (normal.solve(&by_x), normal.solve(&by_y));
        let inner = x.iter().zip(y.iter()).map(|(x, y)| Point::new(*x, *y));
        let control: Vec<Point> =
            std::iter::once(first).chain(inner).chain(std::iter::once(last)).collect();
        control.iter().all(|p| p.is_finite()).then_some(Self { control })
    }

    /// The place at `t` (0 to 1) and the derivative there, mm.
    pub(super) fn at(&self, t: f64) -> (Point, Vec2) {
        let spans = self.spans();
        let (from, weights) = weights(spans, t);
        let sum = |i: usize, w: f64| self.control[from + i].to_vec2() * w;
        let at = weights.iter().enumerate().fold(Vec2::ZERO, |a, (k, w)| a + sum(k, *w));
        (at.to_point(), self.slope(t))
    }

    /// The derivative: a spline of one degree less through the differences.
    fn slope(&self, t: f64) -> Vec2 {
        let spans = self.spans();
        let span = ((t * spans as f64) as usize).min(spans - 1);
        let first = span + 3;
        let mut d: [Vec2; 3] = std::array::from_fn(|k| {
            let i = span + k;
            let width = knot(spans, i + 4) - knot(spans, i + 1);
            (self.control[i + 1] - self.control[i]) * (3.0 / width)
        });
        for degree in 1..=2 {
            for k in (degree..=2).rev() {
                let i = first - 2 + k;
                let (low, high) = (knot(spans, i), knot(spans, i + 3 - degree));
                let part = (t - low) / (high - low);
                d[k] = d[k - 1] * (1.0 - part) + d[k] * part;
            }
        }
        d[2]
    }

    /// The square of how far a place lies across the line at `t`, mm².
    fn across(&self, place: Point, t: f64) -> f64 {
        let (at, slope) = self.at(t);
        if slope.hypot() > 0.0 {
            (place - at).cross(slope.normalize()).powi(2)
        } else {
            place.distance_squared(at)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_slope_is_the_derivative_and_the_ends_are_kept() {
        let places: Vec<Point> = (0..=60)
            .map(|i| {
                let a = f64::from(i) / 15.0;
                Point::new(40.0 * a, 30.0 * a.sin())
            })
            .collect();
        let Smoothed { spline, scatter, .. } = smoothed(&places, 10.0);
        assert!(scatter < 0.05, "{scatter}");
        assert!(spline.at(0.0).0.distance(places[0]) < 1e-9);
        assert!(spline.at(1.0).0.distance(places[60]) < 1e-9);
        for i in 1..40 {
            let t = f64::from(i) / 40.0;
            let (h, slope) = (1e-6, spline.at(t).1);
            let by = (spline.at(t + h).0 - spline.at(t - h).0) / (2.0 * h);
            assert!((by - slope).hypot() < 1e-3, "{by:?} {slope:?}");
        }
    }

    #[test]
    fn noise_alone_takes_one_span() {
        let places: Vec<Point> = (0..400)
            .map(|i| {
                let ends = if i == 0 || i == 399 { 0.0 } else { 0.1 };
                Point::new(f64::from(i), ends * f64::from(i * 7919 % 13 - 6) / 6.0)
            })
            .collect();
        let smoothed = smoothed(&places, 10.0);
        assert_eq!(smoothed.spline.spans(), 1);
        assert!((0.04..0.08).contains(&smoothed.scatter), "{}", smoothed.scatter);
    }
}
