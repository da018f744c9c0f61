//! Straight leg: the hem is as wide as the knee, or by so much wider.

use super::leg::{Widths, falls, girths};
use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use serde::{Deserialize, Serialize};

/// Straight leg: the hem is as wide as the knee, or by so much wider.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StraightLeg {
    /// How much wider the hem is than the knee, round the leg, mm.
    pub amount: f64,
}

impl Look for StraightLeg {
    const ABOUT: AboutStyle = AboutStyle {
        name: "straight leg",
        what: "lets the leg fall straight from the knee: the hem is as wide as the knee",
        amount: "how much wider the hem is than the knee, round the leg; nothing for one that is as wide",
        effect: "Moves the four corners of the hem until it is as wide as the knee and the amount together; the edges run straight to them from the knee.",
        range: (-40.0, 40.0),
        usual: (0.0, 0.0),
        without_amount: true,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let (knee, hem) = girths(bench)?;
        falls(bench, Widths { knee: 0.0, hem: knee + self.amount - hem })
    }
}
