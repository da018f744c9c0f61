//! What a book names beside a pinch: surplus under the seat is taken up by the pinch's
//! methods, or goes with a centre back that leans less.

use crate::corrections::Correction;
use crate::{Change, Pinch, PinchPath};
use hangtrue_pattern::{Pattern, names};

/// Of how much of the pinch the lean is changed to begin with (memory).
const TO_BEGIN: f64 = 0.5;

/// Why it is weighed beside the pinch.
pub const LESS_LEAN: &str = "Beside them: surplus under the seat when standing may come of a centre back that leans too much (P. Thickett, in The Modern Tailor, Outfitter and Clothier, vol. I, 1949, ch. XXII). Then the seat seam is let out at its top and the same is taken in at the side; half of what was pinned is only an amount to begin with. It goes when the wearer sits; ask how the wearer wants to sit.";

/// The change of the lean to weigh beside a pinch that takes cloth out along the thigh line of
/// the back; none of any other pinch.
pub fn less_lean_beside(pattern: &Pattern, pinch: &Pinch) -> Option<Change> {
    let along_thigh = matches!(&pinch.path, PinchPath::Line(line) if line == names::THIGH);
    if !along_thigh || pinch.piece != names::BACK {
        return None;
    }
    let (_, most) = pinch.lay(pattern).ok()?.largest();
    let lean =
        (most > 0.0).then(|| Correction::named("seat seam out and side in", TO_BEGIN * most));
    lean?.ok().map(Change::Correct)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Station, StationPlace, sample};

    fn pinch(amount: f64) -> Pinch {
        let stations = vec![Station { at: StationPlace::Share(0.5), amount }];
        Pinch {
            name: "seat".into(),
            piece: names::BACK.into(),
            path: PinchPath::Line(names::THIGH.into()),
            stations,
        }
    }

    #[test]
    fn what_is_pinned_out_under_the_seat_has_the_lean_beside_it() {
        let pattern = sample::pattern();
        let Some(Change::Correct(lean)) = less_lean_beside(&pattern, &pinch(10.0)) else {
            panic!("nothing beside")
        };
        assert_eq!(lean.amount(), 5.0);
        assert_eq!(
            less_lean_beside(&pattern, &pinch(-10.0)),
            None,
            "what is let out wants no less"
        );
        let elsewhere = Pinch { path: PinchPath::Line("hip balance".into()), ..pinch(10.0) };
        assert_eq!(less_lean_beside(&pattern, &elsewhere), None);
    }
}
