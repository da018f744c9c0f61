//! Shares of the way along a line.

use super::SHARES;

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
