//! Putting a dart into a seam by hand, and taking one out.

use super::outline::cut;
use crate::ChangeError;
use crate::waist::fair_over_dart;
use hangtrue_geometry::{Vec2, turn_about};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Dart, End, Fold, Pattern};
use serde::{Deserialize, Serialize};

/// Puts a dart into a seam: its mouth is cut out of the edge, so the sewn seam
/// gets shorter by about the intake.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AddDart {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Name of the dart.
    pub name: String,
    /// Sewn distance of its middle from the start of the seam, mm.
    pub at: f64,
    /// Width of its mouth, mm.
    pub intake: f64,
    /// Length of its legs, mm.
    pub length: f64,
    /// Which way it is pressed.
    pub fold: Fold,
}

/// Takes a dart out; the edge is drawn across its mouth.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RemoveDart {
    /// The piece.
    pub piece: String,
    /// The dart.
    pub dart: String,
}

impl AddDart {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        if piece.darts().any(|d| d.2.name == self.name) {
            return Err(ChangeError::NameTaken { name: self.name.clone() });
        }
        let face = piece.orientation();
        let seam = piece.seam_mut(&self.seam)?;
        let middle = seam.place(End::Start, self.at);
        let (part, before, _) = cut(seam, &self.piece, self.at - self.intake / 2.0)?;
        let (same, _, after) = cut(seam, &self.piece, self.at + self.intake / 2.0)?;
        if part != same || self.intake <= 0.0 || self.length <= self.intake {
            return Err(ChangeError::OutOfReach {
                what: format!("the intake of the {}", self.name),
                asked: Length(self.intake),
                low: Length(0.0),
                high: Length(self.length.min(seam.parts[middle.part].length())),
            });
        }
        let (a, b) = (before.end(), after.start());
        let along = (b - a).normalize();
        let inward = Vec2::new(-along.y, along.x) * face;
        let half = a.distance(b) / 2.0;
        let apex = a.midpoint(b) + inward * (self.length * self.length - half * half).sqrt();
        seam.parts.splice(part..=part, [before, after]);
        seam.darts.insert(part, Dart { name: self.name.clone(), apex, fold: self.fold });
        fair_over_dart(seam, part);
        Ok(())
    }
}

impl RemoveDart {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        let (seam, index) = piece.dart(&self.dart)?;
        let (name, apex) = (seam.name.clone(), seam.darts[index].apex);
        // Half of the mouth is given back to each side, about the apex, so that
        // the two edges meet where the fold was.
        let turn = seam.closing_turn(index) / 2.0;
        let seam = piece.seam_mut(&name)?;
        let first = &seam.parts[index];
        let second = &seam.parts[index + 1];
        let meet = turn_about(apex, -turn) * first.end();
        let first = first.with_ends(first.start(), meet);
        let second = second.with_ends(meet, second.end());
        let joined = first
            .then(&second)
            .map_err(ChangeError::geometry(format!("closing the {name} over the dart")))?;
        seam.parts.splice(index..=index + 1, [joined]);
        seam.darts.remove(index);
        Ok(())
    }
}
