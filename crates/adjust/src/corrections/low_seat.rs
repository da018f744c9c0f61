//! Low seat: the back crotch curve is scooped lower where its ends stay.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::hook::{Hook, redraw};
use crate::{ChangeError, FlatMeasure};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};

/// Low seat: the back crotch curve is scooped lower where its ends stay.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LowSeat {
    /// How much longer the back crotch seam becomes by the scoop, mm.
    pub amount: f64,
}

impl Recipe for LowSeat {
    const ABOUT: About = About {
        name: "low seat",
        place: Chapter::Seat,
        what: "scoops the back crotch curve lower for a seat whose fullness sits low",
        amount: "how much longer the back crotch seam becomes by the scoop",
        range: (-6.0, 6.0),
        inverse: true,
        effect: "Scoops the crotch curve of the back lower between its two ends, which stay; the centre line and the direction at the crotch point stay too.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let piece = bench.piece_mut(BACK)?;
        let length = piece.seam(CROTCH)?.sewn_length() + self.amount;
        let before = Hook::of(piece)?;
        let hook = before.scooped_to_length(length, BACK)?;
        let deeper = before.farthest(&hook)?;
        if let Some(note) = redraw(piece, &hook)? {
            bench.note(note);
        }
        bench.note(words![
            "The crotch curve lies up to ",
            Length(deeper),
            if self.amount < 0.0 { " higher than it did." } else { " deeper than it did." }
        ]);
        let hip = bench.grown(&FlatMeasure::HipOnPaper);
        if let Some(lost) = hip.filter(|grown| *grown < 0.0) {
            bench.note(words![
                "The scoop takes ",
                Length(-lost),
                " of the hip at its line, whole; where the seat needs it, let the hip out at the side or on the back alone."
            ]);
        }
        bench.promise(BACK, &[WAIST, INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
