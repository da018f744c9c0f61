//! Taper: the leg is wider or narrower at the hem, straight to the knee.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Taper: the leg is wider or narrower at the hem, straight to the knee.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HemWidth {
    /// Width put in round the hem, a quarter at each edge, mm.
    pub amount: f64,
}

impl Recipe for HemWidth {
    const ABOUT: About = About {
        name: "taper",
        place: Chapter::Length,
        what: "widens or narrows the hem; the leg runs straight to it from the knee",
        amount: "width put in round the hem, a quarter at each edge",
        range: (-80.0, 80.0),
        inverse: true,
        effect: "Moves the four corners of the hem; the edges run on straight from the knee and turn gently above it.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for (piece, seam) in [(BACK, SIDE), (BACK, INSEAM), (FRONT, SIDE), (FRONT, INSEAM)] {
            let levels = bench.levels(piece)?;
            let (by, down) = (0.25 * self.amount, levels.hem - levels.knee);
            let slope = by / down;
            let knots =
                [(levels.crotch, 0.0, 0.0), (levels.knee, 0.0, slope), (levels.hem, by, slope)];
            bench.widen(piece, seam, &Fade::sloped(&knots)?)?;
        }
        for piece in [BACK, FRONT] {
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
