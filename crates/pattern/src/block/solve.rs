//! A secant search for the nearly straight functions of the draft.

/// Steps before the search gives up.
const STEPS: usize = 40;

/// Widest single step, mm or radians.
const STRIDE: f64 = 60.0;

/// The x near `guess` where `f` is zero to `accuracy`, by the secant rule; none
/// when it does not settle or leaves `[low, high]`.
pub(super) fn secant(
    mut f: impl FnMut(f64) -> Option<f64>,
    guess: f64,
    (low, high): (f64, f64),
    accuracy: f64,
) -> Option<f64> {
    let mut a = guess.clamp(low, high);
    let mut fa = f(a)?;
    if fa.abs() <= accuracy {
        return Some(a);
    }
    let step = (0.05 * (high - low)).min(1.0);
    let mut b = if a + step <= high { a + step } else { a - step };
    for _ in 0..STEPS {
        let fb = f(b)?;
        if fb.abs() <= accuracy {
            return Some(b);
        }
        let slope = (fb - fa) / (b - a);
        if !slope.is_finite() || slope == 0.0 {
            return None;
        }
        let next = (b - (fb / slope).clamp(-STRIDE, STRIDE)).clamp(low, high);
        if next == b {
            return None;
        }
        (a, fa, b) = (b, fb, next);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settles_on_a_gentle_curve() {
        let x = secant(|x| Some(x + 0.001 * x * x - 30.0), 0.0, (-100.0, 100.0), 1e-12).unwrap();
        assert!((x + 0.001 * x * x - 30.0).abs() < 1e-12);
    }

    #[test]
    fn says_when_the_answer_lies_outside() {
        assert_eq!(secant(|x| Some(x - 30.0), 0.0, (-10.0, 10.0), 1e-12), None);
    }
}
