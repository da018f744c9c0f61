//! Full calf: room below the knee.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full calf: room below the knee.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullCalf {
    /// Width put in round the leg a third of the way from knee to hem, a quarter at each edge, mm.
    pub amount: f64,
}

impl Recipe for FullCalf {
    const ABOUT: About = About {
        name: "full calf",
        place: Chapter::Leg,
        what: "gives width round a full calf so that the leg does not catch there",
        amount: "width put in round the leg a third of the way from knee to hem, a quarter at each edge",
        range: (-24.0, 24.0),
        inverse: true,
        effect: "Lets all four edges of the leg out below the knee, most a third of the way to the hem, where they meet the old seams again.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for (piece, seam) in [(BACK, SIDE), (BACK, INSEAM), (FRONT, SIDE), (FRONT, INSEAM)] {
            let levels = bench.levels(piece)?;
            let peak = (levels.shin(0.33), 0.25 * self.amount);
            bench.widen(
                piece,
                seam,
                &Fade::flat(&[(levels.knee, 0.0), peak, (levels.hem, 0.0)])?,
            )?;
        }
        for piece in [BACK, FRONT] {
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
