//! The value at a share of the way along a line, from the places beside it.
//!
//! At its ends a line goes out of sight: folds, shadows and a body edge that was missed
//! lie there, and the cloth is seen slantwise. So an end is not read where it is: a curve
//! through the places further in is drawn on to it, and places that do not lie on the
//! line's curve are left out.

use super::SHARES;
use crate::worn::LegSeen;
use nalgebra::{DMatrix, DVector};

/// Places taken together for one share lie within this share of it.
const TOGETHER: f64 = 0.08;

/// Places nearer to an edge than this are not believed, shares; what is told nearer than
/// [`NEAR_EDGE`] is drawn on from the places up to [`DRAWN_FROM`].
const NOT_BELIEVED: f64 = 0.04;
const NEAR_EDGE: f64 = 0.1;
const DRAWN_FROM: f64 = 0.2;

/// The degree of the curve that is drawn on, and of the one that finds what lies off.
const DRAWN_DEGREE: usize = 2;
const WHOLE_DEGREE: usize = 4;

/// With fewer places than this a share is taken between its neighbours.
const ENOUGH: usize = 8;

/// Places are off when they lie further from the line's curve than so many times the
/// usual, and than this, mm.
const OFF: f64 = 4.0;
const OFF_LEAST: f64 = 1.2;

/// The curve is drawn anew so often without what is off.
const ROUNDS: usize = 5;

/// The places of a line that are read.
#[derive(Clone)]
pub(super) struct Read {
    /// Whether a place lies on the line's curve.
    on: Vec<bool>,
    /// Which share of the places lies off near the first and near the last end.
    pub(super) off_at_ends: [f64; 2],
}

impl Read {
    /// Finds the places that lie on the line's curve: over both legs each half has its own.
    pub(super) fn of(shares: &[f64], heights: &[f64], leg: LegSeen) -> Self {
        let mut on = vec![true; shares.len()];
        let parts: &[(f64, f64)] =
            if leg == LegSeen::Both { &[(0.0, 0.5), (0.5, 1.0)] } else { &[(0.0, 1.0)] };
        for (from, to) in parts {
            let of_part: Vec<usize> =
                (0..shares.len()).filter(|i| (*from..=*to).contains(&shares[*i])).collect();
            mark_off(shares, heights, &of_part, &mut on);
        }
        let off_at = |near: &dyn Fn(f64) -> bool| {
            let there: Vec<usize> = (0..shares.len()).filter(|i| near(shares[*i])).collect();
            let off = there.iter().filter(|i| !on[**i]).count();
            off as f64 / there.len().max(1) as f64
        };
        let off_at_ends = [
            off_at(&|s| (NOT_BELIEVED..0.3).contains(&s)),
            off_at(&|s| (NOT_BELIEVED..0.3).contains(&(1.0 - s))),
        ];
        Self { on, off_at_ends }
    }

    /// The value at a share as weights of the places. Out of sight, beyond the edges, the
    /// line is drawn on straight: a bow drawn on that far goes anywhere.
    pub(super) fn weights(&self, shares: &[f64], at: f64) -> Vec<f64> {
        let edge = at.clamp(0.0, 1.0);
        if at == edge {
            return self.in_sight(shares, at);
        }
        let inside = edge + (0.5 - edge).signum() * NEAR_EDGE;
        let far = (at - edge) / (inside - edge);
        let (ends, insides) = (self.in_sight(shares, edge), self.in_sight(shares, inside));
        ends.iter().zip(&insides).map(|(e, i)| e + far * (i - e)).collect()
    }

    fn in_sight(&self, shares: &[f64], at: f64) -> Vec<f64> {
        let believed = |i: usize| {
            let s = shares[i];
            self.on[i] && s >= NOT_BELIEVED && s <= 1.0 - NOT_BELIEVED
        };
        let near = |keep: &dyn Fn(f64) -> bool| -> Vec<usize> {
            (0..shares.len()).filter(|i| believed(*i) && keep(shares[*i])).collect()
        };
        let (places, reach) = if at < NEAR_EDGE {
            (near(&|s| s <= DRAWN_FROM), DRAWN_FROM)
        } else if at > 1.0 - NEAR_EDGE {
            (near(&|s| s >= 1.0 - DRAWN_FROM), DRAWN_FROM)
        } else {
            (near(&|s| (s - at).abs() <= TOGETHER), TOGETHER)
        };
        let drawn = (places.len() >= ENOUGH)
            .then(|| of_curve(shares, &places, at, reach, DRAWN_DEGREE))
            .flatten();
        drawn.unwrap_or_else(|| between(shares, at))
    }
}

/// How slantwise a place is seen counts against it: as on a round body.
fn trust(share: f64) -> f64 {
    (std::f64::consts::PI * share).sin().powi(2).max(1e-3)
}

/// The weights of places in the value of their curve at a share (least squares); none
/// where they tell no curve.
fn of_curve(
    shares: &[f64],
    places: &[usize],
    at: f64,
    reach: f64,
    degree: usize,
) -> Option<Vec<f64>> {
    let rows = DMatrix::from_fn(places.len(), degree + 1, |r, c| {
        ((shares[places[r]] - at) / reach).powi(c as i32)
    });
    let trusted =
        DMatrix::from_fn(places.len(), degree + 1, |r, c| trust(shares[places[r]]) * rows[(r, c)]);
    let inverse = (trusted.transpose() * &rows).try_inverse()?;
    let of_places = inverse.row(0) * trusted.transpose();
    let mut weights = vec![0.0; shares.len()];
    for (weight, place) in of_places.iter().zip(places) {
        weights[*place] = *weight;
    }
    Some(weights)
}

/// Marks places that lie off the curve of the rest.
fn mark_off(shares: &[f64], heights: &[f64], of_part: &[usize], on: &mut [bool]) {
    if of_part.len() < 4 * ENOUGH {
        return;
    }
    let inside = |i: &usize| (NOT_BELIEVED / 2.0..=1.0 - NOT_BELIEVED / 2.0).contains(&shares[*i]);
    for _ in 0..ROUNDS {
        let kept: Vec<usize> = of_part.iter().copied().filter(|i| on[*i] && inside(i)).collect();
        if kept.len() < 2 * ENOUGH {
            return;
        }
        let row = |i: usize, c: usize| (2.0 * shares[i] - 1.0).powi(c as i32);
        let rows = DMatrix::from_fn(kept.len(), WHOLE_DEGREE + 1, |r, c| row(kept[r], c));
        let seen = DVector::from_fn(kept.len(), |r, _| heights[kept[r]]);
        let Ok(curve) = rows.svd(true, true).solve(&seen, 1e-9) else { return };
        let off = |i: usize| {
            let there: f64 = curve.iter().enumerate().map(|(c, k)| k * row(i, c)).sum();
            (heights[i] - there).abs()
        };
        let mut all: Vec<f64> = kept.iter().map(|i| off(*i)).collect();
        all.sort_by(f64::total_cmp);
        // 0.6745 is the middle of a normal scatter.
        let usual = all[all.len() / 2] / 0.6745;
        let limit = (OFF * usual).max(OFF_LEAST);
        for i in of_part {
            on[*i] = off(*i) <= limit;
        }
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

/// Along the line a fold is so long, share: places within it are off together.
const FOLD_LONG: f64 = 0.08;
const BINS: usize = 32;

/// The standard deviation of a weighted sum of places when what is wrong with them is
/// wrong over the length of a fold, in multiples of what one place is wrong by.
pub(super) fn folded(weights: &[f64], shares: &[f64]) -> f64 {
    let mut bins = [0.0; BINS];
    for (weight, share) in weights.iter().zip(shares) {
        bins[((share * BINS as f64) as usize).min(BINS - 1)] += weight;
    }
    let apart = |a: usize, b: usize| a.abs_diff(b) as f64 / BINS as f64 / FOLD_LONG;
    let mut sum = 0.0;
    for (a, x) in bins.iter().enumerate() {
        sum += bins.iter().enumerate().map(|(b, y)| x * y * (-apart(a, b)).exp()).sum::<f64>();
    }
    sum.max(0.0).sqrt()
}
