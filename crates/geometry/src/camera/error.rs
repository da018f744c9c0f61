//! Why a camera cannot be solved.

use crate::words::Length;

/// Marks that do not fix the camera.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CameraError {
    /// Fewer than four.
    #[error("{found} marks do not fix the plane; give at least 4, well apart")]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// A place is not a number.
    #[error("mark {index} is not a place that can be used; mark it again")]
    NotFinite {
        /// Index of the mark, from 0.
        index: usize,
    },
    /// All but at most one lie in one line.
    #[error(
        "the marks lie (all but one) in one line, which leaves the plane free to turn about it; add marks to both sides of it"
    )]
    Collinear,
    /// They run round the other way in the picture than in the plane.
    #[error(
        "the marks run the other way round in the picture than on the table, as in a mirror; check which mark is which, and that the picture is not mirrored"
    )]
    Mirrored,
    /// The marks in the wrong order, or so near to each other that the answer is
    /// worth nothing.
    #[error(
        "the marks do not fix the plane: {why}; check which mark is which and spread them round the piece"
    )]
    BadlyPlaced {
        /// What was met.
        why: &'static str,
    },
    /// The marks contradict each other.
    #[error(
        "the marks do not agree with each other: mark {worst} lies {residual} from where the others put it, and {limit} is the most allowed; check its place and its measured distance"
    )]
    ResidualTooLarge {
        /// Index of the mark that is furthest off, from 0.
        worst: usize,
        /// How far, mm.
        residual: Length,
        /// The most allowed, mm.
        limit: Length,
    },
}
