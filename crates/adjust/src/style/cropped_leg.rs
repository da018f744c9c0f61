//! Cropped leg: the leg is cut off above the ankle, along its own edges.

use super::leg::crop;
use super::{AboutStyle, Look};
use crate::corrections::bench::Bench;
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, WAIST};
use serde::{Deserialize, Serialize};

/// Cropped leg: the leg is cut off above the ankle, along its own edges.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CroppedLeg {
    /// How much shorter the seams become at the hem, mm.
    pub amount: f64,
}

impl Look for CroppedLeg {
    const ABOUT: AboutStyle = AboutStyle {
        name: "cropped leg",
        what: "cuts the leg off shorter, anywhere below the knee",
        amount: "how much shorter side seam and inseam become",
        effect: "Cuts side seam and inseam off by the amount where they run; nothing above is moved.",
        range: (0.0, 400.0),
        usual: (80.0, 3.0),
        without_amount: false,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            crop(bench, piece, self.amount)?;
            bench.promise(piece, &[WAIST, CROTCH]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
