//! What can be wrong with a pattern: what, where, and what to do about it.

use hangtrue_geometry::GeometryError;
use hangtrue_geometry::words::{Length, Words};

/// A fault in a pattern or in what was asked of it. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PatternError {
    /// No piece of that name.
    #[error("there is no piece called “{name}”; the pieces are: {known}")]
    NoPiece {
        /// The name asked for.
        name: String,
        /// The names there are, with commas.
        known: String,
    },
    /// No seam of that name on the piece.
    #[error("the {piece} has no seam called “{name}”; its seams are: {known}")]
    NoSeam {
        /// The piece looked at.
        piece: String,
        /// The name asked for.
        name: String,
        /// The names there are, with commas.
        known: String,
    },
    /// No corner of that name on the piece.
    #[error("the {piece} has no corner called “{name}”; its corners are: {known}")]
    NoCorner {
        /// The piece looked at.
        piece: String,
        /// The name asked for.
        name: String,
        /// The names there are, with commas.
        known: String,
    },
    /// No dart of that name on the piece.
    #[error("the {piece} has no dart{}", no_dart(name, known))]
    NoDart {
        /// The piece looked at.
        piece: String,
        /// The name asked for.
        name: String,
        /// The names there are, with commas.
        known: String,
    },
    /// No reference line of that name on the piece.
    #[error(
        "the {piece} has no reference line called “{name}”; mark it first, or use one of: {known}"
    )]
    NoLine {
        /// The piece looked at.
        piece: String,
        /// The name asked for.
        name: String,
        /// The names there are, with commas.
        known: String,
    },
    /// A reference line of a piece that is not there.
    #[error(
        "the reference line “{line}” lies on the piece “{piece}”, which is not there; the pieces are: {known}; take the line out or name one of these"
    )]
    LineOnNoPiece {
        /// The line.
        line: String,
        /// The piece it names.
        piece: String,
        /// The pieces there are, with commas.
        known: String,
    },
    /// A distance along a seam lies beyond its end.
    #[error("{asked} along the {seam} of the {piece} lies outside it; choose from {none} to {length}", none = Length(0.0))]
    PastSeamEnd {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
        /// The distance asked for, mm.
        asked: Length,
        /// The sewn length of the seam, mm.
        length: Length,
    },
    /// The outline is not closed.
    #[error(
        "the outline of the {piece} is open by {gap:.2} where the {seam} starts; join the two ends"
    )]
    OpenOutline {
        /// The piece.
        piece: String,
        /// The seam whose start does not meet the seam before it.
        seam: String,
        /// The gap, mm.
        gap: Length,
    },
    /// The outline crosses itself.
    #[error(
        "the outline of the {piece} crosses itself near ({x:.1}, {y:.1}), where the {first} meets the {second}"
    )]
    SelfCrossing {
        /// The piece.
        piece: String,
        /// One seam.
        first: String,
        /// The other seam.
        second: String,
        /// Place of the crossing, mm.
        x: f64,
        /// Place of the crossing, mm.
        y: f64,
    },
    /// The legs of a dart have different lengths.
    #[error(
        "the legs of the {dart} of the {piece} differ: {first:.2} and {second:.2}; true the dart"
    )]
    UnequalLegs {
        /// The piece.
        piece: String,
        /// The dart.
        dart: String,
        /// Length of the leg met first along the seam, mm.
        first: Length,
        /// Length of the other leg, mm.
        second: Length,
    },
    /// The number of darts does not fit the number of seam parts.
    #[error(
        "the {seam} of the {piece} has {parts} parts and {darts} darts; a dart lies between two parts, so there must be one part more than darts"
    )]
    DartCount {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
        /// Number of parts.
        parts: usize,
        /// Number of darts.
        darts: usize,
    },
    /// A rule for a reference line cannot be met.
    #[error("the line “{line}” of the {piece} cannot be placed: {why}")]
    LineNotPlaced {
        /// The piece.
        piece: String,
        /// The line.
        line: String,
        /// The reason, in words.
        why: Words,
    },
    /// The legs are apart already.
    #[error(
        "left and right are apart already: the {piece} is for one leg; put them together first, or change the leg you mean"
    )]
    AlreadyApart {
        /// A piece for one leg.
        piece: String,
    },
    /// Parting would give two pieces the same name.
    #[error(
        "a piece is already called “{name}”, as one would be after parting; give that piece another name first"
    )]
    NameInUse {
        /// The name.
        name: String,
    },
    /// A geometric operation failed.
    #[error("{what}: {source}")]
    Geometry {
        /// What was being done, in words.
        what: String,
        /// The geometric reason.
        #[source]
        source: GeometryError,
    },
}

impl PatternError {
    /// Wraps a geometric failure with what was being done.
    pub fn geometry(what: impl Into<String>) -> impl FnOnce(GeometryError) -> Self {
        let what = what.into();
        move |source| Self::Geometry { what, source }
    }
}

/// Which dart there is not, and which there are.
fn no_dart(name: &str, known: &str) -> String {
    if known.is_empty() {
        String::new()
    } else {
        format!(" called “{name}”; its darts are: {known}")
    }
}
