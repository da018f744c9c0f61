//! The trousers that are worn: flat pieces first, then round ones.

use super::there::{There, listed, width};
use super::{Care, Steps, openings, pockets, seams, waists};
use crate::Cloth;
use hangtrue_adjust::{Closure, FrontPocket};
use hangtrue_pattern::{names, words};

pub(super) fn steps(steps: &mut Steps, there: &There<'_>) {
    openings::none(steps, there);
    steps.add(
        "Mark and neaten",
        there.legs(),
        words![
            "Mark the ends of darts and openings through to the cloth, snip the notches, and neaten the edges that will lie open inside."
        ],
        &[],
    );
    interfacing(steps, there);
    seams::darts_and_pleats(
        steps,
        there,
        "Leg on leg from the waist to the point, the last stitches along the fold; knot the threads. Press them the way the arrow shows, over a ham.",
        (
            "Lay edge on edge at the waist, the way the arrow shows; tack across the top, and press the fold into the crease.",
            &[Care::Iron],
        ),
    );
    pockets::back(steps, there);
    seams::yoke(steps, there, ". Press it up into the yoke, and topstitch where you like it.");
    pockets::front(steps, there);
    openings::fly(steps, there);
    others(steps, there);
    side_seams(steps, there);
    if matches!(there.plan.closure, Closure::SideZip { .. }) {
        openings::zip(steps, there, "side seam");
    }
    seams::inseams(
        steps,
        there,
        ". Press open, and press the creases while the legs are still apart.",
    );
    let opened = (
        "from where the fronts are joined to the waist at the back",
        "from the waist at the front to the notch “zip” at the back",
        "from waist to waist",
    );
    let twice = ", and a second time on the same line where the seam curves: it bears the most.";
    seams::crotch(steps, there, opened, twice);
    if there.plan.closure == Closure::BackZip {
        openings::zip(steps, there, "centre back");
    }
    lining(steps, there);
    waists::of_finished(steps, there);
    waists::fastened(steps, there);
    hem(steps, there);
    steps.add(
        "Last pressing",
        vec![],
        words!["From the inside first, then the outside under a cloth; let them hang until they are cold."],
        &[Care::Iron],
    );
}

fn interfacing(steps: &mut Steps, there: &There<'_>) {
    let pieces = there.of_cloth(Cloth::Interfacing);
    if pieces.is_empty() {
        return;
    }
    let backed = there.backed_with(Cloth::Interfacing);
    let both = backed.iter().filter(|name| !pieces.contains(name)).chain(&pieces);
    let both = both.cloned().collect();
    let words = words![
        "Press the interfacing to the wrong side of ",
        listed(&backed),
        ", setting the iron down and not sliding it; try it on a scrap first."
    ];
    steps.add("Interfacing", both, words, &[Care::Iron]);
}

/// Pieces of a pattern that was brought in.
fn others(steps: &mut Steps, there: &There<'_>) {
    let pieces = there.others();
    if pieces.is_empty() {
        return;
    }
    let words = words![
        listed(&pieces),
        ": sew these where the pattern they came with says, before the side seams."
    ];
    steps.add("Other pieces", pieces, words, &[]);
}

fn side_seams(steps: &mut Steps, there: &There<'_>) {
    let mut words = words![
        "Back on front, right sides together, matched at the notches",
        there.in_from_edge(names::FRONT, names::SIDE)
    ];
    if let Closure::SideZip { leg } = there.plan.closure {
        words = words.and("; on the ").and(leg.word()).and(" leg only from the notch “zip” down");
    }
    if there.plan.pockets.front == FrontPocket::SideSeam {
        words = words.and("; past the pockets, then close the bags");
    }
    words = words.and(". Press open.");
    steps.add("Side seams", there.legs(), words, &[Care::Pins, Care::Needle, Care::Iron]);
}

fn lining(steps: &mut Steps, there: &There<'_>) {
    let lined = there.of_cloth(Cloth::Lining);
    if lined.is_empty() {
        return;
    }
    let opening =
        if there.plan.closure == Closure::None { "" } else { " and turned in along the opening" };
    let words = words![
        "Sew the lining of ",
        listed(&there.backed_with(Cloth::Lining)),
        " in the same order, the darts laid in folds; put it in wrong sides together, tacked at the waist",
        opening,
        "."
    ];
    steps.add("Lining", lined, words, &[]);
}

fn hem(steps: &mut Steps, there: &There<'_>) {
    let legs = there.legs();
    let turned = there.with_turn_up();
    let deep = |base: &str| {
        let piece = there.bodies(base).into_iter().next();
        piece.map(|p| there.set.allowance.along(&p.name, names::HEM).most()).filter(|mm| *mm > 0.0)
    };
    let deep = deep(names::BACK).or_else(|| deep(names::FRONT));
    let mut words = match (turned.is_empty(), deep) {
        (true, Some(mm)) => words![
            "Try on for the length. Turn up ",
            width(mm),
            " along the line, and hem by hand, loosely."
        ],
        (true, None) => {
            words!["Try on for the length, and finish the lower edge as you have planned."]
        }
        (false, _) => words![
            "Try on for the length. Hem inside, fold the turn-ups up over the outside on their lines, and catch them at the seams."
        ],
    };
    if there.plan.lining {
        words = words.and(" The lining ends a thumb’s breadth above it.");
    }
    let title = if turned.is_empty() { "Hem" } else { "Turn-ups" };
    steps.add(title, legs, words, &[Care::Iron]);
}
