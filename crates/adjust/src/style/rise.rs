//! Rise: the waist of the trousers lies higher or lower on the body.

use super::{AboutStyle, Look};
use crate::corrections::bench::Bench;
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, FRONT, HEM, INSEAM};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
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
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            bench.lower_waist(piece, -self.amount, -self.amount)?;
            bench.promise(piece, &[INSEAM, HEM]);
        }
        if let Some(grown) = bench.grown(&FlatMeasure::Waist) {
            let way = if grown < 0.0 { " smaller" } else { " larger" };
            bench.note(words![
                "The waist is ",
                Length(grown.abs()),
                way,
                ", whole, where it lies now: measure the body there before it is cut."
            ]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        bench.promise_measure(FlatMeasure::KNEE);
        Ok(())
    }
}
