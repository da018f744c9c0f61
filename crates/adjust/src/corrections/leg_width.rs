//! Leg width: the leg is wider or narrower from the knee down.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Leg width: the leg is wider or narrower from the knee down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LegWidth {
    /// Width put in round the leg from the knee down, a quarter at each edge, mm.
    pub amount: f64,
}

impl Recipe for LegWidth {
    const ABOUT: About = About {
        name: "leg width",
        place: Chapter::Length,
        what: "widens or narrows the leg evenly from knee to hem, faded to nothing at the crotch",
        amount: "width put in round the leg from the knee down, a quarter at each edge",
        range: (-60.0, 60.0),
        inverse: true,
        effect: "Moves all four edges of the leg by the same, from nothing at the crotch point to the whole at the knee and below.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for (piece, seam) in [(BACK, SIDE), (BACK, INSEAM), (FRONT, SIDE), (FRONT, INSEAM)] {
            let levels = bench.levels(piece)?;
            let fade = Fade::flat(&[(levels.crotch, 0.0), (levels.knee, 0.25 * self.amount)])?;
            bench.widen(piece, seam, &fade)?;
        }
        for piece in [BACK, FRONT] {
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
