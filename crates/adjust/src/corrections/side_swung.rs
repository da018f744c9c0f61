//! Side seam swung forward: the side seam hangs further to the front, the girths stay.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Side seam swung forward: the side seam hangs further to the front, the girths stay.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SideSwung {
    /// How far the side seam moves forward from the hip line down, mm.
    pub amount: f64,
}

impl Recipe for SideSwung {
    const ABOUT: About = About {
        name: "side seam swung forward",
        place: Chapter::WaistAndHip,
        what: "brings a side seam that swings to the back forward again, or with a minus one that swings to the front back",
        amount: "how far the side seam moves forward from the hip line down",
        range: (-20.0, 20.0),
        inverse: false,
        effect: "Widens the back and narrows the front at the side by the same, from nothing at the waist to the whole at the hip line and below: girths stay where they were.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for (piece, amount) in [(BACK, self.amount), (FRONT, -self.amount)] {
            let levels = bench.levels(piece)?;
            let fade = Fade::flat(&[(levels.waist, 0.0), (levels.hip, amount)])?;
            bench.widen(piece, SIDE, &fade)?;
            bench.promise(piece, &[WAIST, CROTCH, INSEAM]);
        }
        Ok(())
    }
}
