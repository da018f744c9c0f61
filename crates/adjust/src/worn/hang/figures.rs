//! What is told of a line: sums of the heights of its curve, each with how far it may be
//! off.

use super::curve::Curve;
use super::shares::share;
use super::taken::sigma;
use super::{SHARES, Within};
use nalgebra::{DMatrix, DVector};

/// Shares between which the slopes on both sides of the middle are taken.
const HALVES: [(usize, usize); 2] = [(1, SHARES / 2), (SHARES / 2, SHARES - 2)];

/// The stations summed, each so many times.
pub(super) type Sum = [f64; SHARES];

const LAST: usize = SHARES - 1;

/// How far a station hangs below the last.
pub(super) fn below_last(i: usize) -> Sum {
    let mut sum = [0.0; SHARES];
    sum[LAST] += 1.0;
    sum[i] -= 1.0;
    sum
}

/// How far a station hangs below the straight between the first and the last.
pub(super) fn sag(i: usize) -> Sum {
    let mut sum = [0.0; SHARES];
    sum[0] += 1.0 - share(i);
    sum[LAST] += share(i);
    sum[i] -= 1.0;
    sum
}

/// How much further the second half rises than the first, over so many mm.
pub(super) fn turn(across: f64) -> Sum {
    let mut sum = [0.0; SHARES];
    for ((from, to), sign) in HALVES.into_iter().zip([-1.0, 1.0]) {
        let run = (share(to) - share(from)) * across;
        sum[to] += sign / run;
        sum[from] -= sign / run;
    }
    sum
}

/// A sum of the curve's stations, and twice its standard deviation.
pub(super) fn within(curve: &Curve, sum: &Sum) -> Within {
    let weights = DVector::from_column_slice(sum);
    Within { value: weights.dot(&curve.heights), error: error(&curve.spread, sum) }
}

/// So many standard deviations are told as ±: two would do were all that is unsure as it is
/// taken to be (how it was chosen: docs/worn.md).
pub(super) const COVERS: f64 = 3.0;

/// The ± of a sum. The line itself was drawn with a pen, so no
/// station is surer than that.
pub(super) fn error(spread: &DMatrix<f64>, sum: &Sum) -> f64 {
    let weights = DVector::from_column_slice(sum);
    let drawn: f64 = sum.iter().map(|w| (w * sigma::LINE).powi(2)).sum();
    COVERS * (weights.dot(&(spread * &weights)).max(0.0) + drawn).sqrt()
}
