//! Seat seam out and side in: the centre back leans less and the waist keeps its place.

use super::bench::Bench;
use super::centre_back_waist::centre_back_out;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Seat seam out and side in: the centre back leans less and the waist keeps its place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeanToSide {
    /// How far the top of the centre back goes out and the top of the side comes in, mm.
    pub amount: f64,
}

impl Recipe for LeanToSide {
    const ABOUT: About = About {
        name: "seat seam out and side in",
        place: Chapter::Seat,
        what: "leans the centre back less where surplus hangs below the seat when standing",
        amount: "how far the top of the seat seam goes out and the top of the back’s side comes in",
        range: (-15.0, 15.0),
        inverse: true,
        effect: "Turns the centre line of the back outward about the corner its curve runs round and brings the top of the back’s side seam in by as much, faded to nothing at the hip line; the darts keep the waist exact.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        centre_back_out(bench, self.amount)?;
        let levels = bench.levels(BACK)?;
        let fade = Fade::flat(&[(levels.hip, 0.0), (levels.whole, -self.amount)])?;
        bench.widen(BACK, SIDE, &fade)?;
        bench.hold_side_at_waist(BACK)?;
        bench.hold_waist(BACK)?;
        bench.promise(BACK, &[INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
