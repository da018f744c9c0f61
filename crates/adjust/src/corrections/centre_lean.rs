//! Centre back lean: the centre seam of the back leans more or less.

use super::bench::Bench;
use super::{About, Recipe};
use crate::ChangeError;
use super::bench::tie;
use crate::hook::Hook;
use hangtrue_geometry::turned;
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

    fn amount(&self) -> f64 {
        self.amount
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let side = bench.outward(BACK, SIDE)?;
        let piece = bench.piece_mut(BACK)?;
        let hook = Hook::of(piece)?;
        let angle = -side * self.amount / hook.height();
        piece.seam_mut(CROTCH)?.parts = vec![hook.leaned(angle).chain()?];
        tie(piece)?;
        // The waist stays square to the centre seam.
        if let Some(part) = piece.seam_mut(WAIST)?.parts.last_mut() {
            *part = part.aimed(part.start_direction(), turned(part.end_direction(), angle));
        }
        bench.hold_waist(BACK)?;
        bench.promise(BACK, &[INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
