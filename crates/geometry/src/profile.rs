//! A smooth amount along a path, given at stations.

use crate::GeometryError;

/// An amount w(s) known at stations, monotone between them and never
/// overshooting.
///
/// Between stations the curve is the cubic Hermite interpolant with the
/// slopes limited as Fritsch and Carlson, "Monotone Piecewise Cubic
/// Interpolation", SIAM J. Numer. Anal. 17 (1980), with Fritsch and Butland's
/// harmonic-mean slopes. Outside the stations the end amount holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    positions: Vec<f64>,
    amounts: Vec<f64>,
    slopes: Vec<f64>,
}

impl Profile {
    /// Builds a profile from `(position, amount)` stations, both mm.
    ///
    /// # Errors
    /// [`GeometryError::Empty`] for no station, [`GeometryError::StationOrder`]
    /// when positions do not rise or a number is not finite.
    pub fn new(stations: &[(f64, f64)]) -> Result<Self, GeometryError> {
        if stations.is_empty() {
            return Err(GeometryError::Empty);
        }
        for (index, &(position, amount)) in stations.iter().enumerate() {
            let forward = index == 0 || position > stations[index - 1].0;
            if !(forward && position.is_finite() && amount.is_finite()) {
                return Err(GeometryError::StationOrder { index, position });
            }
        }
        let positions: Vec<f64> = stations.iter().map(|s| s.0).collect();
        let amounts: Vec<f64> = stations.iter().map(|s| s.1).collect();
        let slopes = limited_slopes(&positions, &amounts);
        Ok(Self { positions, amounts, slopes })
    }

    /// The amount at position `s`, mm.
    pub fn at(&self, s: f64) -> f64 {
        let last = self.positions.len() - 1;
        if s <= self.positions[0] {
            return self.amounts[0];
        }
        if s >= self.positions[last] {
            return self.amounts[last];
        }
        let i = self.positions.partition_point(|&p| p <= s) - 1;
        let h = self.positions[i + 1] - self.positions[i];
        let t = (s - self.positions[i]) / h;
        let (t2, t3) = (t * t, t * t * t);
        self.amounts[i] * (2.0 * t3 - 3.0 * t2 + 1.0)
            + self.slopes[i] * h * (t3 - 2.0 * t2 + t)
            + self.amounts[i + 1] * (3.0 * t2 - 2.0 * t3)
            + self.slopes[i + 1] * h * (t3 - t2)
    }

    /// The stations as given: `(position, amount)`, mm.
    pub fn stations(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.positions.iter().copied().zip(self.amounts.iter().copied())
    }
}

fn limited_slopes(positions: &[f64], amounts: &[f64]) -> Vec<f64> {
    let n = positions.len();
    let secants: Vec<f64> = (0..n.saturating_sub(1))
        .map(|i| (amounts[i + 1] - amounts[i]) / (positions[i + 1] - positions[i]))
        .collect();
    (0..n)
        .map(|i| match (i.checked_sub(1).map(|j| secants[j]), secants.get(i).copied()) {
            (Some(before), Some(after)) if before * after > 0.0 => {
                2.0 * before * after / (before + after)
            }
            (None, Some(only)) | (Some(only), None) => only,
            _ => 0.0,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_pinch_that_runs_out_is_zero_at_its_ends() {
        let p = Profile::new(&[(0.0, 0.0), (140.0, 9.525), (280.0, 0.0)]).unwrap();
        assert_eq!(p.at(0.0), 0.0);
        assert_eq!(p.at(140.0), 9.525);
        assert_eq!(p.at(280.0), 0.0);
        assert!(p.at(70.0) > 0.0 && p.at(70.0) < 9.525);
    }

    proptest! {
        #[test]
        fn never_leaves_the_range_of_its_two_stations(
            amounts in proptest::collection::vec(-25.0f64..25.0, 2..7),
            t in 0.0f64..1.0,
        ) {
            let stations: Vec<_> = amounts.iter().enumerate()
                .map(|(i, &a)| (i as f64 * 40.0, a)).collect();
            let p = Profile::new(&stations).unwrap();
            for w in stations.windows(2) {
                let s = w[0].0 + t * 40.0;
                let (low, high) = (w[0].1.min(w[1].1), w[0].1.max(w[1].1));
                prop_assert!(p.at(s) >= low - 1e-9 && p.at(s) <= high + 1e-9);
            }
        }
    }
}
