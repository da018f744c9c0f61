//! Why pieces cannot be laid.

use hangtrue_cut::CutError;
use hangtrue_geometry::words::Length;

/// A cloth the pieces cannot be laid on. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LayError {
    /// A length of the cloth that cannot be meant.
    #[error("{what} of {asked} cannot be laid on; choose from {least} to {most}")]
    Amount {
        /// What it is the length of.
        what: &'static str,
        /// The length asked for.
        asked: Length,
        /// The least.
        least: Length,
        /// The most.
        most: Length,
    },
    /// A loss in washing that cannot be meant.
    #[error(
        "a cloth that shrinks {percent} % in {of} before it is cut cannot be laid on; choose from {least} to {most} %"
    )]
    Washed {
        /// “length” or “width”.
        of: &'static str,
        /// What was asked, percent.
        percent: f64,
        /// The least, percent.
        least: f64,
        /// The most, percent.
        most: f64,
    },
    /// A piece is wider than what is left of the cloth.
    #[error("the {piece} is {wide} wide across the grain, and the cloth leaves {free}; {instead}")]
    TooWide {
        /// The piece.
        piece: String,
        /// Its width.
        wide: Length,
        /// What is free between the selvedges, or the selvedge and the fold.
        free: Length,
        /// What to do.
        instead: &'static str,
    },
    /// Nothing is cut from that cloth.
    #[error("nothing is cut from {of}; {instead}")]
    Nothing {
        /// Which cloth.
        of: &'static str,
        /// What to do.
        instead: &'static str,
    },
    /// A piece has no outline that can be laid.
    #[error("the {piece} cannot be laid: its outline encloses nothing; look at its seams")]
    Empty {
        /// The piece.
        piece: String,
    },
    /// The pieces themselves cannot be cut.
    #[error(transparent)]
    Cut(#[from] CutError),
}
