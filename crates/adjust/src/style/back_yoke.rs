//! Back yoke: the top of the back is cut as a piece of its own, in which the darts are closed.

use super::{AboutStyle, Look, SecondAmount};
use crate::corrections::bench::Bench;
use crate::{ChangeError, FlatMeasure, YokeDepths, yoke_at};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST, YOKE};
use serde::{Deserialize, Serialize};

/// Back yoke: the top of the back is cut as a piece of its own, in which the darts are closed.
/// The fitted back itself stays; the line is drawn on it, and the pieces to cut are two.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BackYoke {
    /// How deep it is at the centre back, mm.
    pub amount: f64,
    /// How deep it is at the side seam, mm.
    pub at_side: f64,
}

const AT_SIDE: SecondAmount = SecondAmount {
    amount: "depth of the yoke at the side seam",
    range: (20.0, 130.0),
    usual: (60.0, 2.25),
};

impl Look for BackYoke {
    const ABOUT: AboutStyle = AboutStyle {
        name: "back yoke",
        what: "cuts the top of the back as a yoke, in which the darts are closed",
        amount: "depth of the yoke at the centre back, along the seam",
        effect: "Draws the yoke’s line on the back; nothing is moved. The pieces to cut are the yoke, its darts closed, and the back below it: what is left of a dart there goes to the side seam, and a dart that ends above is drawn on to the line.",
        range: (40.0, 170.0),
        usual: (115.0, 4.5),
        without_amount: false,
        second: Some(AT_SIDE),
    };

    fn with(amount: f64) -> Self {
        Self { amount, at_side: AT_SIDE.usual.0 }
    }

    fn second(&mut self) -> Option<&mut f64> {
        Some(&mut self.at_side)
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let depths = YokeDepths { centre: self.amount, side: self.at_side };
        // Made once, so that what cannot be cut is refused here and not under the shears.
        let yoke = yoke_at(bench.piece(BACK)?, depths)?;
        let piece = bench.piece_mut(BACK)?;
        piece.inner.retain(|line| line.name != YOKE);
        piece.inner.push(yoke.on_paper);
        for name in [BACK, FRONT] {
            bench.promise(name, &[WAIST, SIDE, CROTCH, INSEAM, HEM]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        for note in yoke.notes {
            bench.note(note);
        }
        Ok(())
    }
}
