//! Full tummy: length and width over a belly that stands out.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full tummy: length and width over a belly that stands out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullTummy {
    /// Length put in at the centre front (half as much in width at the front side seam), mm.
    pub amount: f64,
}

impl Recipe for FullTummy {
    const ABOUT: About = About {
        name: "full tummy",
        place: Chapter::Tummy,
        what: "adds length at the centre front and width at the front side seam for a full tummy",
        amount: "length put in at the centre front (half as much in width at the front side seam)",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Raises the centre front along its own line and lets the front side seam out above the hip line; the front waist grows, to be eased or taken by a dart.",
        works_on: &[FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        tummy_by(bench, self.amount)?;
        Ok(())
    }
}

/// Raises the centre front by `amount` mm and lets the front side seam out at the
/// waist by half of it; a flat tummy is the opposite.
pub(super) fn tummy_by(bench: &mut Bench<'_>, amount: f64) -> Result<(), ChangeError> {
    bench.lower_waist(FRONT, 0.0, -amount)?;
    let levels = bench.levels(FRONT)?;
    let fade = Fade::flat(&[(levels.hip, 0.0), (levels.whole, 0.5 * amount)])?;
    bench.widen(FRONT, SIDE, &fade)?;
    bench.hold_side_at_waist(FRONT)?;
    bench.promise(FRONT, &[INSEAM, HEM, SIDE]);
    bench.promise(BACK, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
    Ok(())
}
