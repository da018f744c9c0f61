//! Bow leg: the leg swings outwards from the crotch down.

use super::bench::Bench;
use super::knock_knee::leg_inwards;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, FRONT};
use serde::{Deserialize, Serialize};

/// Bow leg: the leg swings outwards from the crotch down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BowLeg {
    /// How far knee and hem move towards the side seam, mm.
    pub amount: f64,
}

impl Recipe for BowLeg {
    const ABOUT: About = About {
        name: "bow leg",
        place: Chapter::Leg,
        what: "swings the leg towards the side seam where the knees stand apart and the leg breaks at the inside",
        amount: "how far knee and hem move towards the side seam",
        range: (-25.0, 25.0),
        inverse: true,
        effect: "Moves side seam and inseam of both pieces the same way, from nothing at the crotch point to the whole at the knee and below, and the grain line, which is the crease, with them: the leg keeps its width, the crease halves knee and hem, and the hem stays square: for that the crotch points of back and front move apart by a little along the grain.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        leg_inwards(bench, -self.amount)?;
        Ok(())
    }
}
