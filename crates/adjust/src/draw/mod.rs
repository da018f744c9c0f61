//! Drawing by hand: one step of the pencil each. The outline stays closed,
//! because corners are shared and every edit of a seam keeps its two ends or moves
//! its neighbours with them.

mod dart;
mod join;
mod marks;
mod names;
mod outline;
#[cfg(test)]
mod tests;

pub use dart::{AddDart, RemoveDart};
pub use join::{Sew, Unsew};
pub use marks::{RemoveNotch, SetGrain, SetNotch};
pub use names::{RenameCorner, RenamePiece, RenameSeam};
pub use outline::{
    BendSegment, Handle, InsertPoint, MoveCorner, MoveHandle, MovePoint, RemovePoint, SplitSeam,
};

use crate::one_leg::Named;
use crate::take::changed_measures;
use crate::{ChangeError, Outcome};
use hangtrue_pattern::Pattern;
use serde::{Deserialize, Serialize};

/// One step of drawing by hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Draw {
    /// A corner is moved; the seams that meet there follow.
    MoveCorner(MoveCorner),
    /// A point within a seam is moved.
    MovePoint(MovePoint),
    /// A handle of a curve is moved.
    MoveHandle(MoveHandle),
    /// A point is set on a seam; the shape stays.
    InsertPoint(InsertPoint),
    /// A point within a seam is taken away.
    RemovePoint(RemovePoint),
    /// A straight segment is made a curve, or a curve straight.
    BendSegment(BendSegment),
    /// A seam is split at a new corner.
    SplitSeam(SplitSeam),
    /// A dart is put into a seam.
    AddDart(AddDart),
    /// A dart is taken out and the seam closed over it.
    RemoveDart(RemoveDart),
    /// A notch is set, or moved.
    SetNotch(SetNotch),
    /// A notch is taken away.
    RemoveNotch(RemoveNotch),
    /// The grain is drawn anew.
    SetGrain(SetGrain),
    /// A corner gets another name.
    RenameCorner(RenameCorner),
    /// A seam gets another name.
    RenameSeam(RenameSeam),
    /// A piece gets another name.
    RenamePiece(RenamePiece),
    /// Two seams are declared to be sewn together.
    Sew(Sew),
    /// A join is taken away.
    Unsew(Unsew),
}

impl Draw {
    /// Applies the step.
    ///
    /// # Errors
    /// [`ChangeError`] when what it names is not there, or the outline would break.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let mut after = pattern.clone();
        match self {
            Self::MoveCorner(e) => e.apply(&mut after),
            Self::MovePoint(e) => e.apply(&mut after),
            Self::MoveHandle(e) => e.apply(&mut after),
            Self::InsertPoint(e) => e.apply(&mut after),
            Self::RemovePoint(e) => e.apply(&mut after),
            Self::BendSegment(e) => e.apply(&mut after),
            Self::SplitSeam(e) => e.apply(&mut after),
            Self::AddDart(e) => e.apply(&mut after),
            Self::RemoveDart(e) => e.apply(&mut after),
            Self::SetNotch(e) => e.apply(&mut after),
            Self::RemoveNotch(e) => e.apply(&mut after),
            Self::SetGrain(e) => e.apply(&mut after),
            Self::RenameCorner(e) => e.apply(&mut after),
            Self::RenameSeam(e) => e.apply(&mut after),
            Self::RenamePiece(e) => e.apply(&mut after),
            Self::Sew(e) => e.apply(&mut after),
            Self::Unsew(e) => e.apply(&mut after),
        }?;
        after.check().map_err(ChangeError::BreaksPattern)?;
        let changed = changed_measures(pattern, &after);
        Ok(Outcome { changed, ..Outcome::plain(after) })
    }

    /// What the step names of the pattern.
    pub(crate) fn named(&self) -> Vec<Named<'_>> {
        let piece = match self {
            Self::MoveCorner(e) => &e.piece,
            Self::MovePoint(e) => &e.piece,
            Self::MoveHandle(e) => &e.piece,
            Self::InsertPoint(e) => &e.piece,
            Self::RemovePoint(e) => &e.piece,
            Self::BendSegment(e) => &e.piece,
            Self::SplitSeam(e) => &e.piece,
            Self::AddDart(e) => &e.piece,
            Self::RemoveDart(e) => &e.piece,
            Self::SetNotch(e) => &e.piece,
            Self::RemoveNotch(e) => &e.piece,
            Self::SetGrain(e) => &e.piece,
            Self::RenameCorner(e) => &e.piece,
            Self::RenameSeam(e) => &e.piece,
            Self::RenamePiece(e) => &e.piece,
            Self::Sew(e) => return e.join.sides().map(|s| Named::Piece(&s.piece)).collect(),
            Self::Unsew(e) => return vec![Named::Join(&e.join)],
        };
        vec![Named::Piece(piece)]
    }

    /// The step in a few words.
    pub fn words(&self) -> String {
        match self {
            Self::MoveCorner(e) => format!("Move the {} of the {}", e.corner, e.piece),
            Self::MovePoint(e) => format!("Move a point of the {} of the {}", e.seam, e.piece),
            Self::MoveHandle(e) => format!("Reshape the {} of the {}", e.seam, e.piece),
            Self::InsertPoint(e) => format!("Set a point on the {} of the {}", e.seam, e.piece),
            Self::RemovePoint(e) => format!("Take a point off the {} of the {}", e.seam, e.piece),
            Self::BendSegment(e) => {
                let shape = if e.curved { "curved" } else { "straight" };
                format!("Make the {} of the {} {shape} there", e.seam, e.piece)
            }
            Self::SplitSeam(e) => format!("Split the {} of the {}", e.seam, e.piece),
            Self::AddDart(e) => {
                format!("Put the {} into the {} of the {}", e.name, e.seam, e.piece)
            }
            Self::RemoveDart(e) => format!("Take the {} out of the {}", e.dart, e.piece),
            Self::SetNotch(e) => format!("Set the notch {} on the {}", e.notch.name, e.piece),
            Self::RemoveNotch(e) => format!("Take the notch {} off the {}", e.notch, e.piece),
            Self::SetGrain(e) => format!("Draw the grain of the {}", e.piece),
            Self::RenameCorner(e) => format!("Call the {} of the {} {}", e.corner, e.piece, e.name),
            Self::RenameSeam(e) => format!("Call the {} of the {} {}", e.seam, e.piece, e.name),
            Self::RenamePiece(e) => format!("Call the {} {}", e.piece, e.name),
            Self::Sew(e) => format!("Sew the {}", e.join.name),
            Self::Unsew(e) => format!("Take the {} apart", e.join),
        }
    }
}
