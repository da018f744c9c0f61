//! Flat tummy: length and width a flat belly does not fill are taken out.

use super::bench::Bench;
use super::full_tummy::tummy_by;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::FRONT;
use serde::{Deserialize, Serialize};

/// Flat tummy: length and width a flat belly does not fill are taken out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlatTummy {
    /// Length taken out at the centre front (half as much in width at the front side seam), mm.
    pub amount: f64,
}

impl Recipe for FlatTummy {
    const ABOUT: About = About {
        name: "flat tummy",
        place: Chapter::Tummy,
        what: "takes the length and width a flat tummy does not fill out of the front",
        amount: "length taken out at the centre front (half as much in width at the front side seam)",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Lowers the centre front along its own line and takes the front side seam in above the hip line; the front waist shrinks with it.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        tummy_by(bench, -self.amount)?;
        Ok(())
    }
}
