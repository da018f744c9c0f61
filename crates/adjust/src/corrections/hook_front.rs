//! Front hook: the crotch curve runs more hollow or more cut across.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use crate::hook::{Hook, redraw};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Front hook: the crotch curve runs more hollow or more cut across.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HookFront {
    /// How much longer the front crotch seam becomes by a hollower curve, mm.
    pub amount: f64,
}

impl Recipe for HookFront {
    const ABOUT: About = About {
        name: "front crotch curve",
        place: Chapter::Crotch,
        what: "makes the crotch curve of the front hollower where the cloth strains across it, or fills it where it bags",
        amount: "how much longer the front crotch seam becomes by a hollower curve",
        range: (-4.0, 4.0),
        inverse: true,
        effect: "Lets the crotch curve of the front run nearer to its corner (longer) or farther from it (shorter); both ends and both directions stay.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let piece = bench.piece_mut(FRONT)?;
        let length = piece.seam(CROTCH)?.sewn_length() + self.amount;
        let hook = Hook::of(piece)?.filled_to_length(length, FRONT)?;
        if let Some(note) = redraw(piece, &hook)? {
            bench.note(note);
        }
        bench.promise(FRONT, &[WAIST, INSEAM, HEM, SIDE]);
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
