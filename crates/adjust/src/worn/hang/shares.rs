//! The value at a share of the way along a line, from the places beside it.

use super::SHARES;
use nalgebra::{Matrix3, Vector3};

/// Places taken together for one share lie within this share of it; more at the
/// edges, which are read from the places beside them.
pub(super) const TOGETHER: f64 = 0.08;
pub(super) const AT_EDGES: f64 = 0.16;

/// So near an edge, in shares, the cloth is seen too slantwise to be read.
pub(super) const SLANT: f64 = 0.03;

/// With fewer places than this a share is taken between its neighbours.
pub(super) const ENOUGH: usize = 8;

/// The value at a share as weights of the places: of the parabola through the near
/// places (least squares) when there are enough, else between the two neighbours.
pub(super) fn weights(shares: &[f64], at: f64) -> Vec<f64> {
    let mut weights = vec![0.0; shares.len()];
    let reach = if at <= SLANT || at >= 1.0 - SLANT { AT_EDGES } else { TOGETHER };
    let seen = |s: f64| (s - at).abs() <= reach && s > SLANT && s < 1.0 - SLANT;
    let near: Vec<usize> = (0..shares.len()).filter(|i| seen(shares[*i])).collect();
    let row = |i: usize| {
        let x = (shares[i] - at) / reach;
        Vector3::new(1.0, x, x * x)
    };
    let square: Matrix3<f64> = near.iter().map(|i| row(*i) * row(*i).transpose()).sum();
    match square.try_inverse() {
        Some(inverse) if near.len() >= ENOUGH => {
            for i in near {
                weights[i] = (inverse * row(i)).x;
            }
            weights
        }
        _ => between(shares, at),
    }
}

/// The value at a share as weights of its two neighbours.
pub(super) fn between(shares: &[f64], at: f64) -> Vec<f64> {
    let mut weights = vec![0.0; shares.len()];
    let after = shares.partition_point(|s| *s < at).clamp(1, shares.len() - 1);
    let (a, b) = (shares[after - 1], shares[after]);
    let t = ((at - a) / (b - a).max(1e-12)).clamp(0.0, 1.0);
    weights[after - 1] = 1.0 - t;
    weights[after] += t;
    weights
}

pub(super) fn share(i: usize) -> f64 {
    i as f64 / (SHARES as f64 - 1.0)
}

pub(super) fn at(weights: &[f64], values: &[f64]) -> f64 {
    weights.iter().zip(values).map(|(w, v)| w * v).sum()
}
