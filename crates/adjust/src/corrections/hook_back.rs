//! Back hook: the crotch curve runs more hollow or more cut across.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use crate::hook::{Hook, redraw};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Back hook: the crotch curve runs more hollow or more cut across.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HookBack {
    /// How much longer the back crotch seam becomes by a hollower curve, mm.
    pub amount: f64,
}

impl Recipe for HookBack {
    const ABOUT: About = About {
        name: "back crotch curve",
        place: Chapter::Crotch,
        what: "makes the crotch curve of the back hollower where the cloth strains across it, or fills it where it bags",
        amount: "how much longer the back crotch seam becomes by a hollower curve",
        range: (-6.0, 6.0),
        inverse: true,
        effect: "Lets the crotch curve of the back run nearer to its corner (longer) or farther from it (shorter); both ends and both directions stay.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let piece = bench.piece_mut(BACK)?;
        let length = piece.seam(CROTCH)?.sewn_length() + self.amount;
        let hook = Hook::of(piece)?.filled_to_length(length, BACK)?;
        if let Some(note) = redraw(piece, &hook)? {
            bench.note(note);
        }
        bench.promise(BACK, &[WAIST, INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
