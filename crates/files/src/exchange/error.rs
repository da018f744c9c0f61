//! What can go wrong between the desk and somebody else's file.

use crate::print::PrintError;
use crate::read::ReadError;
use hangtrue_pattern::PatternError;
use hangtrue_pattern::words::Length;
use std::path::PathBuf;

/// A file that cannot be brought in, or a pattern that cannot be sent out.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The file is not there, may not be read, or is no ordinary file.
    #[error(transparent)]
    Unreadable(#[from] ReadError),
    /// The ending of the file names no kind we know.
    #[error("“{}” is neither .svg nor .dxf; choose one of these two kinds", path.display())]
    UnknownKind {
        /// The file.
        path: PathBuf,
    },
    /// The file is larger than is read.
    #[error(
        "the file is {size} bytes long and at most {most} are read; save it with fewer pieces, or without pictures"
    )]
    TooLarge {
        /// Its size, bytes.
        size: u64,
        /// The most that is read, bytes.
        most: u64,
    },
    /// The file holds more things than are read.
    #[error(
        "the file holds more than {most} {what}, which no pattern needs; save only the pieces you want"
    )]
    TooMany {
        /// Things of which kind.
        what: &'static str,
        /// The most that is read.
        most: usize,
    },
    /// Groups or blocks lie in each other too deep.
    #[error(
        "the file nests its {what} more than {most} deep; take the groups apart and save it again"
    )]
    TooDeep {
        /// Groups, blocks or references.
        what: &'static str,
        /// The deepest that is read.
        most: usize,
    },
    /// The file uses text that unfolds into far more text.
    #[error(
        "the file is written with abbreviations that unfold into more text than is safe to read; save it as plain SVG"
    )]
    Unfolds,
    /// The text is no SVG.
    #[error("this is not an SVG that can be read: {why}; save it again from where it was drawn")]
    NotSvg {
        /// What the reader met.
        why: String,
    },
    /// The text is no DXF.
    #[error("this is not a DXF that can be read: {why}; save it again as DXF (R12 to 2018)")]
    NotDxf {
        /// What the reader met.
        why: String,
    },
    /// The file does not say its unit.
    #[error(
        "the file does not say what its numbers are; say so with --unit mm, --unit cm, --unit in or --unit px, or give a length you know with --known-length"
    )]
    NoUnit,
    /// The line of known length is not there.
    #[error("no line or shape called “{name}” is in the file; those with a name are: {known}")]
    NoKnownLine {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: String,
    },
    /// The known length would scale the drawing beyond reason.
    #[error(
        "{:.2} for what measures {found:.4} in the file cannot be the scale; check the length you gave", Length(*asked)
    )]
    Scale {
        /// The length given, mm.
        asked: f64,
        /// What it measures in the file.
        found: f64,
    },
    /// A place far from everything.
    #[error(
        "a line of the file lies more than {} m away from its origin; check the unit, or move the drawing to the origin and save it again",
        most / 1000.0
    )]
    FarAway {
        /// The furthest that is read, mm.
        most: f64,
    },
    /// Nothing in the file closes to an outline.
    #[error(
        "no closed outline was found in the file, so there is no piece to bring in; close the outline of each piece and save it again"
    )]
    NoOutline,
    /// An outline that cannot be a piece.
    #[error("the outline “{piece}” cannot be a piece: {why}")]
    Outline {
        /// The piece.
        piece: String,
        /// Why.
        why: String,
    },
    /// A pattern that cannot be drawn.
    #[error(transparent)]
    Print(#[from] PrintError),
    /// The pattern itself is at fault.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// The file could not be put together.
    #[error("the file could not be put together: {why}")]
    Unwritable {
        /// What the writer said.
        why: String,
    },
}
