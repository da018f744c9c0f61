//! Notches and grain by hand.

use crate::ChangeError;
use hangtrue_geometry::Point;
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Grain, Notch, Pattern, PatternError};
use serde::{Deserialize, Serialize};

/// Sets a notch, or moves the one of the same name on the same seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetNotch {
    /// The piece.
    pub piece: String,
    /// The notch.
    pub notch: Notch,
}

/// Takes a notch away.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RemoveNotch {
    /// The piece.
    pub piece: String,
    /// The seam it lies on.
    pub seam: String,
    /// The notch's name.
    pub notch: String,
}

/// Draws the grain anew, from its lower to its upper end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetGrain {
    /// The piece.
    pub piece: String,
    /// Lower end, mm.
    pub from: Point,
    /// Upper end, mm.
    pub to: Point,
}

/// A grainline shorter than this gives no direction, mm.
const LEAST_GRAIN: f64 = 10.0;

impl SetNotch {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        let length = piece.seam(&self.notch.seam)?.sewn_length();
        if !(0.0..=length).contains(&self.notch.distance) {
            return Err(PatternError::PastSeamEnd {
                piece: self.piece.clone(),
                seam: self.notch.seam.clone(),
                asked: Length(self.notch.distance),
                length: Length(length),
            }
            .into());
        }
        piece.notches.retain(|n| !(n.name == self.notch.name && n.seam == self.notch.seam));
        piece.notches.push(self.notch.clone());
        Ok(())
    }
}

impl RemoveNotch {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        let before = piece.notches.len();
        let known: Vec<String> = piece.notches.iter().map(|n| n.name.clone()).collect();
        piece.notches.retain(|n| !(n.name == self.notch && n.seam == self.seam));
        if piece.notches.len() == before {
            return Err(ChangeError::Unknown {
                kind: "notch",
                name: self.notch.clone(),
                known: known.join(", "),
            });
        }
        Ok(())
    }
}

impl SetGrain {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        let length = self.from.distance(self.to);
        if !(length.is_finite() && length >= LEAST_GRAIN) {
            return Err(ChangeError::OutOfReach {
                what: "the length of the grainline".into(),
                asked: Length(length),
                low: Length(LEAST_GRAIN),
                high: Length(f64::INFINITY),
            });
        }
        piece.grain = Grain { from: self.from, to: self.to };
        Ok(())
    }
}
