//! Centre back let out: the waist grows at the centre back, fading towards the seat.

use super::bench::{Bench, tie};
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use crate::hook::Hook;
use hangtrue_geometry::turned;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Centre back let out: the waist grows at the centre back, fading towards the seat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CentreBackWaist {
    /// How far the top of the centre back goes out, mm.
    pub amount: f64,
}

impl Recipe for CentreBackWaist {
    const ABOUT: About = About {
        name: "centre back let out",
        place: Chapter::WaistAndHip,
        what: "lets the waist out at the centre back seam, or takes it in with a minus",
        amount: "how far the top of the centre back goes out; the whole waist grows by twice that",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Turns the centre line of the back about the corner its curve runs round; the crotch point stays and the waist stays square to the centre.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        centre_back_out(bench, self.amount)?;
        bench.promise(BACK, &[INSEAM, HEM, SIDE]);
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}

/// Moves the top of the centre back away from the side by `out` mm: the centre line is
/// turned about the corner its curve runs round, and the waist stays square to it.
pub(super) fn centre_back_out(bench: &mut Bench<'_>, out: f64) -> Result<(), ChangeError> {
    let side = bench.outward(BACK, SIDE)?;
    let piece = bench.piece_mut(BACK)?;
    let hook = Hook::of(piece)?;
    let angle = side * out / hook.height();
    piece.seam_mut(CROTCH)?.parts = vec![hook.leaned(angle).chain()?];
    tie(piece)?;
    if let Some(part) = piece.seam_mut(WAIST)?.parts.last_mut() {
        *part = part.aimed(part.start_direction(), turned(part.end_direction(), angle));
    }
    Ok(())
}
