//! Knock knee: the leg swings inwards from the crotch down.

use super::bench::Bench;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_geometry::bracketed_root;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, INSEAM, SIDE, WAIST};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};

/// Knock knee: the leg swings inwards from the crotch down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnockKnee {
    /// How far knee and hem move towards the inseam, mm.
    pub amount: f64,
}

impl Recipe for KnockKnee {
    const ABOUT: About = About {
        name: "knock knee",
        place: Chapter::Leg,
        what: "swings the leg towards the inseam where the knees stand near together and the leg breaks at the outside",
        amount: "how far knee and hem move towards the inseam",
        range: (-25.0, 25.0),
        inverse: true,
        effect: "Moves side seam and inseam of both pieces the same way, from nothing at the crotch point to the whole at the knee and below, and the grain line, which is the crease, with them: the leg keeps its width, the crease halves knee and hem, and the hem stays square: for that the crotch points of back and front move apart by a little along the grain.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        leg_inwards(bench, self.amount)?;
        Ok(())
    }
}

/// Each fork moves by no more than this share of what is missing; half is about what it takes.
const MOST: f64 = 0.75;

/// Accuracy of the forks' move, mm.
const EXACT: f64 = 1e-12;

/// Moves the leg from the knee down by `amount` mm towards the inseam, faded to
/// nothing at the crotch point, and the crease with it, so that it halves knee and hem
/// again; a bow leg is the opposite. The inseams then differ by another length than the side
/// seams, as the forks do not slope alike; matched at the hem that would tilt it. So the back's
/// crotch point goes up and the front's down by as much (or the other way) as leaves the hem
/// square.
pub(super) fn leg_inwards(bench: &mut Bench<'_>, amount: f64) -> Result<(), ChangeError> {
    for piece in [BACK, FRONT] {
        let levels = bench.levels(piece)?;
        bench.swing(piece, &Fade::flat(&[(levels.crotch, 0.0), (levels.knee, amount)])?)?;
        bench.shift_grain(piece, amount)?;
        bench.promise(piece, &[WAIST, CROTCH]);
    }
    square_hem(bench)?;
    Ok(())
}

/// Moves the crotch points apart along the grain until inseam and side seam of the front lack
/// one length against the back's, which is then given at the hem.
fn square_hem(bench: &mut Bench<'_>) -> Result<(), ChangeError> {
    let lacks = |bench: &Bench<'_>, seam: &str| -> Result<f64, ChangeError> {
        Ok(bench.seam_grown(BACK, seam)? - bench.seam_grown(FRONT, seam)?)
    };
    let apart = lacks(bench, SIDE)? - lacks(bench, INSEAM)?;
    if apart.abs() < EXACT {
        return Ok(());
    }
    let tilt = |up: f64| {
        let tried = bench.tried(|bench| {
            raise_back_fork(bench, up)?;
            Ok(lacks(bench, SIDE)? - lacks(bench, INSEAM)?)
        });
        tried.unwrap_or(f64::NAN)
    };
    let up = bracketed_root(tilt, (MOST * apart).min(0.0), (MOST * apart).max(0.0), EXACT)
        .map_err(|_| ChangeError::NoSquareHem)?;
    raise_back_fork(bench, up)?;
    let (way, other) = if up > 0.0 { ("up", "down") } else { ("down", "up") };
    bench.note(words![
        format!("The crotch point of the back goes {way} and that of the front {other} by "),
        Length(up.abs()),
        ", so that the inseams match and the hem stays square to the grain."
    ]);
    Ok(())
}

fn raise_back_fork(bench: &mut Bench<'_>, up: f64) -> Result<(), ChangeError> {
    bench.raise_crotch_point(BACK, up)?;
    bench.raise_crotch_point(FRONT, -up)
}
