//! One-dimensional root and minimum search on exact functions.

use crate::{GeometryError, tolerance};
use kurbo::common::solve_itp;

/// The x in `[low, high]` where `f` is zero, to `accuracy` in x.
///
/// Uses the ITP method (Oliveira and Takahashi 2020), as kurbo implements it:
/// as sure as bisection, usually far faster.
///
/// # Errors
/// [`GeometryError::NoRoot`] when `f` has the same sign at both limits.
pub fn bracketed_root(
    mut f: impl FnMut(f64) -> f64,
    low: f64,
    high: f64,
    accuracy: f64,
) -> Result<f64, GeometryError> {
    let at_low = f(low);
    let at_high = f(high);
    if at_low.abs() <= tolerance::ROOT {
        return Ok(low);
    }
    if at_high.abs() <= tolerance::ROOT {
        return Ok(high);
    }
    let opposite = (at_low < 0.0) != (at_high < 0.0);
    if !(opposite && at_low.is_finite() && at_high.is_finite()) {
        return Err(GeometryError::NoRoot { low, high, at_low, at_high });
    }
    let k1 = 0.2 / (high - low);
    Ok(if at_low < 0.0 {
        solve_itp(f, low, high, accuracy, 1, k1, at_low, at_high)
    } else {
        solve_itp(|x| -f(x), low, high, accuracy, 1, k1, -at_low, -at_high)
    })
}

/// The x in `[low, high]` where `f` is least, by golden section, for an `f`
/// with one valley; `steps` halvings by the golden ratio.
pub fn smallest(mut f: impl FnMut(f64) -> f64, low: f64, high: f64, steps: usize) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let (mut low, mut high) = (low, high);
    let mut left = high - GOLDEN * (high - low);
    let mut right = low + GOLDEN * (high - low);
    let (mut f_left, mut f_right) = (f(left), f(right));
    for _ in 0..steps {
        if f_left <= f_right {
            high = right;
            (right, f_right) = (left, f_left);
            left = high - GOLDEN * (high - low);
            f_left = f(left);
        } else {
            low = left;
            (left, f_left) = (right, f_right);
            right = low + GOLDEN * (high - low);
            f_right = f(right);
        }
    }
    if f_left <= f_right { left } else { right }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_cube_root_of_two_from_either_side() {
        let up = bracketed_root(|x| x * x * x - 2.0, 0.0, 2.0, 1e-13).unwrap();
        let down = bracketed_root(|x| 2.0 - x * x * x, 0.0, 2.0, 1e-13).unwrap();
        assert!((up - 2f64.cbrt()).abs() < 1e-12);
        assert!((down - 2f64.cbrt()).abs() < 1e-12);
    }

    #[test]
    fn says_when_there_is_no_sign_change() {
        let refused = bracketed_root(|x| x * x + 1.0, -1.0, 1.0, 1e-9);
        assert!(matches!(refused, Err(GeometryError::NoRoot { .. })));
    }

    #[test]
    fn finds_a_valley() {
        let x = smallest(|x| (x - 0.3).powi(2), -1.0, 2.0, 60);
        assert!((x - 0.3).abs() < 1e-7);
    }
}
