//! Waist height: the whole waist is cut higher or lower.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, FRONT, HEM, INSEAM};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};

/// Waist height: the whole waist is cut higher or lower.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaistHeight {
    /// How much higher the waist lies, mm.
    pub amount: f64,
}

impl Recipe for WaistHeight {
    const ABOUT: About = About {
        name: "waist height",
        place: Chapter::WaistAndHip,
        what: "raises or lowers the waist all round along side and centre seams",
        amount: "how much higher the waist lies",
        range: (-30.0, 30.0),
        inverse: true,
        effect: "Moves the whole waist along the side and centre seams, which become that much longer or shorter; darts slide along their legs.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        raise_waist(
            bench,
            self.amount,
            ", whole, for the seams run on as they lean. Measure the body where the waist is to lie now, and bring the waist to that at sides or darts.",
        )
    }
}

/// Raises the whole waist by `amount` mm along side and centre seams; by how much it grows is
/// told, with what that means.
pub(crate) fn raise_waist(
    bench: &mut Bench<'_>,
    amount: f64,
    meaning: &'static str,
) -> Result<(), ChangeError> {
    for piece in [BACK, FRONT] {
        bench.lower_waist(piece, -amount, -amount)?;
        bench.promise(piece, &[INSEAM, HEM]);
    }
    if let Some(grown) = bench.grown(&FlatMeasure::Waist) {
        let way = if grown < 0.0 { " smaller" } else { " larger" };
        bench.note(words!["The waist is ", Length(grown.abs()), way, meaning]);
    }
    bench.promise_measure(FlatMeasure::HipOnPaper);
    bench.promise_measure(FlatMeasure::KNEE);
    Ok(())
}
