//! Slim leg: the leg is narrower from the knee down.

use super::leg::{Widths, falls};
use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use serde::{Deserialize, Serialize};

/// Slim leg: the leg is narrower from the knee down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlimLeg {
    /// Width taken out round knee and hem, mm.
    pub amount: f64,
}

impl Look for SlimLeg {
    const ABOUT: AboutStyle = AboutStyle {
        name: "slim leg",
        what: "narrows the leg from the thigh down, at knee and hem alike",
        amount: "width taken out round knee and hem, a quarter at each edge",
        effect: "Moves all four edges of the leg in by the same from the knee down, faded to nothing at the crotch point.",
        range: (0.0, 80.0),
        usual: (30.0, 1.25),
        without_amount: false,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        falls(bench, Widths { knee: -self.amount, hem: -self.amount })
    }
}
