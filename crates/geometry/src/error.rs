//! What can go wrong in the geometry, in words a caller can pass on.

use crate::words::Length;

/// An operation that has no answer for the curves it was given. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GeometryError {
    /// A chain needs at least one segment.
    #[error("a curve needs at least one segment")]
    Empty,
    /// Two consecutive segments do not meet.
    #[error("segment {index} starts {gap:.4} away from the end of the one before it")]
    Broken {
        /// Index of the segment that does not start where its neighbour ends.
        index: usize,
        /// The distance between the two ends, mm.
        gap: Length,
    },
    /// A coordinate is NaN or infinite.
    #[error("segment {index} has a coordinate that is not a finite number")]
    NotFinite {
        /// Index of the segment.
        index: usize,
    },
    /// A length asked for lies outside the curve.
    #[error("{asked:.3} lies outside a curve that is {length:.3} long")]
    OutsideLength {
        /// The length asked for, mm.
        asked: Length,
        /// The length of the curve, mm.
        length: Length,
    },
    /// A root-find has no sign change between its limits.
    #[error(
        "no solution between {low:.4} and {high:.4} (the remainders there are {at_low:.4} and {at_high:.4})"
    )]
    NoRoot {
        /// Lower limit of the search.
        low: f64,
        /// Upper limit of the search.
        high: f64,
        /// Remainder at the lower limit.
        at_low: f64,
        /// Remainder at the upper limit.
        at_high: f64,
    },
    /// Stations of a profile must have rising positions and finite amounts.
    #[error("the stations of a profile must go forward: station {index} is at {position:.3}")]
    StationOrder {
        /// Index of the station that does not come after the one before it.
        index: usize,
        /// Its position.
        position: f64,
    },
}
