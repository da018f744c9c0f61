//! Leg length above the knee: the leg is lengthened between crotch and knee.

use super::bench::Bench;
use super::shape::Stretch;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, WAIST};
use serde::{Deserialize, Serialize};

/// Leg length above the knee: the leg is lengthened between crotch and knee.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LegAboveKnee {
    /// Length put in between crotch and knee, mm.
    pub amount: f64,
}

impl Recipe for LegAboveKnee {
    const ABOUT: About = About {
        name: "leg length above the knee",
        place: Chapter::Length,
        what: "lengthens or shortens the leg between crotch and knee, so that the knee line meets the knee",
        amount: "length put in between crotch and knee",
        range: (-40.0, 40.0),
        inverse: true,
        effect: "Lets the paper grow between crotch and knee; everything from the knee down moves as it is.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            bench.stretch(piece, Stretch::new(levels.crotch, levels.knee, self.amount)?)?;
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
