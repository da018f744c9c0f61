//! Crotch depth: the crotch hangs lower or higher on both pieces.

use super::bench::Bench;
use super::shape::Stretch;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use crate::hook::Hook;
use hangtrue_geometry::Vec2;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, WAIST};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};

/// Crotch depth: the crotch hangs lower or higher on both pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrotchDepth {
    /// How much deeper the crotch hangs; the leg moves down with it, mm.
    pub amount: f64,
}

impl Recipe for CrotchDepth {
    const ABOUT: About = About {
        name: "crotch depth",
        place: Chapter::Crotch,
        what: "lowers the crotch where the rise is too short and cuts in, or raises it where it hangs low",
        amount: "how much deeper the crotch hangs; the leg moves down with it",
        range: (-25.0, 25.0),
        inverse: true,
        effect: "Lets the paper grow between hip line and crotch point on both pieces; the crotch curve slides down the centre line and the whole leg moves with it.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for piece in [BACK, FRONT] {
            let levels = bench.levels(piece)?;
            let band = Stretch::new(levels.hip, levels.crotch, self.amount)?;
            let laid = bench.piece_mut(piece)?;
            let hook = Hook::of(laid)?.with_point_moved(Vec2::new(0.0, -self.amount), piece)?;
            bench.piece_mut(piece)?.seam_mut(CROTCH)?.parts = vec![hook.chain()?];
            // The inseam meets the new crotch point once the paper below has moved.
            bench.stretch(piece, band)?;
            bench.promise(piece, &[WAIST, INSEAM]);
        }
        let (way, other) =
            if self.amount < 0.0 { (" higher", "longer") } else { (" lower", "shorter") };
        bench.note(words![
            "Knee and hem lie ",
            Length(self.amount.abs()),
            way,
            " with the crotch, and the inseam keeps its length. Where the hem is to stay at its height from the floor, make the leg that much ",
            other,
            "."
        ]);
        Ok(())
    }
}
