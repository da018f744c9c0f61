//! What is marked on a photo of the worn toile, as a RON file, made ready to read.

use super::marked::{Camera, MarkedPhoto, traced_photo};
use crate::photo::{PhotoError, Picture};
use crate::ron_text;
use crate::ron_words::in_words;
use hangtrue_adjust::worn::{Horizon, KnownMark, Level, LineMark, View, WornError};
use hangtrue_pattern::Pattern;
use serde::Deserialize;
use std::path::{Path, PathBuf};

/// Marks on a photo, as written down. Places in pixels from its upper left corner,
/// lengths in mm.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WornJob {
    /// The picture, beside the file of marks: then lines are drawn to the dark
    /// lines in it and their ends to the edge of the body.
    #[serde(default)]
    pub picture: Option<PathBuf>,
    /// Width and height, pixels, when there is no picture.
    #[serde(default)]
    pub size: Option<(f64, f64)>,
    /// From where the wearer is seen.
    pub view: View,
    /// What tells level.
    pub level: Level,
    /// What tells how high the lens looks.
    pub horizon: Horizon,
    /// Lens to the body's middle.
    pub distance: f64,
    /// What tells the scale.
    pub known: KnownMark,
    /// The lines.
    pub lines: Vec<LineMark>,
}

/// Why the marks cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum WornJobError {
    /// A text that is not RON.
    #[error("line {line}, column {column}: {why}; docs/worn.md has an example")]
    Text {
        /// Line in the text.
        line: usize,
        /// Column in the text.
        column: usize,
        /// What is wrong.
        why: String,
    },
    /// Neither a picture nor its size.
    #[error(
        "neither a picture nor its size is said; name the picture, or write size: (width, height)"
    )]
    NoSize,
    /// A drawing over the picture is asked for, and there is none.
    #[error("there is no picture to draw on; name it in the marks: picture: Some(\"back.jpg\")")]
    NoPicture,
    /// The picture.
    #[error(transparent)]
    Picture(#[from] PhotoError),
    /// The marks.
    #[error(transparent)]
    Worn(#[from] WornError),
}

/// The marks of a RON text.
///
/// # Errors
/// [`WornJobError::Text`].
pub fn read_marks(text: &str) -> Result<WornJob, WornJobError> {
    ron_text::read(text).map_err(|e| WornJobError::Text {
        line: e.span.start.line,
        column: e.span.start.col,
        why: in_words(&e.code),
    })
}

impl WornJob {
    /// Its picture, when it names one that lies in `folder`.
    ///
    /// # Errors
    /// [`WornJobError::Picture`].
    pub fn picture_in(&self, folder: &Path) -> Result<Option<Picture>, WornJobError> {
        self.picture.as_ref().map(|name| Ok(Picture::open(&folder.join(name))?)).transpose()
    }

    /// Completes the marks from the pattern and the picture; `folder` is where the
    /// picture lies.
    ///
    /// # Errors
    /// [`WornJobError`].
    pub fn ready(self, pattern: &Pattern, folder: &Path) -> Result<MarkedPhoto, WornJobError> {
        let picture = self.picture_in(folder)?;
        let size = picture.as_ref().map(|p| (p.width() as f64, p.height() as f64));
        let size = size.or(self.size).ok_or(WornJobError::NoSize)?;
        let known = self.known.with_length(self.view, pattern)?;
        let camera = Camera {
            view: self.view,
            size,
            cut_above: 0.0,
            level: self.level,
            horizon: self.horizon,
            distance: self.distance,
        };
        Ok(traced_photo(camera, known, &self.lines, pattern, picture.as_ref())?)
    }
}
