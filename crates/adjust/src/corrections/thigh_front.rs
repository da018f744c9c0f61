//! Full front thigh: room across the front of the thigh.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full front thigh: room across the front of the thigh.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThighFront {
    /// Width put in across the front, half at the side seam, half at the crotch point, mm.
    pub amount: f64,
}

impl Recipe for ThighFront {
    const ABOUT: About = About {
        name: "full front thigh",
        place: Chapter::Leg,
        what: "gives width over a thigh that stands out at the front",
        amount: "width put in across the front, half at the side seam, half at the crotch point",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Moves the front crotch point out and lets the front side seam out below the hip, each by half, faded to nothing at the knee; the inseam keeps its length.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let levels = bench.levels(FRONT)?;
        let half = 0.5 * self.amount;
        let fade =
            Fade::flat(&[(levels.hip, 0.0), (levels.flank(0.28), half), (levels.knee, 0.0)])?;
        bench.extend_crotch_point(FRONT, half)?;
        bench.widen(FRONT, SIDE, &fade)?;
        bench.promise(FRONT, &[WAIST, INSEAM]);
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
