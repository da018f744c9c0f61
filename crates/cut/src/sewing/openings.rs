//! Fly and zips.

use super::there::{There, listed};
use super::{Care, Steps};
use crate::names as made;
use hangtrue_adjust::Closure;
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{names, words};

/// On a toile the opening is pinned shut.
pub(super) fn left_open(steps: &mut Steps, there: &There<'_>) {
    let (seam, at, base) = match there.plan.closure {
        Closure::None => return tight(steps, there),
        Closure::Fly { .. } => ("centre front", "fly", names::FRONT),
        Closure::SideZip { leg } => {
            let seam = if leg == hangtrue_pattern::Leg::Left {
                "left side seam"
            } else {
                "right side seam"
            };
            (seam, "zip", names::BACK)
        }
        Closure::BackZip => ("centre back", "zip", names::BACK),
    };
    let pieces = there.bodies(base).into_iter().map(|p| p.name.clone()).collect();
    let cut_on = if there.plan.opening.cut_on {
        " What is cut on there is folded in on the line."
    } else {
        ""
    };
    steps.add(
        "The opening",
        pieces,
        words![
            "Leave the ",
            seam,
            " open from the waist to the notch “",
            at,
            "”, and fasten the seam there. It is pinned shut on the wearer, line on line.",
            cut_on
        ],
        &[],
    );
}

/// Nothing is chosen to open it, and it cannot be drawn on.
fn tight(steps: &mut Steps, there: &There<'_>) {
    let Some(less) = there.set.tight else { return };
    let backs = there.bodies(names::BACK);
    let has_notch = backs.iter().any(|p| p.notches.iter().any(|n| n.name == names::SEAT));
    let down_to = if has_notch { "to the notch “seat”" } else { "to the hip line" };
    let pieces = backs.iter().map(|p| p.name.clone()).collect();
    steps.add(
        "The opening",
        pieces,
        words![
            "Nothing is chosen that opens the trousers, and their waist is ",
            Length(less),
            " narrower than the hips. Leave the centre back open from the waist ",
            down_to,
            ", and pin it shut on the wearer, line on line."
        ],
        &[Care::Pins],
    );
}

/// A finished pair that cannot be drawn on is not to be sewn.
pub(super) fn none(steps: &mut Steps, there: &There<'_>) {
    let Some(less) = there.set.tight else { return };
    steps.add(
        "Before it is sewn",
        vec![],
        words![
            "Nothing is chosen that opens the trousers, and their waist is ",
            Length(less),
            " narrower than the hips: choose a fly or a zip first."
        ],
        &[],
    );
}

/// The fly, before the legs are closed.
pub(super) fn fly(steps: &mut Steps, there: &There<'_>) {
    let Closure::Fly { over } = there.plan.closure else { return };
    let fronts = || there.bodies(names::FRONT).into_iter().map(|p| p.name.clone());
    let (facings, shields) = (there.made(made::FLY_FACING), there.made(made::FLY_SHIELD));
    steps.add(
        "Join the fronts",
        fronts().collect(),
        words![
            "Right sides together, from the notch “fly” down to a thumb’s breadth before the crotch point",
            there.in_from_edge(names::FRONT, names::CROTCH),
            ". Fasten the end at the notch."
        ],
        &[Care::Pins, Care::Needle],
    );
    let on_top = over.word();
    let facing = if facings.is_empty() {
        words![
            "On the ",
            on_top,
            " leg, which lies on top, fold what is cut on in along the centre front, and press."
        ]
    } else {
        words![
            "Sew the ",
            listed(&facings),
            " to the ",
            on_top,
            " leg, which lies on top; turn it in so that the seam lies just inside the edge, and press."
        ]
    };
    steps.add("Edge of the fly", fronts().chain(facings).collect(), facing, &[Care::Iron]);
    steps.add(
        "Zip and shield of the fly",
        shields.clone(),
        words![
            "Sew the ", listed(&shields), ", outside on inside, along its free edge, and turn it. Sew one side of the zip to the ",
            over.other().word(),
            " leg with the shield behind it. Close the fly, line on line, and sew the other side of the zip to the edge behind the ",
            on_top,
            " leg. Topstitch along the marked line with the shield folded away, then fasten fly and shield together at the foot."
        ],
        &[Care::Zip],
    );
}

/// A zip in the side seam or the centre back, once that is sewn below it.
pub(super) fn zip(steps: &mut Steps, there: &There<'_>, seam: &str) {
    let shields = there.made(made::ZIP_SHIELD);
    steps.add(
        &format!("Zip in the {seam}"),
        shields.clone(),
        words![
            "The seam is open down to the notch “zip”. Press its edges in, and sew the zip behind them. Sew the ",
            listed(&shields),
            ", outside on inside, along its free edge, turn it, and catch it behind the zip on one edge. Fasten the foot."
        ],
        &[Care::Zip],
    );
}
