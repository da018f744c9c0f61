//! What a toile and a finished pair have sewn alike: darts and pleats, inseams, the crotch
//! seam. What is done otherwise is said by whoever asks.

use super::there::{There, listed};
use super::{Care, Steps};
use crate::names as made;
use hangtrue_adjust::Closure;
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{names, words};

/// The darts and the pleats: how each is sewn, and what a pleat needs care of.
pub(super) fn darts_and_pleats(
    steps: &mut Steps,
    there: &There<'_>,
    dart: &'static str,
    (pleat, cares): (&'static str, &[Care]),
) {
    let darted = there.with_darts(false);
    if !darted.is_empty() {
        steps.add("Darts", darted, words![dart], &[Care::Pins, Care::Needle, Care::Iron]);
    }
    let pleated = there.with_darts(true);
    if !pleated.is_empty() {
        steps.add("Pleats", pleated, words![pleat], cares);
    }
}

/// The yoke, sewn to the back before the side seams, and what is done after.
pub(super) fn yoke(steps: &mut Steps, there: &There<'_>, after: &'static str) {
    let yokes = there.made(made::YOKE);
    if yokes.is_empty() {
        return;
    }
    let backs = there.bodies(names::BACK).into_iter().map(|p| p.name.clone());
    let words = words![
        "Sew the ",
        listed(&yokes),
        " to the upper edge of the back, right sides together, notch to notch",
        there.in_from_edge(names::BACK, names::YOKE_SEAM),
        after
    ];
    let pieces = backs.chain(yokes).collect();
    steps.add("Back yoke", pieces, words, &[Care::Pins, Care::Needle]);
}

/// The inseams, and what is done after.
pub(super) fn inseams(steps: &mut Steps, there: &There<'_>, after: &'static str) {
    let words = words![
        "Matched at the knee first, then up and down",
        there.in_from_edge(names::FRONT, names::INSEAM),
        after
    ];
    steps.add("Inseams", there.legs(), words, &[]);
}

/// The crotch seam: from where it is sewn when a fly or a zip at the back opens it, or when it
/// is left open because nothing else opens it, and what is done after.
pub(super) fn crotch(
    steps: &mut Steps,
    there: &There<'_>,
    (fly, back_zip, left_open): (&'static str, &'static str, &'static str),
    after: &'static str,
) {
    let from = match there.plan.closure {
        Closure::Fly { .. } => fly,
        Closure::BackZip => back_zip,
        Closure::None if there.set.tight.is_some() => left_open,
        Closure::None | Closure::SideZip { .. } => "from waist to waist",
    };
    let words: Words = words![
        "One leg, turned right side out, into the other; inseam on inseam. Sew ",
        from,
        " in one go",
        there.in_from_edge(names::BACK, names::CROTCH),
        after
    ];
    steps.add("Crotch seam", there.legs(), words, &[]);
}
