//! Hip on the back alone: the back alone grows or shrinks at the hip line.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Hip on the back alone: the back alone grows or shrinks at the hip line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HipAtBack {
    /// How much wider each back becomes at the hip line, mm.
    pub amount: f64,
}

impl Recipe for HipAtBack {
    const ABOUT: About = About {
        name: "hip on the back alone",
        place: Chapter::WaistAndHip,
        what: "lets the hip out or takes it in at the back’s side seam alone",
        amount: "how much wider each back becomes at the hip line",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Moves the side seam of the back at the hip line, faded to nothing at the waist and half way to the knee; the front stays but for the hem’s end, which follows the seam’s length: both sides come out longer or shorter at the hem, which no longer lies square: true it when the walk says so.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let levels = bench.levels(BACK)?;
        let peak = (levels.hip, self.amount);
        let fade = Fade::flat(&[(levels.waist, 0.0), peak, (levels.flank(0.5), 0.0)])?;
        bench.widen(BACK, SIDE, &fade)?;
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM]);
        Ok(())
    }
}
