//! Centre back lean: the centre seam of the back leans more or less.

use super::bench::Bench;
use super::centre_back_waist::centre_back_out;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Centre back lean: the centre seam of the back leans more or less.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CentreLean {
    /// How far the top of the centre back moves towards the side seam, mm.
    pub amount: f64,
}

impl Recipe for CentreLean {
    const ABOUT: About = About {
        name: "centre back lean",
        place: Chapter::Seat,
        what: "leans the centre back more for a seat that stands out, less for a flat one",
        amount: "how far the top of the centre back moves towards the side seam",
        range: (-12.0, 12.0),
        inverse: true,
        effect: "Turns the centre line of the back about the corner its crotch curve runs round; the crotch point stays, the waist stays square to the centre and keeps its length by the darts.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        centre_back_out(bench, -self.amount)?;
        bench.hold_waist(BACK)?;
        bench.promise(BACK, &[INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
