//! Predicted errors in the plane.

use super::{Covariance, PARAMETERS, PlaneCamera};
use crate::{Point, Vec2};
use nalgebra::{Matrix2, SMatrix, Vector2};

/// The error to expect of a place in the plane: an ellipse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneMistake {
    variance: Matrix2<f64>,
}

/// √χ² at 95 % with two degrees of freedom: 5.991 = −2·ln 0.05, in closed form.
fn radius_factor() -> f64 {
    (-2.0 * 0.05f64.ln()).sqrt()
}

impl PlaneMistake {
    pub(super) fn new(variance: Matrix2<f64>) -> Self {
        Self { variance }
    }

    /// Standard deviation along a direction, mm.
    pub fn along(&self, direction: Vec2) -> f64 {
        let d = direction.normalize();
        let d = Vector2::new(d.x, d.y);
        (d.transpose() * self.variance * d)[0].max(0.0).sqrt()
    }

    /// Standard deviation in the worst direction, mm.
    pub fn sigma(&self) -> f64 {
        self.variance.symmetric_eigenvalues().max().max(0.0).sqrt()
    }

    /// 95 in 100 true places lie within this of the place read, mm: the long half
    /// axis of the 95 % ellipse, so a little more than 95.
    pub fn within(&self) -> f64 {
        radius_factor() * self.sigma()
    }
}

/// One of the cameras that the marks would also allow: a nudge of all unknowns
/// at once. A prediction for a whole outline is made from many of them, because
/// the errors of its points belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct MaybeCamera(SMatrix<f64, PARAMETERS, 1>);

impl PlaneCamera {
    /// `count` cameras the marks would also allow, spread as likely as they are.
    /// The same camera gives the same ones each time. They are kept for the use
    /// with [`PlaneCamera::drifts`].
    pub fn maybe(&self, count: usize) -> Vec<MaybeCamera> {
        let root = square_root(&self.covariance);
        let mut chance = Chance(0x9e37_79b9_7f4a_7c15);
        let mut one = || MaybeCamera(root * SMatrix::from_fn(|_, _| chance.normal()));
        (0..count).map(|_| one()).collect()
    }

    /// How far the place read at `picture` would lie from the true one were each
    /// of the others the true camera, mm.
    pub fn drifts(&self, picture: Point, maybe: &[MaybeCamera]) -> Option<Vec<Vec2>> {
        let plane = self.to_plane(picture)?;
        let to_plane = self.model.by_plane(plane)?.try_inverse()?;
        let by_parameters = to_plane * self.model.by_parameters(plane)?;
        let drift = |one: &MaybeCamera| {
            let d = by_parameters * one.0;
            Vec2::new(d.x, d.y)
        };
        Some(maybe.iter().map(drift).collect())
    }
}

/// A matrix whose square is the covariance, by its eigenvectors: it may be
/// singular (a lens without distortion).
fn square_root(covariance: &Covariance) -> Covariance {
    let eigen = covariance.symmetric_eigen();
    let lengths = eigen.eigenvalues.map(|v| v.max(0.0).sqrt());
    eigen.eigenvectors * Covariance::from_diagonal(&lengths)
}

/// A fixed run of normally spread numbers: splitmix64 (Steele, Lea and Flood
/// 2014) and the polar form of Box and Muller (1958); memory.
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        // 53 random bits, never 0.
        ((z >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}
