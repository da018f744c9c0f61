//! Full outer thigh: room at the side seam below the hip on both pieces.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full outer thigh: room at the side seam below the hip on both pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThighOuter {
    /// Width put in below the hip at the side seam, half on each piece, mm.
    pub amount: f64,
}

impl Recipe for ThighOuter {
    const ABOUT: About = About {
        name: "full outer thigh",
        place: Chapter::Leg,
        what: "gives width where the thighs are full at the outside",
        amount: "width put in below the hip at the side seam, half on each piece",
        range: (-30.0, 30.0),
        inverse: true,
        effect: "Lets both side seams out between hip and knee, most at the thigh.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            let peak = (levels.flank(0.28), 0.5 * self.amount);
            let fade = Fade::flat(&[(levels.hip, 0.0), peak, (levels.knee, 0.0)])?;
            bench.widen(piece, SIDE, &fade)?;
            bench.promise(piece, &[WAIST, CROTCH, INSEAM]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
