//! Waist at the sides: the waist is let out or taken in at the side seams.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE};
use serde::{Deserialize, Serialize};

/// Waist at the sides: the waist is let out or taken in at the side seams.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaistAtSides {
    /// How much larger the whole waist becomes, a quarter at each side edge (both legs, back and front), mm.
    pub amount: f64,
}

impl Recipe for WaistAtSides {
    const ABOUT: About = About {
        name: "waist at the sides",
        place: Chapter::WaistAndHip,
        what: "lets the waist out or takes it in at the side seams, faded to nothing at the hip",
        amount: "how much larger the whole waist becomes, a quarter at each side edge (both legs, back and front)",
        range: (-60.0, 60.0),
        inverse: true,
        effect: "Moves the tops of both side seams, faded to nothing at the hip line; the side seams keep their length.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            let fade = Fade::flat(&[(levels.hip, 0.0), (levels.whole, 0.25 * self.amount)])?;
            bench.widen(piece, SIDE, &fade)?;
            bench.hold_side_at_waist(piece)?;
            bench.promise(piece, &[CROTCH, INSEAM, HEM, SIDE]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
