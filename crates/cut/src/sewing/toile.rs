//! A toile: long stitches, nothing that is not looked at.

use super::there::{There, listed};
use super::{Care, Steps, openings, seams, waists};
use crate::names as made;
use hangtrue_adjust::BackPocket;
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{names, words};

pub(super) fn steps(steps: &mut Steps, there: &There<'_>) {
    let legs = there.legs();
    steps.add(
        "Mark",
        legs.clone(),
        words![
            "While the paper lies on the cloth, trace what goes to the cloth, snip the notches, and mark the sewing lines. Sew all of it with the longest stitch: it comes apart again."
        ],
        &[],
    );
    pocket_openings(steps, there);
    seams::darts_and_pleats(
        steps,
        there,
        "Leg on leg from the waist to the point; press them the way the arrow shows.",
        (
            "Lay edge on edge at the waist, the way the arrow shows, and tack across the top only.",
            &[],
        ),
    );
    patches(steps, there);
    seams::yoke(steps, there, ".");
    openings::left_open(steps, there);
    steps.add(
        "Side seams",
        legs.clone(),
        words![
            "Back on front, right sides together, matched at the notches",
            there.in_from_edge(names::FRONT, names::SIDE),
            ". Press the seams open, not over the marked lines."
        ],
        &[Care::Pins, Care::Needle, Care::Iron],
    );
    seams::inseams(steps, there, ".");
    let opened = (
        "from the notch of the fly at the front to the waist at the back",
        "from the waist at the front to the notch of the zip at the back",
        "from the waist at the front to where the centre back is left open",
    );
    let unsnipped = ". The cloth is not snipped in the curve before the fitting.";
    seams::crotch(steps, there, opened, unsnipped);
    waists::of_toile(steps, there);
    hem(steps, there);
    left_over(steps, there);
}

fn pocket_openings(steps: &mut Steps, there: &There<'_>) {
    if !there.is_cut_away() {
        return;
    }
    let facings = there.made(made::POCKET_FACING);
    let is_cut_away = |p: &&hangtrue_pattern::Piece| p.seam(made::POCKET_OPENING).is_ok();
    let fronts = there.bodies(names::FRONT).into_iter().filter(is_cut_away);
    let fronts = fronts.map(|p| p.name.clone());
    steps.add(
        "Fill the pocket openings",
        fronts.chain(facings.clone()).collect(),
        words![
            "The front is cut away for its pocket. Lay the ",
            listed(&facings),
            " under the opening, notch to notch, and tack along it, so that waist and side seam are whole."
        ],
        &[Care::Pins],
    );
}

/// A patch is looked at on the toile too.
fn patches(steps: &mut Steps, there: &There<'_>) {
    let patches = there.made(made::PATCH);
    if patches.is_empty() {
        return;
    }
    steps.add(
        "Place the patch pockets",
        patches,
        words![
            "Turn the edges in, and tack each at its marks: where it sits is looked at on the body."
        ],
        &[],
    );
}

fn hem(steps: &mut Steps, there: &There<'_>) {
    let turned = there.with_turn_up();
    let legs = there.legs();
    let words = if turned.is_empty() {
        words!["Turn the hem up along its line and tack it."]
    } else {
        words![
            "Fold the turn-ups to and fro on their lines, and tack them: the length is looked at with them."
        ]
    };
    steps.add(if turned.is_empty() { "Hem" } else { "Turn-ups" }, legs, words, &[]);
}

/// What is cut already and not sewn into a toile.
fn left_over(steps: &mut Steps, there: &There<'_>) {
    let taken: Vec<String> = steps.steps.iter().flat_map(|s| s.pieces.clone()).collect();
    let pieces = there.set.pieces.iter().map(|p| p.name.clone());
    let kept: Vec<String> = pieces.filter(|name| !taken.contains(name)).collect();
    let lining = there.plan.lining;
    if kept.is_empty() && !lining && there.plan.pockets.back != BackPocket::Welt {
        return;
    }
    // The pieces stand at the head of the step.
    let of_cloth = there.without_copies(&kept);
    let mut words = match (kept.is_empty(), lining) {
        (true, false) => Words::default(),
        (_, true) if of_cloth.is_empty() => words!["The lining is not sewn into a toile."],
        (_, true) => words!["Not sewn into a toile, nor is the lining."],
        (false, false) => words!["Not sewn into a toile."],
    };
    if !kept.is_empty() || lining {
        words = words.and(" Keep it for the finished pair, or do not cut it yet.");
    }
    if there.plan.pockets.back == BackPocket::Welt {
        let gap = if kept.is_empty() && !lining { "" } else { " " };
        words = words.and(gap).and("Where the back pockets open is only drawn on the cloth.");
    }
    steps.add("For the finished pair", kept, words, &[]);
}
