//! How a leg falls: its four edges moved alike, a quarter of the width at each.

use crate::corrections::bench::{Bench, tie};
use crate::corrections::shape::Fade;
use crate::{ChangeError, FlatMeasure};
use hangtrue_geometry::{Affine, Line};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, TURN_UP, WAIST};
use hangtrue_pattern::words::Length;

/// Width put in round the leg, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Widths {
    /// Round the knee.
    pub knee: f64,
    /// Round the hem.
    pub hem: f64,
}

/// Moves the edges of back and front: nothing at the crotch point, and straight from knee to
/// hem; from there up the edges fade out smoothly. Promises waist, crotch and hip.
pub(super) fn falls(bench: &mut Bench<'_>, put_in: Widths) -> Result<(), ChangeError> {
    for (piece, seam) in [(BACK, SIDE), (BACK, INSEAM), (FRONT, SIDE), (FRONT, INSEAM)] {
        let levels = bench.levels(piece)?;
        let (knee, hem) = (0.25 * put_in.knee, 0.25 * put_in.hem);
        let slope = (hem - knee) / (levels.hem - levels.knee);
        let knots =
            [(levels.crotch, 0.0, 0.0), (levels.knee, knee, slope), (levels.hem, hem, slope)];
        bench.widen(piece, seam, &Fade::sloped(&knots)?)?;
    }
    for piece in [BACK, FRONT] {
        bench.promise(piece, &[WAIST, CROTCH]);
    }
    bench.promise_measure(FlatMeasure::HipOnPaper);
    Ok(())
}

/// Round one leg at the knee and at the hem, mm.
pub(super) fn girths(bench: &Bench<'_>) -> Result<(f64, f64), ChangeError> {
    let (mut knee, mut hem) = (0.0, 0.0);
    for name in [BACK, FRONT] {
        let (piece, level) = (bench.piece(name)?, bench.levels(name)?.knee);
        knee += piece.width_along(Line::new((0.0, level), (1.0, level))).unwrap_or(0.0);
        hem += piece.seam(HEM)?.sewn_length();
    }
    Ok((knee, hem))
}

/// The leg is cut off no higher than so far below the knee, mm.
const BELOW_KNEE: f64 = 30.0;

/// Cuts side seam and inseam off at the hem, where they run.
pub(super) fn crop(bench: &mut Bench<'_>, name: &str, by: f64) -> Result<(), ChangeError> {
    let levels = bench.levels(name)?;
    let most = levels.knee - levels.hem - BELOW_KNEE;
    if by > most {
        return Err(ChangeError::OutOfReach {
            what: format!("cropping the leg of the {name} below its knee"),
            asked: Length(by),
            low: Length(0.0),
            high: Length(most.max(0.0)),
        });
    }
    let cutting = ChangeError::geometry("cropping a leg");
    let piece = bench.piece_mut(name)?;
    let side = &mut piece.seam_mut(SIDE)?.parts[0];
    let shorter = side.part(by, side.length());
    let inseam = piece.seam(INSEAM)?.parts.len() - 1;
    let last = &piece.seam(INSEAM)?.parts[inseam];
    let cut = last.part(0.0, last.length() - by);
    let (shorter, cut) = match (shorter, cut) {
        (Ok(shorter), Ok(cut)) => (shorter, cut),
        (Err(why), _) | (_, Err(why)) => return Err(cutting(why)),
    };
    piece.seam_mut(SIDE)?.parts[0] = shorter;
    piece.seam_mut(INSEAM)?.parts[inseam] = cut;
    // A turn-up stays as high above the hem.
    for line in piece.inner.iter_mut().filter(|line| line.name == TURN_UP) {
        line.chain = line.chain.moved(Affine::translate((0.0, by)));
    }
    tie(piece)
}
