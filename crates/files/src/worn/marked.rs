//! The marks on a photo, drawn to what its picture shows and completed from the
//! pattern, so that it can be read.

use super::on_piece::{is_pressed, sewn_length};
use super::{body_edge, follow_dark_line};
use crate::photo::Picture;
use hangtrue_adjust::worn::{
    Hang, Horizon, KnownLength, LegSeen, Level, LineMark, MarkMissing, PhotoMarks, Stand,
    TracedLine, View, WornError, WornPhoto, girth_at, stand_and_hangs,
};
use hangtrue_adjust::{RoundPhoto, home_shapes};
use hangtrue_geometry::Point;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::{words, words::Words};

/// Why a marked photo cannot be read yet.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MarksError {
    /// A mark that is not there yet.
    #[error(transparent)]
    Missing(#[from] MarkMissing),
    /// Marks that cannot be.
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

/// A photo ready to be read, and what was found in its picture.
#[derive(Debug, Clone)]
pub struct MarkedPhoto {
    /// The marks.
    pub photo: WornPhoto,
    /// What was found and what was not, line by line, in words.
    pub notes: Vec<Words>,
}

/// A line as the picture shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct FollowedLine {
    /// The line.
    pub traced: TracedLine,
    /// Whether a drawn line was found near the clicks; else they stand as they are.
    pub on_dark_line: bool,
    /// Which ends were drawn to the edge of the body, the first and the last.
    pub on_edge: [bool; 2],
}

impl FollowedLine {
    /// What was found of it, in words.
    pub fn words(&self) -> String {
        let name = &self.traced.name;
        let edges = self.on_edge.iter().filter(|e| **e).count();
        if self.on_dark_line {
            format!("{name}: drawn to the dark line, {edges} of its 2 ends to the body")
        } else {
            format!("{name}: no dark line shows near the clicks, which are taken as they are")
        }
    }
}

/// Draws the clicks along a line to what a picture shows of it; without a picture
/// they stand.
pub fn follow_line(mark: &LineMark, girth: f64, picture: Option<&Picture>) -> FollowedLine {
    let mut points = mark.points.clone();
    let mut on_edge = [false; 2];
    let mut followed = None;
    if let Some(picture) = picture {
        let height = picture.height() as f64;
        let last = points.len().saturating_sub(1);
        for (end, found) in [0, last].into_iter().zip(&mut on_edge) {
            let (click, body) = (points.get(end).copied(), mark.points.get(last - end).copied());
            let ends = click.zip(body);
            if let Some(edge) = ends.and_then(|(p, body)| body_edge(picture, p, body)) {
                points[end] = edge;
                *found = true;
            }
        }
        followed = follow_dark_line(picture, &points, REACH * height, THICK * height);
    }
    let on_dark_line = followed.is_some();
    let (points, sigma) = followed.map_or((points, CLICK), |f| (f.points, f.sigma));
    let edge_sigma = if on_edge == [true; 2] { FOUND_EDGE } else { CLICK };
    let name = mark.name.clone();
    let clicks = if on_dark_line { mark.points.clone() } else { Vec::new() };
    let traced = TracedLine {
        name,
        leg: mark.leg,
        girth,
        points,
        clicks,
        sigma,
        edge_sigma,
        pressed: false,
        sewn_length: None,
    };
    FollowedLine { traced, on_dark_line, on_edge }
}

/// The place nearest to a click, straight up and down, on the dark line drawn
/// there; none where none shows.
pub fn dark_line_at(picture: &Picture, click: Point) -> Option<Point> {
    let height = picture.height() as f64;
    let beside = hangtrue_geometry::Vec2::new(ALONG * picture.width() as f64, 0.0);
    let found = follow_dark_line(
        picture,
        &[click - beside, click + beside],
        REACH * height,
        THICK * height,
    )?;
    let near = |p: &&Point| (p.x - click.x).abs();
    found.points.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map(|p| Point::new(click.x, p.y))
}

/// So far to either side of a click a dark line is looked at, share of the width.
const ALONG: f64 = 0.01;

/// How the camera stood, as marked.
pub(super) struct Camera {
    pub view: View,
    pub size: (f64, f64),
    pub cut_above: f64,
    pub level: Level,
    pub horizon: Horizon,
    pub distance: f64,
}

/// The photo with its lines drawn to what the picture shows.
pub(super) fn traced_photo(
    camera: Camera,
    known: KnownLength,
    lines: &[LineMark],
    pattern: &Pattern,
    picture: Option<&Picture>,
) -> Result<MarkedPhoto, WornError> {
    let (mut notes, mut traced) = (Vec::new(), Vec::new());
    let homes = home_shapes(pattern);
    for mark in lines {
        let girth = match mark.girth {
            Some(girth) => girth,
            None => girth_at(pattern, &mark.name, mark.leg)?,
        };
        let mut followed = follow_line(mark, girth, picture);
        followed.traced.pressed = is_pressed(mark, lines, camera.size.0);
        followed.traced.sewn_length = sewn_length(pattern, &homes, mark, camera.view);
        if picture.is_some() {
            notes.push(followed.words().into());
        }
        traced.push(followed.traced);
    }
    let Camera { view, size, cut_above, level, horizon, distance } = camera;
    let photo = WornPhoto { view, size, cut_above, level, horizon, distance, known, lines: traced };
    Ok(MarkedPhoto { photo, notes })
}

/// The photo of a round with its marks, ready to be read; `picture` is the kept
/// photo in full. Lines with too few places yet are left out, and the notes say so.
///
/// # Errors
/// [`MarksError::Missing`] with the mark that is needed next, [`MarksError::Worn`]
/// when the pattern does not know a line.
pub fn marked_photo(
    photo: &RoundPhoto,
    picture: &Picture,
    pattern: &Pattern,
) -> Result<MarkedPhoto, MarksError> {
    let nothing = PhotoMarks::default();
    let marks = photo.marks.as_ref().unwrap_or(&nothing);
    let view = photo.view.seen_from().ok_or(MarkMissing::WhichSide)?;
    let level = marks.whole_level()?;
    let distance = marks.distance.ok_or(MarkMissing::Distance)?;
    let camera = Camera {
        view,
        size: (picture.width() as f64, picture.height() as f64),
        cut_above: photo.cut_above as f64,
        level,
        horizon: marks.whole_horizon()?,
        distance,
    };
    let known = marks.known_or_proposed(view, pattern)?.with_length(view, pattern)?;
    let (whole, begun): (Vec<LineMark>, Vec<LineMark>) =
        marks.lines.iter().cloned().partition(LineMark::is_whole);
    let mut ready = traced_photo(camera, known, &whole, pattern, Some(picture))?;
    ready.notes.extend(begun.iter().map(|line| {
        let leg = leg_words(line.leg);
        format!("{}, {leg}: clicked at too few places yet, so it is not read", line.name).into()
    }));
    Ok(ready)
}

/// A marked photo that was read.
#[derive(Debug, Clone)]
pub struct ReadPhoto {
    /// Its marks, with the lines drawn to what the picture shows.
    pub photo: WornPhoto,
    /// How the camera stood.
    pub stand: Stand,
    /// How its lines hang.
    pub hangs: Vec<Hang>,
    /// What was found in the picture, and what could not be read.
    pub notes: Vec<Words>,
}

/// Reads a photo of a round with its marks. A line that cannot be is left out, and
/// the notes say so, as long as the scale does not hang from it.
///
/// # Errors
/// As [`marked_photo`], and [`MarksError::Worn`] when the marks cannot be.
pub fn read_photo(
    photo: &RoundPhoto,
    picture: &Picture,
    pattern: &Pattern,
) -> Result<ReadPhoto, MarksError> {
    let MarkedPhoto { mut photo, mut notes } = marked_photo(photo, picture, pattern)?;
    loop {
        let why = match stand_and_hangs(&photo) {
            Ok((stand, hangs)) => return Ok(ReadPhoto { photo, stand, hangs, notes }),
            Err(why) => why,
        };
        let known = [&photo.known.upper.0, &photo.known.lower.0];
        let (WornError::NotAlong { line } | WornError::WiderThanRound { line, .. }) = &why else {
            return Err(why.into());
        };
        if known.contains(&line) {
            return Err(why.into());
        }
        photo.lines.retain(|l| l.name != *line);
        let left_out = words![line, " is not read: "];
        notes.push(left_out.and(Words::why(why)));
    }
}

/// `left leg`, `right leg`, `both legs`.
pub fn leg_words(leg: LegSeen) -> &'static str {
    match leg {
        LegSeen::Left => "left leg",
        LegSeen::Right => "right leg",
        LegSeen::Both => "both legs",
    }
}
