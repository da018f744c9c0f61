//! The waist.

use super::there::{There, listed};
use super::{Care, Steps};
use crate::names as made;
use hangtrue_adjust::{Closure, WaistFinish};
use hangtrue_pattern::words;

/// On a toile a facing is left off; a band and a casing are what holds it up.
pub(super) fn of_toile(steps: &mut Steps, there: &There<'_>) {
    let tape = "Sew a tape along the waist line, not stretched and not eased, so that the waist stays as it was drawn.";
    match there.plan.waist {
        WaistFinish::None | WaistFinish::Facing { .. } => {
            steps.add("Waist", there.legs(), words![tape], &[]);
        }
        WaistFinish::Straight { .. } | WaistFinish::Shaped { .. } => {
            let bands = there.all_made(&[made::WAISTBAND, made::SHAPED_BAND]);
            let words = words![
                "Tack the ",
                listed(&bands),
                " on, one layer, notch to notch at centres, sides and darts; its upper edge is left raw."
            ];
            steps.add("Waist", bands, words, &[]);
        }
        WaistFinish::Casing { .. } => casing(steps, there, "Tack"),
    }
}

fn casing(steps: &mut Steps, there: &There<'_>, how: &str) {
    let casings = there.made(made::CASING);
    let words = words![
        how,
        " the ",
        listed(&casings),
        " on, notch to notch, folded along its middle, and leave a gap. Draw the elastic through with a bodkin, try it on, and close."
    ];
    steps.add("Waist", casings, words, &[]);
}

pub(super) fn of_finished(steps: &mut Steps, there: &There<'_>) {
    match there.plan.waist {
        WaistFinish::None => {
            let words = words![
                "No piece is cut for the waist: stay it with a tape, and finish it as you have planned."
            ];
            steps.add("Waist", there.legs(), words, &[]);
        }
        WaistFinish::Straight { .. } | WaistFinish::Shaped { .. } => {
            let bands = there.all_made(&[made::WAISTBAND, made::SHAPED_BAND]);
            let shaped = matches!(there.plan.waist, WaistFinish::Shaped { .. });
            let first = if shaped {
                "Close the side seams of outside and inside, and sew them together along the upper edge. "
            } else {
                ""
            };
            let ends = if there.plan.closure == Closure::None {
                " Close its ends where they meet."
            } else {
                " Close its ends, one level with the opening and one running on under it."
            };
            let words = words![
                first,
                "Sew the ",
                listed(&bands),
                " to the waist, notch to notch at centres, sides and darts.",
                ends,
                " Turn the inside down over the seam and sew it in the groove."
            ];
            steps.add("Waist", bands, words, &[Care::Pins, Care::Needle]);
        }
        WaistFinish::Facing { .. } => {
            let facings = there.made(made::FACING);
            let words = words![
                "Close the side seams of ",
                listed(&facings),
                " and neaten the lower edge. Sew it to the waist with a tape in the seam, trim, understitch, turn it in, and catch it at the seams."
            ];
            steps.add("Waist", facings, words, &[Care::Pins, Care::Needle]);
        }
        WaistFinish::Casing { .. } => casing(steps, there, "Sew"),
    }
}

/// What holds it shut.
pub(super) fn fastened(steps: &mut Steps, there: &There<'_>) {
    if there.plan.closure == Closure::None {
        return;
    }
    let at = if there.is_banded() { "band" } else { "upper edge of the opening" };
    let words = words![
        "Sew a hook and bar, or a button and its hole, to the ",
        at,
        ", where the wearer can stand the pull."
    ];
    steps.add("Fastening", vec![], words, &[]);
}
