//! Two front pleats: width is put in at the front of the waist and laid in a pleat on the
//! crease and a smaller one between it and the side.

use super::pleats::laid_in_pleats;
use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use serde::{Deserialize, Serialize};

/// Two front pleats: width is put in at the front of the waist, from nothing at the knee, and
/// laid in a pleat on the crease and a smaller one between it and the side. Darts that are
/// there become part of them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TwoFrontPleats {
    /// Width put in at the waist of each front, both pleats together, mm.
    pub amount: f64,
}

/// What each pleat takes of the width put in, the one on the crease first. Common practice,
/// no published source; the numbers are ours.
const SHARES: [f64; 2] = [0.6, 0.4];

impl Look for TwoFrontPleats {
    const ABOUT: AboutStyle = AboutStyle {
        name: "two front pleats",
        what: "puts two pleats in the front, from the waist to nothing at the knee",
        amount: "width put in at the waist of each front for both; darts there are laid into the pleats with it",
        effect: "Moves the side of the front out, from nothing at the knee to the amount at the waist, and lays what that gives in a pleat on the crease, or where the dart was, and a smaller one half way from there to the side. By nothing two darts alone become the pleats. The waist as it is sewn stays.",
        range: (0.0, 90.0),
        usual: (50.0, 2.0),
        without_amount: true,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        laid_in_pleats(bench, Self::ABOUT.name, (self.amount, &SHARES))
    }
}
