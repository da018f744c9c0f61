//! Flat seat: what hangs loose under a seat that does not fill the back is taken out.

use super::bench::Bench;
use super::full_seat::seat_by;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::BACK;
use serde::{Deserialize, Serialize};

/// Flat seat: what hangs loose under a seat that does not fill the back is taken out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlatSeat {
    /// Length taken out at the centre back (half as much at the back crotch point), mm.
    pub amount: f64,
}

impl Recipe for FlatSeat {
    const ABOUT: About = About {
        name: "flat seat",
        place: Chapter::Seat,
        what: "takes the length a flat seat does not fill out of the centre back and the back crotch, leans the centre back less and lets the darts take less",
        amount: "length taken out at the centre back (half as much at the back crotch point)",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Closes the back as a wedge across the seat would, to nothing at the side: the centre back sinks and leans less, the top of the side comes in by as much and a quarter of the amount more, which the darts give; waist and side keep their lengths. The back crotch point moves in.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        seat_by(bench, -self.amount)?;
        Ok(())
    }
}
