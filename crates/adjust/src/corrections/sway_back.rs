//! Sway back: the waist tilts down at the back.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Sway back: the waist tilts down at the back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwayBack {
    /// How much the centre back is lowered, faded to nothing at the side seam, mm.
    pub amount: f64,
}

impl Recipe for SwayBack {
    const ABOUT: About = About {
        name: "sway back",
        place: Chapter::WaistAndHip,
        what: "takes out the fold that lies across under the back waist when the waist tilts",
        amount: "how much the centre back is lowered, faded to nothing at the side seam",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Lowers the centre back along its own line, faded smoothly to nothing at the side seam; darts slide along their legs.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        bench.lower_waist(BACK, 0.0, self.amount)?;
        bench.hold_waist(BACK)?;
        bench.promise(BACK, &[INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
