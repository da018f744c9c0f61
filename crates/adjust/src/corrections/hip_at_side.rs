//! Hip at the side: the hip is let out or taken in at the side seams.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Hip at the side: the hip is let out or taken in at the side seams.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HipAtSide {
    /// How much larger the whole hip becomes, a quarter at each side edge (both legs, back and front), mm.
    pub amount: f64,
}

impl Recipe for HipAtSide {
    const ABOUT: About = About {
        name: "hip at the side",
        place: Chapter::WaistAndHip,
        what: "lets the hip out or takes it in at the side seams between waist and thigh",
        amount: "how much larger the whole hip becomes, a quarter at each side edge (both legs, back and front)",
        range: (-50.0, 50.0),
        inverse: true,
        effect: "Moves both side seams at the hip line, faded to nothing at the waist and half way to the knee.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            let peak = (levels.hip, 0.25 * self.amount);
            let fade = Fade::flat(&[(levels.waist, 0.0), peak, (levels.flank(0.5), 0.0)])?;
            bench.widen(piece, SIDE, &fade)?;
            bench.promise(piece, &[WAIST, CROTCH, INSEAM]);
        }
        Ok(())
    }
}
