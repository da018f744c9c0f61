//! Moving, setting and taking away the points and handles of an outline.

use crate::ChangeError;
use hangtrue_geometry::{Chain, CubicBez, Line, PathSeg, Point};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Pattern, Piece, Seam};
use serde::{Deserialize, Serialize};

/// Moves a corner; the two seams that meet there follow with least change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoveCorner {
    /// The piece.
    pub piece: String,
    /// The corner.
    pub corner: String,
    /// Where it goes, mm.
    pub to: Point,
}

/// Moves a point within a seam: the end of segment `segment` of part `part`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MovePoint {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Part of the seam, counted from 0 over its darts.
    pub part: usize,
    /// The segment the point ends.
    pub segment: usize,
    /// Where it goes, mm.
    pub to: Point,
}

/// Which handle of a cubic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Handle {
    /// The handle at its start.
    First,
    /// The handle at its end.
    Second,
}

/// Moves a handle of a curved segment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoveHandle {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Part of the seam, counted from 0 over its darts.
    pub part: usize,
    /// The segment.
    pub segment: usize,
    /// The handle.
    pub handle: Handle,
    /// Where it goes, mm.
    pub to: Point,
    /// Whether the handle on the other side of the point turns with it, so that
    /// the seam stays smooth there.
    pub smooth: bool,
}

/// Sets a point on a seam at a sewn distance from its start; the shape stays.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InsertPoint {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Sewn distance from the start of the seam, mm.
    pub at: f64,
}

/// Takes away the point that ends segment `segment`: it and the next become one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RemovePoint {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Part of the seam.
    pub part: usize,
    /// The segment whose end is taken away.
    pub segment: usize,
}

/// Makes a segment curved, or straight.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BendSegment {
    /// The piece.
    pub piece: String,
    /// The seam.
    pub seam: String,
    /// Part of the seam.
    pub part: usize,
    /// The segment.
    pub segment: usize,
    /// Curved, with handles at its thirds; or straight.
    pub curved: bool,
}

/// Splits a seam at a new corner; the stretch after it gets a name of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SplitSeam {
    /// The piece.
    pub piece: String,
    /// The seam; its name stays with the stretch before the corner.
    pub seam: String,
    /// Sewn distance from the start of the seam, mm.
    pub at: f64,
    /// Name of the new corner.
    pub corner: String,
    /// Name of the stretch after it.
    pub name: String,
}

fn no_point(piece: &str, seam: &str, part: usize, segment: usize) -> ChangeError {
    ChangeError::Unknown {
        kind: "point",
        name: format!("{} of stretch {} on the {seam}", segment + 1, part + 1),
        known: format!("the points of the {seam} of the {piece}"),
    }
}

/// The segments of a part of a seam, to be changed and put back.
fn with_segments(
    pattern: &mut Pattern,
    (piece, seam, part): (&str, &str, usize),
    edit: impl FnOnce(&mut Vec<PathSeg>) -> Option<()>,
    segment: usize,
) -> Result<(), ChangeError> {
    let found = pattern.piece_mut(piece)?.seam_mut(seam)?;
    let missing = || no_point(piece, seam, part, segment);
    let chain = found.parts.get(part).ok_or_else(missing)?;
    let mut segments = chain.segments().to_vec();
    edit(&mut segments).ok_or_else(missing)?;
    found.parts[part] = Chain::new(segments)
        .map_err(ChangeError::geometry(format!("redrawing the {seam} of the {piece}")))?;
    Ok(())
}

impl MoveCorner {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece = pattern.piece_mut(&self.piece)?;
        piece.corner(&self.corner)?;
        let count = piece.seams.len();
        let index = piece.seams.iter().position(|s| s.starts_at == self.corner).unwrap_or(0);
        let after = &mut piece.seams[index].parts[0];
        *after = after.with_ends(self.to, after.end());
        if let Some(before) = piece.seams[(index + count - 1) % count].parts.last_mut() {
            *before = before.with_ends(before.start(), self.to);
        }
        Ok(())
    }
}

impl MovePoint {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let edit = |segments: &mut Vec<PathSeg>| {
            if self.segment + 1 >= segments.len() {
                return None;
            }
            let by = self.to - end_of(&segments[self.segment]);
            segments[self.segment] = with_end(segments[self.segment], self.to, by);
            segments[self.segment + 1] = with_start(segments[self.segment + 1], self.to, by);
            Some(())
        };
        with_segments(pattern, (&self.piece, &self.seam, self.part), edit, self.segment)
    }
}

impl MoveHandle {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let edit = |segments: &mut Vec<PathSeg>| {
            let PathSeg::Cubic(c) = segments.get_mut(self.segment)? else { return None };
            let hub = match self.handle {
                Handle::First => {
                    c.p1 = self.to;
                    c.p0
                }
                Handle::Second => {
                    c.p2 = self.to;
                    c.p3
                }
            };
            if self.smooth && self.to.distance(hub) > 0.0 {
                let away = (hub - self.to).normalize();
                let other = match self.handle {
                    Handle::First => self.segment.checked_sub(1),
                    Handle::Second => Some(self.segment + 1),
                };
                match (self.handle, other.and_then(|o| segments.get_mut(o))) {
                    (Handle::First, Some(PathSeg::Cubic(o))) => {
                        o.p2 = hub + away * o.p2.distance(hub);
                    }
                    (Handle::Second, Some(PathSeg::Cubic(o))) => {
                        o.p1 = hub + away * o.p1.distance(hub);
                    }
                    _ => {}
                }
            }
            Some(())
        };
        with_segments(pattern, (&self.piece, &self.seam, self.part), edit, self.segment)
    }
}

impl InsertPoint {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let seam = pattern.piece_mut(&self.piece)?.seam_mut(&self.seam)?;
        let (part, before, after) = cut(seam, &self.piece, self.at)?;
        seam.parts[part] = before
            .then(&after)
            .map_err(ChangeError::geometry(format!("setting a point on the {}", self.seam)))?;
        Ok(())
    }
}

/// Cuts the part of a seam at a sewn distance from its start.
pub(super) fn cut(seam: &Seam, piece: &str, at: f64) -> Result<(usize, Chain, Chain), ChangeError> {
    let length = seam.sewn_length();
    let place = seam.place(hangtrue_pattern::End::Start, at);
    let halves = seam.parts[place.part].split_at(place.within);
    let inside = (0.0..=length).contains(&at);
    match halves {
        Ok((before, after)) if inside => Ok((place.part, before, after)),
        _ => Err(ChangeError::OutOfReach {
            what: format!("the place on the {} of the {piece}", seam.name),
            asked: Length(at),
            low: Length(0.0),
            high: Length(length),
        }),
    }
}

impl RemovePoint {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let edit = |segments: &mut Vec<PathSeg>| {
            let next = *segments.get(self.segment + 1)?;
            let this = segments[self.segment];
            segments[self.segment] = one_of(&this, &next);
            segments.remove(self.segment + 1);
            Some(())
        };
        with_segments(pattern, (&self.piece, &self.seam, self.part), edit, self.segment)
    }
}

/// One segment in the place of two: straight when both are, else a cubic that
/// leaves and arrives as they did, its handles lengthened to the longer span.
fn one_of(first: &PathSeg, second: &PathSeg) -> PathSeg {
    if let (PathSeg::Line(a), PathSeg::Line(b)) = (first, second) {
        return PathSeg::Line(Line::new(a.p0, b.p1));
    }
    let thirds = |s: &PathSeg| match s {
        PathSeg::Line(l) => {
            CubicBez::new(l.p0, l.p0.lerp(l.p1, 1.0 / 3.0), l.p0.lerp(l.p1, 2.0 / 3.0), l.p1)
        }
        _ => s.to_cubic(),
    };
    let (a, b) = (thirds(first), thirds(second));
    let span = |c: &CubicBez| c.p0.distance(c.p3).max(f64::MIN_POSITIVE);
    let grow = (span(&a) + span(&b)) / span(&a);
    let shrink = (span(&a) + span(&b)) / span(&b);
    PathSeg::Cubic(CubicBez::new(
        a.p0,
        a.p0 + (a.p1 - a.p0) * grow,
        b.p3 + (b.p2 - b.p3) * shrink,
        b.p3,
    ))
}

impl BendSegment {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let edit = |segments: &mut Vec<PathSeg>| {
            let segment = segments.get_mut(self.segment)?;
            let (a, b) = (start_of(segment), end_of(segment));
            *segment = match (self.curved, *segment) {
                (false, _) => PathSeg::Line(Line::new(a, b)),
                (true, PathSeg::Line(_)) => {
                    PathSeg::Cubic(CubicBez::new(a, a.lerp(b, 1.0 / 3.0), a.lerp(b, 2.0 / 3.0), b))
                }
                (true, curve) => PathSeg::Cubic(curve.to_cubic()),
            };
            Some(())
        };
        with_segments(pattern, (&self.piece, &self.seam, self.part), edit, self.segment)
    }
}

impl SplitSeam {
    pub(super) fn apply(&self, pattern: &mut Pattern) -> Result<(), ChangeError> {
        let piece: &mut Piece = pattern.piece_mut(&self.piece)?;
        let index = piece.seam_index(&self.seam)?;
        let taken = piece.seams.iter().any(|s| s.name == self.name)
            || piece.seams.iter().any(|s| s.starts_at == self.corner);
        if taken {
            return Err(ChangeError::NameTaken {
                name: format!("{} / {}", self.corner, self.name),
            });
        }
        let seam = &piece.seams[index];
        let (part, before, after) = cut(seam, &self.piece, self.at)?;
        let mut first = seam.clone();
        first.parts.truncate(part);
        first.parts.push(before);
        first.darts.truncate(part);
        let mut parts = vec![after];
        parts.extend_from_slice(&seam.parts[part + 1..]);
        let second = Seam {
            name: self.name.clone(),
            starts_at: self.corner.clone(),
            parts,
            darts: seam.darts[part..].to_vec(),
        };
        piece.seams[index] = first;
        piece.seams.insert(index + 1, second);
        Ok(())
    }
}

fn start_of(segment: &PathSeg) -> Point {
    match segment {
        PathSeg::Line(l) => l.p0,
        PathSeg::Quad(q) => q.p0,
        PathSeg::Cubic(c) => c.p0,
    }
}

fn end_of(segment: &PathSeg) -> Point {
    match segment {
        PathSeg::Line(l) => l.p1,
        PathSeg::Quad(q) => q.p2,
        PathSeg::Cubic(c) => c.p3,
    }
}

/// The segment with its start moved; the handle there moves along.
fn with_start(segment: PathSeg, to: Point, by: hangtrue_geometry::Vec2) -> PathSeg {
    match segment {
        PathSeg::Line(l) => PathSeg::Line(Line::new(to, l.p1)),
        PathSeg::Quad(mut q) => {
            q.p0 = to;
            PathSeg::Quad(q)
        }
        PathSeg::Cubic(c) => PathSeg::Cubic(CubicBez::new(to, c.p1 + by, c.p2, c.p3)),
    }
}

/// The segment with its end moved; the handle there moves along.
fn with_end(segment: PathSeg, to: Point, by: hangtrue_geometry::Vec2) -> PathSeg {
    match segment {
        PathSeg::Line(l) => PathSeg::Line(Line::new(l.p0, to)),
        PathSeg::Quad(mut q) => {
            q.p2 = to;
            PathSeg::Quad(q)
        }
        PathSeg::Cubic(c) => PathSeg::Cubic(CubicBez::new(c.p0, c.p1, c.p2 + by, to)),
    }
}
