//! Hip on the back alone: the back alone grows or shrinks at the hip line.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE};
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
        inverse: false,
        effect: "Moves the side seam of the back at the hip line, faded to nothing at the waist and half way to the knee; what the rounder seam is longer goes off at the waist, faded to nothing at the centre, so that the front and the hem stay as they are; the darts keep the waist.",
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
        // Seams are walked from the hem up and trued at the waist (common practice, no
        // published source): the front has nothing to follow.
        let longer = bench.seam_grown(BACK, SIDE)?;
        bench.lower_waist(BACK, longer, 0.0)?;
        bench.hold_waist(BACK)?;
        bench.promise(BACK, &[SIDE, CROTCH, INSEAM, HEM]);
        Ok(())
    }
}
