//! Thin thigh: width a slim thigh does not fill is taken out between crotch and knee.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Thin thigh: width a slim thigh does not fill is taken out between crotch and knee.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThinThigh {
    /// Width taken out round the leg a third of the way to the knee, a quarter at each edge, mm.
    pub amount: f64,
}

impl Recipe for ThinThigh {
    const ABOUT: About = About {
        name: "thin thigh",
        place: Chapter::Leg,
        what: "takes in the leg between crotch and knee where it hangs in folds down a slim thigh",
        amount: "width taken out round the leg a third of the way to the knee, a quarter at each edge",
        range: (-24.0, 24.0),
        inverse: true,
        effect: "Takes all four edges of the leg in between crotch and knee, most a third of the way down.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for (piece, seam) in [(BACK, SIDE), (BACK, INSEAM), (FRONT, SIDE), (FRONT, INSEAM)] {
            let levels = bench.levels(piece)?;
            let peak = (levels.thigh(0.35), -0.25 * self.amount);
            let top = if seam == SIDE { levels.hip } else { levels.crotch };
            bench.widen(piece, seam, &Fade::flat(&[(top, 0.0), peak, (levels.knee, 0.0)])?)?;
        }
        for piece in [BACK, FRONT] {
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
