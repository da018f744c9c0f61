//! Naming pieces, seams and corners. What refers to a name follows it.

use crate::ChangeError;
use hangtrue_pattern::{Pattern, ReferenceLine};
use serde::{Deserialize, Serialize};

/// Gives a corner another name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RenameCorner {
    /// The piece.
    pub piece: String,
    /// The corner's name now.
    pub corner: String,
    /// Its new name.
    pub name: String,
}

/// Gives a seam another name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RenameSeam {
    /// The piece.
    pub piece: String,
    /// The seam's name now.
    pub seam: String,
    /// Its new name.
    pub name: String,
}

/// Gives a piece another name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RenamePiece {
    /// The piece's name now.
    pub piece: String,
    /// Its new name.
    pub name: String,
}

fn free(taken: bool, name: &str) -> Result<(), ChangeError> {
    if taken || name.trim().is_empty() {
        return Err(ChangeError::NameTaken { name: name.to_owned() });
    }
    Ok(())
}

impl RenameCorner {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        piece.corner(&self.corner)?;
        free(piece.corners().any(|c| c.0 == self.name), &self.name)?;
        for seam in piece.seams.iter_mut().filter(|s| s.starts_at == self.corner) {
            seam.starts_at.clone_from(&self.name);
        }
        let renamed = |line: &mut ReferenceLine| {
            let corners = line.rule.corners().into_iter();
            corners.filter(|c| **c == self.corner).for_each(|c| c.clone_from(&self.name));
        };
        pattern.lines.change_where(|l| l.piece == self.piece, renamed);
        Ok(())
    }
}

impl RenameSeam {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        free(piece.seams.iter().any(|s| s.name == self.name), &self.name)?;
        piece.seam_mut(&self.seam)?.name.clone_from(&self.name);
        let renamed = |seam: &mut String| {
            if *seam == self.seam {
                seam.clone_from(&self.name);
            }
        };
        piece.notches.iter_mut().for_each(|n| renamed(&mut n.seam));
        for join in &mut pattern.joins {
            for side in std::iter::once(&mut join.first).chain(join.second.as_mut()) {
                if side.piece == self.piece {
                    renamed(&mut side.seam);
                }
            }
        }
        pattern.lines.change_where(
            |l| l.piece == self.piece,
            |l| l.rule.seams().into_iter().for_each(renamed),
        );
        Ok(())
    }
}

impl RenamePiece {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        free(pattern.pieces.iter().any(|p| p.name == self.name), &self.name)?;
        pattern.piece_mut(&self.piece)?.name.clone_from(&self.name);
        let renamed = |piece: &mut String| {
            if *piece == self.piece {
                piece.clone_from(&self.name);
            }
        };
        pattern.lines.change_where(|l| l.piece == self.piece, |l| renamed(&mut l.piece));
        for join in &mut pattern.joins {
            for side in std::iter::once(&mut join.first).chain(join.second.as_mut()) {
                renamed(&mut side.piece);
            }
        }
        Ok(())
    }
}
