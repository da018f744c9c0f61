//! High hip: the waist is raised at the side over a hip that stands high.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM};
use serde::{Deserialize, Serialize};

/// High hip: the waist is raised at the side over a hip that stands high.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HighHip {
    /// How much the waist is raised at the side seam, mm.
    pub amount: f64,
}

impl Recipe for HighHip {
    const ABOUT: About = About {
        name: "high hip",
        place: Chapter::WaistAndHip,
        what: "raises the waist at the side seam, faded to nothing at the centre (both sides of the body until left and right are apart)",
        amount: "how much the waist is raised at the side seam",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Raises back and front along the side seam, faded smoothly to nothing at the centre; darts slide along their legs.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            bench.lower_waist(piece, -self.amount, 0.0)?;
            bench.hold_waist(piece)?;
            bench.promise(piece, &[CROTCH, INSEAM, HEM]);
        }
        Ok(())
    }
}
