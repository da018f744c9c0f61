//! Full seat: length and room for a seat that stands out.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full seat: length and room for a seat that stands out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullSeat {
    /// Length put in at the centre back (half as much at the back crotch point), mm.
    pub amount: f64,
}

impl Recipe for FullSeat {
    const ABOUT: About = About {
        name: "full seat",
        place: Chapter::Seat,
        what: "adds length over the centre back and in the back crotch for a rounded seat",
        amount: "length put in at the centre back (half as much at the back crotch point)",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Raises the centre back along its own line, faded to nothing at the side seam, and moves the back crotch point out; darts slide along their legs and take what the waist would gain.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        seat_by(bench, self.amount)?;
        Ok(())
    }
}

/// Raises the centre back by `amount` mm and moves the back crotch point out by half
/// of it; a flat seat is the opposite.
pub(super) fn seat_by(bench: &mut Bench<'_>, amount: f64) -> Result<(), ChangeError> {
    bench.lower_waist(BACK, 0.0, -amount)?;
    bench.hold_waist(BACK)?;
    bench.extend_crotch_point(BACK, 0.5 * amount)?;
    bench.promise(BACK, &[SIDE, INSEAM, HEM]);
    bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
    Ok(())
}
