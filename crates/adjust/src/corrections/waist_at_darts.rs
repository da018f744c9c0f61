//! Waist at the darts: the waist is let out or taken in by what the darts take.

use super::bench::Bench;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Waist at the darts: the waist is let out or taken in by what the darts take.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaistAtDarts {
    /// How much larger the whole waist becomes (both legs), mm.
    pub amount: f64,
}

impl Recipe for WaistAtDarts {
    const ABOUT: About = About {
        name: "waist at the darts",
        place: Chapter::WaistAndHip,
        what: "lets the waist out by narrower darts or takes it in by wider ones",
        amount: "how much larger the whole waist becomes (both legs)",
        range: (-16.0, 16.0),
        inverse: true,
        effect: "Opens or closes all darts of the waist by one angle a piece, their points and lengths as they are.",
        works_on: &[BACK, FRONT],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let with_darts: Vec<&str> = [BACK, FRONT]
            .into_iter()
            .filter(|p| {
                bench.piece(p).is_ok_and(|p| p.seam(WAIST).is_ok_and(|w| !w.darts.is_empty()))
            })
            .collect();
        if with_darts.is_empty() {
            return Err(ChangeError::Unknown {
                kind: "dart",
                name: "any at the waist".into(),
                known: "none; change the waist at the sides instead".into(),
            });
        }
        let share = 0.5 * self.amount / with_darts.len() as f64;
        for piece in with_darts {
            let wanted = bench.piece(piece)?.seam(WAIST)?.sewn_length() + share;
            bench.waist_by_darts(piece, wanted)?;
        }
        for piece in [BACK, FRONT] {
            bench.promise(piece, &[CROTCH, INSEAM, HEM, SIDE]);
        }
        Ok(())
    }
}
