//! Back crotch length: the crotch seam gets longer at the crotch point.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_geometry::bracketed_root;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Back crotch length: the crotch seam gets longer at the crotch point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrotchLengthBack {
    /// How much longer the back crotch seam becomes, mm.
    pub amount: f64,
}

impl Recipe for CrotchLengthBack {
    const ABOUT: About = About {
        name: "back crotch length",
        place: Chapter::Crotch,
        what: "lets the crotch seam of the back out at the crotch point, where the body is deeper from front to back there",
        amount: "how much longer the back crotch seam becomes",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Moves the back crotch point out along the crotch curve until the crotch seam has grown by the amount; the inseam swings out at its top, fades to nothing at the knee and keeps its length.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        crotch_longer(bench, BACK, self.amount)?;
        bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}

/// Moves the crotch point of a piece out until its crotch seam is longer by exactly
/// `amount` mm; the inseam keeps its length.
pub(super) fn crotch_longer(
    bench: &mut Bench<'_>,
    piece: &str,
    amount: f64,
) -> Result<(), ChangeError> {
    let wanted = bench.piece(piece)?.seam(CROTCH)?.sewn_length() + amount;
    let mut fault = None;
    let miss = |out: f64| {
        let tried: Result<f64, ChangeError> = bench.tried(|b| {
            b.extend_crotch_point(piece, out)?;
            Ok(b.piece(piece)?.seam(CROTCH)?.sewn_length() - wanted)
        });
        tried.unwrap_or_else(|why| {
            fault = Some(why);
            f64::NAN
        })
    };
    let (a, b) = (0.25 * amount, 3.0 * amount);
    let found = bracketed_root(miss, a.min(b), a.max(b), 1e-11);
    let out = match (found, fault) {
        (Ok(out), None) => out,
        (_, Some(why)) => return Err(why),
        (Err(source), None) => {
            return Err(ChangeError::Geometry {
                what: format!("bringing the crotch seam of the {piece} to its length"),
                source,
            });
        }
    };
    bench.extend_crotch_point(piece, out)?;
    bench.promise(piece, &[WAIST, INSEAM, HEM, SIDE]);
    Ok(())
}
