//! Rise: the waist of the trousers lies higher or lower on the body.

use super::{AboutStyle, Look};
use crate::ChangeError;
use crate::corrections::bench::Bench;
use crate::corrections::raise_waist;
use serde::{Deserialize, Serialize};

/// Rise: the waist of the trousers lies higher or lower on the body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rise {
    /// How much higher the waist lies, mm.
    pub amount: f64,
}

impl Look for Rise {
    const ABOUT: AboutStyle = AboutStyle {
        name: "rise",
        what: "lets the waist of the trousers lie higher or lower on the body",
        amount: "how much higher the waist lies; a minus for lower",
        effect: "Cuts the whole waist lower, or draws it on higher, along side and centre seams; darts slide along their legs.",
        range: (-90.0, 40.0),
        usual: (-30.0, -1.25),
        without_amount: false,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        raise_waist(
            bench,
            self.amount,
            ", whole, where it lies now: measure the body there before it is cut.",
        )
    }
}
