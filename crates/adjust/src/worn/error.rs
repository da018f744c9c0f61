//! Why a photo of the worn toile cannot be read.

use hangtrue_pattern::words::Length;

/// A photo that cannot be read. Lengths in mm, places in pixels.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WornError {
    /// A line with too few places.
    #[error(
        "the line “{line}” is traced at {count} places; click along it at three at least, from edge to edge"
    )]
    TooFewPlaces {
        /// The line.
        line: String,
        /// How many there are.
        count: usize,
    },
    /// Places that go back and forth.
    #[error(
        "the places along “{line}” go back on themselves; click along it from one edge to the other"
    )]
    NotAlong {
        /// The line.
        line: String,
    },
    /// A number that is none, or out of all reason.
    #[error("{what} of {value} cannot be right; choose {low} to {high}")]
    OutOfReason {
        /// What it is, with its unit.
        what: &'static str,
        /// The value.
        value: f64,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// Two places that should lie apart.
    #[error("the two places that tell {what} lie on each other; put them further apart")]
    TooNear {
        /// What they tell.
        what: &'static str,
    },
    /// The known length names a line that is not traced.
    #[error(
        "the known length runs to the line “{line}”, which is not traced on that leg; trace it first"
    )]
    LineNotTraced {
        /// The line.
        line: String,
    },
    /// No camera sees the known length like that.
    #[error(
        "no camera at {distance:.0} sees {length:.0} as it stands in the photo; check the distance, the length and the two places on the grain"
    )]
    NoScale {
        /// The distance, mm.
        distance: Length,
        /// The length, mm.
        length: Length,
    },
    /// A body wider than it is round.
    #[error(
        "“{line}” is {width:.0} wide in the photo, which {girth:.0} round cannot be; check the scale and whether it was traced over one leg or both"
    )]
    WiderThanRound {
        /// The line.
        line: String,
        /// Its width, mm.
        width: Length,
        /// The girth said, mm.
        girth: Length,
    },
    /// The pattern does not say a length.
    #[error("{0}")]
    NotInPattern(String),
}
