//! Prominent calf: the back is longer in its middle below the knee.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Prominent calf: the back is longer in its middle below the knee.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CalfLength {
    /// How much lower the hem of the back lies in its middle, mm.
    pub amount: f64,
}

impl Recipe for CalfLength {
    const ABOUT: About = About {
        name: "prominent calf",
        place: Chapter::Leg,
        what: "gives the back length over a calf that stands out and holds the hem up behind",
        amount: "how much longer the back becomes in its middle, at the hem",
        range: (-12.0, 12.0),
        inverse: true,
        effect: "Draws the hem of the back lower in its middle, faded to nothing at both seams, where it stays square to the grain; the seams keep their length.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        bench.bow_hem(BACK, self.amount)?;
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
