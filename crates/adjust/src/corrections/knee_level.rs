//! Knee level: the knee is placed lower or higher in a leg of the same length.

use super::bench::Bench;
use super::shape::Stretch;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, WAIST};
use serde::{Deserialize, Serialize};

/// Knee level: the knee is placed lower or higher in a leg of the same length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KneeLevel {
    /// How much lower the knee lies, mm.
    pub amount: f64,
}

/// What is put in above the knee is taken out within this below it, mm.
const TAKEN_WITHIN: f64 = 120.0;

impl Recipe for KneeLevel {
    const ABOUT: About = About {
        name: "knee level",
        place: Chapter::Length,
        what: "moves the knee of the leg down or up without changing where the hem lies",
        amount: "how much lower the knee lies",
        range: (-40.0, 40.0),
        inverse: true,
        effect: "Lets the paper grow between crotch and knee and takes the same out within 12 cm below the knee; the hem stays.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            bench.stretch(piece, Stretch::new(levels.crotch, levels.knee, self.amount)?)?;
            // Taken out below the knee again, clear of the hem.
            let knee = levels.knee - self.amount;
            let depth = TAKEN_WITHIN.min(0.8 * (levels.knee - levels.hem));
            let band = Stretch::new(knee, knee - depth - self.amount.max(0.0), -self.amount)?;
            bench.stretch(piece, band)?;
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
