//! Knock knee: the leg swings inwards from the crotch down.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use super::shape::Fade;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, WAIST};
use serde::{Deserialize, Serialize};

/// Knock knee: the leg swings inwards from the crotch down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnockKnee {
    /// How far knee and hem move towards the inseam, mm.
    pub amount: f64,
}

impl Recipe for KnockKnee {
    const ABOUT: About = About {
        name: "knock knee",
        place: Chapter::Leg,
        what: "swings the leg towards the inseam where the knees stand near together and the leg breaks at the outside",
        amount: "how far knee and hem move towards the inseam",
        range: (-25.0, 25.0),
        inverse: true,
        effect: "Moves side seam and inseam of both pieces the same way, from nothing at the crotch point to the whole at the knee and below, and the grain line, which is the crease, with them: the leg keeps its width and the crease halves knee and hem.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        leg_inwards(bench, self.amount)?;
        Ok(())
    }
}

/// Moves the leg from the knee down by `amount` mm towards the inseam, faded to
/// nothing at the crotch point, and the crease with it, so that it halves knee and hem
/// again; a bow leg is the opposite.
pub(super) fn leg_inwards(bench: &mut Bench<'_>, amount: f64) -> Result<(), ChangeError> {
    for piece in [BACK, FRONT] {
        let levels = bench.levels(piece)?;
        bench.swing(piece, &Fade::flat(&[(levels.crotch, 0.0), (levels.knee, amount)])?)?;
        bench.shift_grain(piece, amount)?;
        bench.promise(piece, &[WAIST, CROTCH]);
    }
    bench.promise_measure(FlatMeasure::HipOnPaper);
    Ok(())
}
