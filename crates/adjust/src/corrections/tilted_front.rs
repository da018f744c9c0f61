//! Tilted front waist: the waist drops towards the centre front.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Tilted front waist: the waist drops towards the centre front.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TiltedFront {
    /// How much the centre front is lowered, faded to nothing at the side seam, mm.
    pub amount: f64,
}

impl Recipe for TiltedFront {
    const ABOUT: About = About {
        name: "tilted front waist",
        place: Chapter::Tummy,
        what: "lowers the waist at the centre front where the waistband dips",
        amount: "how much the centre front is lowered, faded to nothing at the side seam",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Lowers the centre front along its own line, faded smoothly to nothing at the side seam.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        bench.lower_waist(FRONT, 0.0, self.amount)?;
        bench.hold_waist(FRONT)?;
        bench.promise(FRONT, &[INSEAM, HEM, SIDE]);
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
