//! Front pleat: width is put in at the front of the waist, from nothing at the knee, and
//! laid in a pleat.

use super::pleats::laid_in_pleats;
use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use serde::{Deserialize, Serialize};

/// Front pleat: width is put in at the front of the waist, from nothing at the knee, and
/// laid in a pleat. A dart that is there becomes part of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontPleat {
    /// Width put in at the waist of each front, mm.
    pub amount: f64,
}

impl Look for FrontPleat {
    const ABOUT: AboutStyle = AboutStyle {
        name: "front pleat",
        what: "puts a pleat in the front, from the waist to nothing at the knee",
        amount: "width put in at the waist of each front; a dart there is laid into the pleat with it",
        effect: "Moves the side of the front out, from nothing at the knee to the amount at the waist, and lays what that gives in a pleat on the crease, or where the dart was. By nothing the dart alone becomes the pleat. The waist as it is sewn stays.",
        range: (0.0, 60.0),
        usual: (30.0, 1.25),
        without_amount: true,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        laid_in_pleats(bench, Self::ABOUT.name, (self.amount, &[1.0]))
    }
}
