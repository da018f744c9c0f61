//! A smooth curve through values at levels, without overshoot (piecewise cubic
//! Hermite; slopes after F. N. Fritsch and R. E. Carlson 1980, in the form of a
//! harmonic mean, from memory).

use super::number::Number;

/// Values at rising levels; constant outside.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Curve {
    /// Level, value, slope.
    knots: Vec<(f64, f64, f64)>,
}

impl Curve {
    /// A curve through values at levels, in any order.
    pub fn through(values: &[(f64, f64)]) -> Self {
        let mut sorted = values.to_vec();
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
        sorted.dedup_by(|b, a| b.0 - a.0 < 1e-6);
        let slope = |k: usize| (sorted[k + 1].1 - sorted[k].1) / (sorted[k + 1].0 - sorted[k].0);
        let knots = (0..sorted.len()).map(|k| {
            let inner = k > 0 && k + 1 < sorted.len();
            // Flat at both ends, where the curve runs on unchanged.
            let tangent = if inner {
                let (before, after) = (slope(k - 1), slope(k));
                if before * after > 0.0 { 2.0 * before * after / (before + after) } else { 0.0 }
            } else {
                0.0
            };
            (sorted[k].0, sorted[k].1, tangent)
        });
        Self { knots: knots.collect() }
    }

    /// Least and greatest value: it never leaves those it runs through.
    pub fn range(&self) -> (f64, f64) {
        let values = self.knots.iter().map(|k| k.1);
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)))
    }

    /// No steeper than this anywhere: a stretch without overshoot is at most three times
    /// as steep as its chord.
    pub fn fastest(&self) -> f64 {
        let chord = |w: &[(f64, f64, f64)]| ((w[1].1 - w[0].1) / (w[1].0 - w[0].0)).abs();
        3.0 * self.knots.windows(2).map(chord).fold(0.0, f64::max)
    }

    /// The value at a level.
    pub fn at<T: Number>(&self, level: T) -> T {
        let here = level.value();
        let (Some(first), Some(last)) = (self.knots.first(), self.knots.last()) else {
            return T::of(0.0);
        };
        if here <= first.0 {
            return T::of(first.1);
        }
        if here >= last.0 {
            return T::of(last.1);
        }
        let above = self.knots.iter().position(|k| k.0 > here).unwrap_or(1);
        let (a, b) = (self.knots[above - 1], self.knots[above]);
        let long = b.0 - a.0;
        let t = (level - T::of(a.0)) / T::of(long);
        let one = T::of(1.0);
        let u = one - t;
        let rise = T::of(b.1) * t * t * (T::of(3.0) - T::of(2.0) * t)
            + T::of(a.1) * u * u * (one + T::of(2.0) * t);
        rise + T::of(long) * (T::of(a.2) * t * u * u - T::of(b.2) * t * t * u)
    }
}
