//! Curves from many measured places: corners found and kept sharp, and between
//! them few cubics within a stated tolerance.

mod corner;
mod smooth;
mod spline;

pub use corner::{Corner, CornerLook, find_corners};
pub use smooth::{FitTolerance, Fitted, curve_through};

use crate::{Point, Vec2};
use nalgebra::{Matrix3, Vector3};

/// A short run of places as a parabola in each coordinate over arc length from
/// a place of interest.
#[derive(Debug, Clone, Copy)]
struct Local {
    x: Vector3<f64>,
    y: Vector3<f64>,
    /// Weighted sum of squared distances, mm².
    left: f64,
    count: usize,
}

impl Local {
    /// The weighted least-squares parabolas through (distance, place, weight);
    /// straight lines where the places are too few or too near to bend.
    fn fit(places: impl Iterator<Item = (f64, Point, f64)> + Clone) -> Option<Self> {
        Self::of_degree(places.clone(), 3).or_else(|| Self::of_degree(places, 2))
    }

    fn of_degree(
        places: impl Iterator<Item = (f64, Point, f64)> + Clone,
        terms: usize,
    ) -> Option<Self> {
        let count = places.clone().count();
        if count < terms + 1 {
            return None;
        }
        let reach = places.clone().map(|p| p.0.abs()).fold(0.0, f64::max);
        if reach <= 0.0 {
            return None;
        }
        let row = |d: f64| {
            let t = d / reach;
            Vector3::new(1.0, t, if terms == 3 { t * t } else { 0.0 })
        };
        let (mut a, mut bx, mut by) = (Matrix3::zeros(), Vector3::zeros(), Vector3::zeros());
        for (d, p, w) in places.clone() {
            let row = row(d);
            a += row * row.transpose() * w;
            bx += row * (p.x * w);
            by += row * (p.y * w);
        }
        if terms == 2 {
            a[(2, 2)] = 1.0;
        }
        let values = a.symmetric_eigenvalues();
        if values.min() <= 1e-9 * values.max() {
            return None;
        }
        let solve = a.cholesky()?;
        let (x, y) = (solve.solve(&bx), solve.solve(&by));
        let left = places
            .map(|(d, p, w)| {
                let at = Point::new(x.dot(&row(d)), y.dot(&row(d)));
                w * at.distance_squared(p)
            })
            .sum();
        let scale = Vector3::new(1.0, 1.0 / reach, 1.0 / (reach * reach));
        Some(Self { x: x.component_mul(&scale), y: y.component_mul(&scale), left, count })
    }

    fn at(&self, d: f64) -> Point {
        let row = Vector3::new(1.0, d, d * d);
        Point::new(self.x.dot(&row), self.y.dot(&row))
    }

    fn slope(&self, d: f64) -> Vec2 {
        let row = Vector3::new(0.0, 1.0, 2.0 * d);
        Vec2::new(self.x.dot(&row), self.y.dot(&row))
    }
}

/// Arc length from the first place to each, mm.
fn distances(places: &[Point]) -> Vec<f64> {
    let mut gone = 0.0;
    let mut all = Vec::with_capacity(places.len());
    for (i, p) in places.iter().enumerate() {
        if i > 0 {
            gone += p.distance(places[i - 1]);
        }
        all.push(gone);
    }
    all
}
