//! What is marked on a photo of the worn toile, as a RON file, made ready to read.

use super::{body_edge, follow_dark_line};
use crate::photo::{PhotoError, Picture};
use crate::ron_words::in_words;
use hangtrue_adjust::worn::{
    Horizon, KnownLength, LegSeen, Level, TracedLine, View, WornError, WornPhoto, girth_at,
    length_along_grain,
};
use hangtrue_geometry::Point;
use hangtrue_pattern::{Pattern, names};
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
    /// From the lens to the middle of the body.
    pub distance: f64,
    /// What tells the scale.
    pub known: KnownMark,
    /// The lines.
    pub lines: Vec<LineMark>,
}

/// Two lines and where the grain crosses them.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownMark {
    /// The upper line.
    pub upper: (String, LegSeen),
    /// Where the grain crosses it.
    pub upper_at: Point,
    /// The lower line.
    pub lower: (String, LegSeen),
    /// Where the grain crosses it.
    pub lower_at: Point,
    /// The length between them; taken from the pattern when left out.
    #[serde(default)]
    pub length: Option<f64>,
}

/// A line clicked along.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineMark {
    /// The line's name in the pattern.
    pub name: String,
    /// The leg, or both.
    pub leg: LegSeen,
    /// Clicks from edge to edge: from the inseam to the side on one leg, from the
    /// left of the photo to its right over both.
    pub points: Vec<Point>,
    /// Round the body there; taken from the pattern when left out.
    #[serde(default)]
    pub girth: Option<f64>,
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
    /// The picture.
    #[error(transparent)]
    Picture(#[from] PhotoError),
    /// The marks.
    #[error(transparent)]
    Worn(#[from] WornError),
}

/// A click is drawn to a dark line so far above or below it, share of the picture's
/// height.
const REACH: f64 = 0.009;

/// A drawn line is about so thick, share of the picture's height: 3 mm of 1.2 m.
const THICK: f64 = 0.0025;

/// How sure clicks are, pixels, and edges that were found.
const CLICK: f64 = 2.0;
const FOUND_EDGE: f64 = 0.5;

/// A photo ready to be read, and in words what was found in its picture.
#[derive(Debug, Clone)]
pub struct MarkedPhoto {
    /// The marks.
    pub photo: WornPhoto,
    /// What was found and what was not.
    pub notes: Vec<String>,
}

/// The marks of a RON text.
///
/// # Errors
/// [`WornJobError::Text`].
pub fn read_marks(text: &str) -> Result<WornJob, WornJobError> {
    ron::from_str(text).map_err(|e: ron::error::SpannedError| WornJobError::Text {
        line: e.span.start.line,
        column: e.span.start.col,
        why: in_words(&e.code),
    })
}

impl WornJob {
    /// Completes the marks from the pattern and the picture; `folder` is where the
    /// picture lies.
    ///
    /// # Errors
    /// [`WornJobError`].
    pub fn ready(self, pattern: &Pattern, folder: &Path) -> Result<MarkedPhoto, WornJobError> {
        let picture = match &self.picture {
            Some(name) => Some(Picture::open(&folder.join(name))?),
            None => None,
        };
        let size = picture.as_ref().map(|p| (p.width() as f64, p.height() as f64));
        let size = size.or(self.size).ok_or(WornJobError::NoSize)?;
        let mut notes = Vec::new();
        let mut lines = Vec::new();
        for mark in self.lines {
            let girth = match mark.girth {
                Some(girth) => girth,
                None => girth_at(pattern, &mark.name, mark.leg)?,
            };
            lines.push(traced(mark, girth, picture.as_ref(), size.1, &mut notes));
        }
        let piece = if self.view == View::Front { names::FRONT } else { names::BACK };
        let known = self.known;
        let length = match known.length {
            Some(length) => length,
            None => length_along_grain(pattern, piece, &known.upper.0, &known.lower.0)?,
        };
        let known = KnownLength {
            upper: known.upper,
            upper_at: known.upper_at,
            lower: known.lower,
            lower_at: known.lower_at,
            length,
        };
        let photo = WornPhoto {
            view: self.view,
            size,
            level: self.level,
            horizon: self.horizon,
            distance: self.distance,
            known,
            lines,
        };
        Ok(MarkedPhoto { photo, notes })
    }
}

/// A line drawn to what the picture shows of it.
fn traced(
    mark: LineMark,
    girth: f64,
    picture: Option<&Picture>,
    height: f64,
    notes: &mut Vec<String>,
) -> TracedLine {
    let LineMark { name, leg, mut points, .. } = mark;
    let mut edges = 0;
    let mut followed = None;
    if let Some(picture) = picture {
        let last = points.len().saturating_sub(1);
        for end in [0, last] {
            if let Some(edge) = points.get(end).and_then(|p| body_edge(picture, *p)) {
                points[end] = edge;
                edges += 1;
            }
        }
        followed = follow_dark_line(picture, &points, REACH * height, THICK * height);
        notes.push(match &followed {
            Some(_) => format!("{name}: drawn to the dark line, {edges} of its 2 ends to the body"),
            None => {
                format!("{name}: no dark line shows near the clicks, which are taken as they are")
            }
        });
    }
    let (points, sigma) = followed.map_or((points, CLICK), |f| (f.points, f.sigma));
    let edge_sigma = if edges == 2 { FOUND_EDGE } else { CLICK };
    TracedLine { name, leg, girth, points, sigma, edge_sigma }
}
