//! Why pieces cannot be cut as planned.

use hangtrue_adjust::{ChangeError, Shrinkage};
use hangtrue_geometry::words::Length;
use hangtrue_pattern::PatternError;

/// A plan the pattern cannot be cut by. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CutError {
    /// A seam allowance that is negative, not a number, or beyond reason.
    #[error(
        "a seam allowance of {asked} on the {seam} cannot be drawn; choose one from 0 to {most}"
    )]
    AllowanceAmount {
        /// The seam, or "other seams".
        seam: String,
        /// The allowance asked for, mm.
        asked: Length,
        /// The most, mm.
        most: Length,
    },
    /// The cut line could not be drawn round a piece.
    #[error("the seam allowance of the {piece} cannot be drawn: {why}; try a narrower one")]
    AllowanceShape {
        /// The piece.
        piece: String,
        /// Why, in words.
        why: String,
    },
    /// A width is given for a seam that is not there.
    #[error("the cutting plan has a width for {named}, and there is no such seam; take it out")]
    NoSuchSeam {
        /// The seam, with its piece when one is named.
        named: String,
    },
    /// A length of the plan that cannot be used.
    #[error("{what} of {asked} cannot be cut; choose from {least} to {most}")]
    Amount {
        /// What it is the length of.
        what: &'static str,
        /// The length asked for, mm.
        asked: Length,
        /// The least, mm.
        least: Length,
        /// The most, mm.
        most: Length,
    },
    /// A loss or gain of the cloth that cannot be meant.
    #[error(
        "{cloth} that shrinks {percent} % in {of} cannot be cut for; choose from {} to {} %, less than 0 where it stretches",
        Shrinkage::LIMITS.0,
        Shrinkage::LIMITS.1
    )]
    Shrinkage {
        /// Which cloth.
        cloth: &'static str,
        /// “length” or “width”.
        of: &'static str,
        /// What was asked, percent.
        percent: f64,
    },
    /// A piece cannot be made from the pattern as it stands.
    #[error("the {piece} cannot be made: {why}")]
    Piece {
        /// The piece.
        piece: String,
        /// Why, and what to do.
        why: String,
    },
    /// A facing cut in one with the front is folded at a seam that is not straight.
    #[error(
        "the centre front leaves the straight by {bow} as far as the fly is open, and a facing cut on is folded there: {most} is the most; choose a separate facing or a shorter fly"
    )]
    BowedFold {
        /// How far the seam leaves the straight, mm.
        bow: Length,
        /// The most, mm.
        most: Length,
    },
    /// A back pocket that would open in the yoke.
    #[error(
        "the back pocket would open {below} below the waist, and the yoke is {deep} deep there; choose {least} or more, or no yoke"
    )]
    InYoke {
        /// How far below the waist it was to open, mm.
        below: Length,
        /// How deep the yoke is there, mm.
        deep: Length,
        /// The least, mm.
        least: Length,
    },
    /// A yoke that was drawn cannot be cut from the back as it is now.
    #[error(transparent)]
    Change(#[from] ChangeError),
    /// The pattern itself is at fault.
    #[error(transparent)]
    Pattern(#[from] PatternError),
}
