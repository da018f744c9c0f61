//! Which seam sews to which.

use crate::End;
use serde::{Deserialize, Serialize};

/// One side of a join.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JoinSide {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// The end that is pinned first: both sides match there.
    pub from: End,
}

impl JoinSide {
    /// A side of a join.
    pub fn new(piece: &str, seam: &str, from: End) -> Self {
        Self { piece: piece.to_owned(), seam: seam.to_owned(), from }
    }
}

/// Two seams that are sewn to each other, or a seam sewn to its own mirror image
/// (centre back, centre front).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Join {
    /// Name a sewer would use: "side seam", "inseam", "centre back".
    pub name: String,
    /// One side.
    pub first: JoinSide,
    /// The other side; none for the mirror image of the first.
    pub second: Option<JoinSide>,
    /// How much longer the first side is cut and eased in, mm.
    #[serde(default)]
    pub ease: f64,
}

impl Join {
    /// Whether the seam is sewn to its own mirror image.
    pub fn is_mirror(&self) -> bool {
        self.second.is_none()
    }

    /// The sides: one or two.
    pub fn sides(&self) -> impl Iterator<Item = &JoinSide> {
        std::iter::once(&self.first).chain(self.second.as_ref())
    }

    /// The side that lies on the piece, if the join touches it.
    pub fn side_on(&self, piece: &str) -> Option<&JoinSide> {
        self.sides().find(|side| side.piece == piece)
    }
}
