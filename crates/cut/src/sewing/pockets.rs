//! Pockets: on the back before anything else is sewn to it, at the front before the side
//! seam or with it.

use super::there::{There, listed};
use super::{Care, Steps};
use crate::names as made;
use hangtrue_adjust::{BackPocket, Closure, FrontPocket};
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{names, words};

pub(super) fn back(steps: &mut Steps, there: &There<'_>) {
    let backs = || there.bodies(names::BACK).into_iter().map(|p| p.name.clone());
    match there.plan.pockets.back {
        BackPocket::None => {}
        BackPocket::Welt => {
            let (welts, facings, bags) =
                (there.made(made::WELT), there.made(made::WELT_FACING), there.made(made::WELT_BAG));
            let first = if there.made(made::YOKE).is_empty() {
                "The darts are sewn. Mark the opening again; sew the "
            } else {
                "Sew the "
            };
            steps.add(
                "Back pockets",
                backs().chain([&welts, &facings, &bags].into_iter().flatten().cloned()).collect(),
                words![
                    first, listed(&welts), " below it and the ",
                    listed(&facings),
                    " above it, from end mark to end mark. Cut between them and into the corners, turn through, and sew the little triangles down. Sew the ",
                    listed(&bags), " to both, and close it."
                ],
                &[Care::Pins, Care::Needle, Care::Snips],
            );
        }
        BackPocket::Patch => {
            let patches = there.made(made::PATCH);
            steps.add(
                "Back pockets",
                backs().chain(patches.clone()).collect(),
                words![
                    "Hem the ", listed(&patches),
                    ", press its edges in round a card, and topstitch it over the marks; go to and fro at both upper corners."
                ],
                &[Care::Pins, Care::Needle, Care::Iron],
            );
        }
    }
}

pub(super) fn front(steps: &mut Steps, there: &There<'_>) {
    // Beside a side zip the pocket is on the other leg alone.
    let (opened, on) = match there.plan.closure {
        Closure::SideZip { leg } => (Some(leg), words!["On the ", leg.other().word(), " leg: "]),
        _ => (None, Words::default()),
    };
    let fronts = there.bodies(names::FRONT).into_iter();
    let fronts = fronts.filter(|p| opened.is_none() || p.leg() != opened).map(|p| p.name.clone());
    let facings = there.made(made::POCKET_FACING);
    let (bags, under) = (there.made(made::POCKET_BAG), there.made(made::POCKET_UNDER_BAG));
    let pieces = fronts.chain([&facings, &bags, &under].into_iter().flatten().cloned()).collect();
    match there.plan.pockets.front {
        FrontPocket::None => {}
        FrontPocket::Slant | FrontPocket::Jeans => steps.add(
            "Front pockets",
            pieces,
            words![
                on,
                "Sew the ", listed(&bags),
                " to the opening, turn it in, and topstitch. Sew the ", listed(&facings), " on to the ",
                listed(&under),
                ", lay it under the opening notch to notch, close the two bags, and tack them at waist and side: from here on it is one front."
            ],
            &[Care::Pins, Care::Needle],
        ),
        FrontPocket::SideSeam => steps.add(
            "Front pockets",
            pieces,
            words![
                on,
                "Sew a ", listed(&facings), " on to each ", listed(&bags),
                ", and one of them to the side of every front and back, between the notches. The side seam is sewn above and below them, and the bags are closed after it."
            ],
            &[Care::Pins, Care::Needle],
        ),
    }
}
