//! Full inner thigh: room at the top of the inseam on both pieces.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full inner thigh: room at the top of the inseam on both pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThighInner {
    /// Width put in at the crotch points, half on each piece, mm.
    pub amount: f64,
}

impl Recipe for ThighInner {
    const ABOUT: About = About {
        name: "full inner thigh",
        place: Chapter::Leg,
        what: "gives width where the thighs are full at the inside",
        amount: "width put in at the crotch points, half on each piece",
        range: (-30.0, 30.0),
        inverse: true,
        effect: "Moves both crotch points out, faded to nothing at the knee; both inseams keep their length.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            bench.extend_crotch_point(piece, 0.5 * self.amount)?;
            bench.promise(piece, &[WAIST, INSEAM, HEM, SIDE]);
        }
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
