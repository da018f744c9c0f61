//! What can go wrong between a card on the table and a piece of the pattern.

use crate::read::ReadError;
use hangtrue_geometry::camera::CameraError;
use hangtrue_pattern::PatternError;
use hangtrue_pattern::words::{Length, Words};
use std::path::PathBuf;

/// How far an outline came before it was refused.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SoFar {
    /// The line found, pixels of the photo.
    pub line: Vec<super::Place>,
    /// Where the fault is, pixels.
    pub fault: Option<super::Place>,
}

/// A photo that cannot be read, or a card that cannot be traced from it.
/// Pixels count from the upper left corner of the picture as it is shown.
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    /// The file is not there, may not be read, or is no ordinary file.
    #[error(transparent)]
    Unreadable(#[from] ReadError),
    /// The bytes are no picture of a kind we read.
    #[error("this is neither a PNG nor a JPEG picture; save the photo as one of the two")]
    UnknownKind,
    /// The file is larger than is read.
    #[error("the file is {size} bytes long and at most {most} are read; save it smaller")]
    FileTooLarge {
        /// Its size, bytes.
        size: u64,
        /// The most that is read, bytes.
        most: u64,
    },
    /// The picture is larger than is read.
    #[error(
        "the picture is {width} × {height} pixels and at most {most} million are read; save it smaller, or scan with fewer dots to the inch"
    )]
    TooManyPixels {
        /// Width, pixels.
        width: u32,
        /// Height, pixels.
        height: u32,
        /// The most, million pixels.
        most: u64,
    },
    /// The picture is smaller than anything could be traced from.
    #[error(
        "the picture is only {width} × {height} pixels, too small to digitise from; use the photo itself, not its thumbnail"
    )]
    TooSmall {
        /// Width, pixels.
        width: u32,
        /// Height, pixels.
        height: u32,
    },
    /// The picture is damaged.
    #[error("the picture is damaged and cannot be shown; copy it again from the camera")]
    Damaged,
    /// The picture has no end.
    #[error("the picture breaks off before its end; copy it again from the camera")]
    BrokenOff,
    /// The camera cannot be solved.
    #[error("{photo}: {why}")]
    Camera {
        /// The photo.
        photo: String,
        /// Why.
        #[source]
        why: CameraError,
    },
    /// A mark that cannot be used.
    #[error("{photo}: the mark {mark}: {why}")]
    Mark {
        /// The photo.
        photo: String,
        /// The mark.
        mark: String,
        /// What is wrong and what to do.
        why: Words,
    },
    /// Distances that do not fix where the marks lie.
    #[error(
        "{photo}: {given} measured distances do not fix where {marks} marks lie; measure at least {needed}, the diagonals among them"
    )]
    LooseDistances {
        /// The photo.
        photo: String,
        /// How many distances there are.
        given: usize,
        /// How many marks.
        marks: usize,
        /// How many are needed.
        needed: usize,
    },
    /// A distance that the others contradict.
    #[error(
        "{photo}: the distance {from} to {to} is {} from what the others make it; measure it again", Length(*off)
    )]
    WrongDistance {
        /// The photo.
        photo: String,
        /// One mark.
        from: String,
        /// The other.
        to: String,
        /// How far off, mm.
        off: f64,
    },
    /// The card could not be told from the table.
    #[error("{photo}: {why}")]
    NoCard {
        /// The photo.
        photo: String,
        /// What was met and what to do.
        why: String,
        /// What was found.
        found: Box<SoFar>,
    },
    /// The outline found cannot be a piece.
    #[error("{photo}: the outline found cannot be a piece: {why}")]
    Outline {
        /// The photo that shows the fault.
        photo: String,
        /// Where in the photo, what is wrong and what to do.
        why: Words,
        /// What was found.
        found: Box<SoFar>,
    },
    /// The photos do not hang together.
    #[error("{why}")]
    NotJoined {
        /// What is missing and what to do.
        why: Words,
    },
    /// Something of the job is missing or out of range.
    #[error("{0}")]
    Asked(Words),
    /// A file that is no job of tracing.
    #[error(
        "“{}” is no job of digitising: {why}; save one from the desk, or with --save-job, and change that", path.display()
    )]
    Job {
        /// The file.
        path: PathBuf,
        /// What is wrong in it.
        why: String,
    },
    /// The outline cannot be a piece.
    #[error("the outline found cannot be a piece: {0}")]
    Piece(#[from] PatternError),
    /// The outline could not be drawn as curves.
    #[error("the outline found could not be drawn as curves: {0}; go along it in larger steps")]
    Geometry(#[from] hangtrue_geometry::GeometryError),
}

impl PhotoError {
    /// The photo and what was found in it before the outline was refused.
    pub fn so_far(&self) -> Option<(&str, &SoFar)> {
        match self {
            Self::NoCard { photo, found, .. } | Self::Outline { photo, found, .. } => {
                Some((photo, found))
            }
            _ => None,
        }
    }
}
