//! Front crotch length: the crotch seam gets longer at the crotch point.

use super::bench::Bench;
use super::crotch_length_back::crotch_longer;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Front crotch length: the crotch seam gets longer at the crotch point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrotchLengthFront {
    /// How much longer the front crotch seam becomes, mm.
    pub amount: f64,
}

impl Recipe for CrotchLengthFront {
    const ABOUT: About = About {
        name: "front crotch length",
        place: Chapter::Crotch,
        what: "lets the crotch seam of the front out at the crotch point, where the body is deeper from front to back there",
        amount: "how much longer the front crotch seam becomes",
        range: (-12.0, 12.0),
        inverse: true,
        effect: "Moves the front crotch point out along the crotch curve until the crotch seam has grown by the amount; the inseam swings out at its top, fades to nothing at the knee and keeps its length.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        crotch_longer(bench, FRONT, self.amount)?;
        bench.promise(BACK, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
