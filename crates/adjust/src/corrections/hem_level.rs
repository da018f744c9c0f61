//! Hem level: the leg is cut longer or shorter along its seams.

use super::bench::Bench;
use super::bench::slide_end;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::End;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Hem level: the leg is cut longer or shorter along its seams.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HemLevel {
    /// How much longer the seams become at the hem, mm.
    pub amount: f64,
}

impl Recipe for HemLevel {
    const ABOUT: About = About {
        name: "hem level",
        place: Chapter::Length,
        what: "lengthens or shortens the leg at the hem, along the seams as they run",
        amount: "how much longer the seams become at the hem",
        range: (-60.0, 60.0),
        inverse: true,
        effect: "Runs side seam and inseam on (or back) along their own direction at the hem.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            for (seam, end) in [(SIDE, End::Start), (INSEAM, End::End)] {
                let piece = bench.piece_mut(piece)?;
                let wanted = piece.seam(seam)?.sewn_length() + self.amount;
                slide_end(piece, seam, end, wanted)?;
            }
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
