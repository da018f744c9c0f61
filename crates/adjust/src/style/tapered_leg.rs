//! Tapered leg: the leg closes from the knee to the hem.

use super::leg::{Widths, falls};
use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use serde::{Deserialize, Serialize};

/// Tapered leg: the leg closes from the knee to the hem.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaperedLeg {
    /// Width taken out round the hem, mm.
    pub amount: f64,
}

impl Look for TaperedLeg {
    const ABOUT: AboutStyle = AboutStyle {
        name: "tapered leg",
        what: "closes the leg from the knee to the hem; the knee stays",
        amount: "width taken out round the hem, a quarter at each edge",
        effect: "Moves the four corners of the hem in; the edges run straight to them from the knee and turn gently above it.",
        range: (0.0, 120.0),
        usual: (40.0, 1.5),
        without_amount: false,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        falls(bench, Widths { knee: 0.0, hem: -self.amount })
    }
}
