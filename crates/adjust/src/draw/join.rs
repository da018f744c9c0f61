//! Saying which seam sews to which.

use crate::ChangeError;
use crate::truing::find_join;
use hangtrue_pattern::{Join, Pattern};
use serde::{Deserialize, Serialize};

/// Declares a join, or replaces the one of the same name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sew {
    /// The join.
    pub join: Join,
}

/// Takes a join away.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unsew {
    /// The join's name.
    pub join: String,
}

impl Sew {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        pattern.joins.retain(|j| j.name != self.join.name);
        for side in self.join.sides() {
            pattern.piece(&side.piece)?.seam(&side.seam)?;
            let sewn = pattern.joins_of(&side.piece, &side.seam).next();
            if let Some(other) = sewn {
                return Err(ChangeError::NoMate {
                    piece: side.piece.clone(),
                    seam: side.seam.clone(),
                    why: format!("is already sewn in the {}", other.name),
                });
            }
        }
        pattern.joins.push(self.join.clone());
        Ok(())
    }
}

impl Unsew {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        find_join(pattern, &self.join)?;
        pattern.joins.retain(|j| j.name != self.join);
        Ok(())
    }
}
