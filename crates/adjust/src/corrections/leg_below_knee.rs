//! Leg length below the knee: the leg is lengthened between knee and hem.

use super::bench::Bench;
use super::shape::Stretch;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, WAIST};
use serde::{Deserialize, Serialize};

/// Leg length below the knee: the leg is lengthened between knee and hem.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LegBelowKnee {
    /// Length put in between knee and hem, mm.
    pub amount: f64,
}

impl Recipe for LegBelowKnee {
    const ABOUT: About = About {
        name: "leg length below the knee",
        place: Chapter::Length,
        what: "lengthens or shortens the leg between knee and hem; the hem keeps its width",
        amount: "length put in between knee and hem",
        range: (-60.0, 60.0),
        inverse: true,
        effect: "Lets the paper grow between knee and hem; the hem moves as it is.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            bench.stretch(piece, Stretch::new(levels.knee, levels.hem, self.amount)?)?;
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
