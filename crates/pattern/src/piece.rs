//! A piece of the pattern: a closed outline of named seams between named corners.

use crate::{Dart, Notch, Parted, PatternError, Seam, SeamPoint};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{BezPath, Chain, Line, PathSeg, Point, Rect, Vec2, angle_between};
use serde::{Deserialize, Serialize};

/// The grainline of a piece, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grain {
    /// Lower end.
    pub from: Point,
    /// Upper end.
    pub to: Point,
}

impl Grain {
    /// Unit direction, towards the waist.
    pub fn direction(&self) -> Vec2 {
        (self.to - self.from).normalize()
    }

    /// Unit direction square to the grain, to the right when the grain points up.
    pub fn square(&self) -> Vec2 {
        let d = self.direction();
        Vec2::new(d.y, -d.x)
    }
}

/// A line drawn inside the piece that is not a rule: a pocket place, a fold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InnerLine {
    /// Name printed beside it.
    pub name: String,
    /// Where it runs, mm.
    pub chain: Chain,
}

/// A pattern piece. Its seams follow each other round the outline; each ends
/// where the next starts.
///
/// ```
/// use hangtrue_pattern::{Measure, Measures, Plan, draft, names};
///
/// // A body of our own invention, mm.
/// let mut body = Measures::new();
/// for (measure, mm) in [
///     (Measure::WaistGirth, 740.0),
///     (Measure::HipGirth, 990.0),
///     (Measure::WaistHeight, 1040.0),
///     (Measure::InsideLegHeight, 775.0),
///     (Measure::CrotchLength, 690.0),
/// ] {
///     body.set(measure, mm);
/// }
/// let pattern = draft(&body, &Plan::default())?.pattern;
/// let (back, front) = (pattern.piece(names::BACK)?, pattern.piece(names::FRONT)?);
/// // Each seam ends where the next starts, round to the first.
/// for (index, seam) in back.seams.iter().enumerate() {
///     let next = &back.seams[(index + 1) % back.seams.len()];
///     assert!(seam.end().distance(next.start()) < 1e-6);
/// }
/// // What is sewn together is equally long.
/// let length = |piece: &hangtrue_pattern::Piece| {
///     piece.seam(names::SIDE).map(|seam| seam.sewn_length())
/// };
/// assert!((length(back)? - length(front)?).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// Name, unique in the pattern.
    pub name: String,
    /// The seams in order round the outline.
    pub seams: Vec<Seam>,
    /// The grainline.
    pub grain: Grain,
    /// Matching marks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notches: Vec<Notch>,
    /// Inner lines.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inner: Vec<InnerLine>,
    /// Set when the piece is for one leg alone; none when it serves both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub parted: Option<Parted>,
}

/// Legs of a dart may differ by this much before the dart is called untrue, mm.
pub const LEG_TOLERANCE: f64 = 0.05;

/// Two seams meet when their ends are this near, mm.
const MEET: f64 = 1e-4;

/// Crossings nearer to a shared corner than this are the corner itself, mm.
const AT_CORNER: f64 = 1e-3;

impl Piece {
    /// The seam of that name.
    ///
    /// # Errors
    /// [`PatternError::NoSeam`] with the names there are.
    pub fn seam(&self, name: &str) -> Result<&Seam, PatternError> {
        self.seams.iter().find(|s| s.name == name).ok_or_else(|| self.no_seam(name))
    }

    /// The seam of that name, to change.
    ///
    /// # Errors
    /// [`PatternError::NoSeam`] with the names there are.
    pub fn seam_mut(&mut self, name: &str) -> Result<&mut Seam, PatternError> {
        let missing = self.no_seam(name);
        self.seams.iter_mut().find(|s| s.name == name).ok_or(missing)
    }

    fn no_seam(&self, name: &str) -> PatternError {
        let known: Vec<&str> = self.seams.iter().map(|s| s.name.as_str()).collect();
        PatternError::NoSeam {
            piece: self.name.clone(),
            name: name.to_owned(),
            known: known.join(", "),
        }
    }

    /// The index of the seam of that name in the order round the outline.
    ///
    /// # Errors
    /// [`PatternError::NoSeam`].
    pub fn seam_index(&self, name: &str) -> Result<usize, PatternError> {
        self.seams.iter().position(|s| s.name == name).ok_or_else(|| self.no_seam(name))
    }

    /// The corner of that name, mm.
    ///
    /// # Errors
    /// [`PatternError::NoCorner`] with the names there are.
    pub fn corner(&self, name: &str) -> Result<Point, PatternError> {
        self.corners().find(|(n, _)| *n == name).map(|(_, p)| p).ok_or_else(|| {
            let known: Vec<&str> = self.corners().map(|(n, _)| n).collect();
            PatternError::NoCorner {
                piece: self.name.clone(),
                name: name.to_owned(),
                known: known.join(", "),
            }
        })
    }

    /// The corners in order: name and place.
    pub fn corners(&self) -> impl Iterator<Item = (&str, Point)> {
        self.seams.iter().map(|s| (s.starts_at.as_str(), s.start()))
    }

    /// All darts, each with the seam it opens into and its index there.
    pub fn darts(&self) -> impl Iterator<Item = (&Seam, usize, &Dart)> {
        self.seams.iter().flat_map(|s| s.darts.iter().enumerate().map(move |(i, d)| (s, i, d)))
    }

    /// The seam and index of the dart of that name.
    ///
    /// # Errors
    /// [`PatternError::NoDart`] with the names there are.
    pub fn dart(&self, name: &str) -> Result<(&Seam, usize), PatternError> {
        let found = self.darts().find(|(_, _, d)| d.name == name).map(|(s, i, _)| (s, i));
        found.ok_or_else(|| {
            let known: Vec<&str> = self.darts().map(|(_, _, d)| d.name.as_str()).collect();
            PatternError::NoDart {
                piece: self.name.clone(),
                name: name.to_owned(),
                known: known.join(", "),
            }
        })
    }

    /// The outline as seam edges with dart mouths bridged straight, in order.
    ///
    /// # Errors
    /// [`PatternError`] when an edge is not a chain.
    pub fn edges(&self) -> Result<Vec<Chain>, PatternError> {
        let edge = |s: &Seam| {
            s.edge().map_err(PatternError::geometry(format!("following the {}", s.name)))
        };
        self.seams.iter().map(edge).collect()
    }

    /// The outline as a closed path, for drawing and hit tests.
    pub fn outline(&self) -> BezPath {
        let mut path = BezPath::new();
        path.move_to(self.seams[0].start());
        for seam in &self.seams {
            for (index, part) in seam.parts.iter().enumerate() {
                if index > 0 {
                    path.line_to(part.start());
                }
                part.append_to(&mut path);
            }
        }
        path.close_path();
        path
    }

    /// The signed area of the flat outline, mm², darts' mouths bridged straight;
    /// positive when the outline runs counter-clockwise. Exact (Green).
    pub fn signed_area(&self) -> f64 {
        let mut area = 0.0;
        let mut last = None;
        let mut first = None;
        for part in self.seams.iter().flat_map(|s| &s.parts) {
            if let Some(last) = last {
                area += bridge_area(last, part.start());
            }
            first = first.or(Some(part.start()));
            area += part.area_about_origin();
            last = Some(part.end());
        }
        if let (Some(last), Some(first)) = (last, first) {
            area += bridge_area(last, first);
        }
        area
    }

    /// +1 when the outline runs counter-clockwise, −1 when clockwise: the inside
    /// is to the left of travel for +1.
    pub fn orientation(&self) -> f64 {
        if self.signed_area() < 0.0 { -1.0 } else { 1.0 }
    }

    /// The smallest box that holds the piece.
    pub fn bounds(&self) -> Rect {
        let parts = self.seams.iter().flat_map(|s| &s.parts);
        parts.map(Chain::bounds).reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// Whether the point lies inside the outline.
    pub fn contains(&self, p: Point) -> bool {
        hangtrue_geometry::winding_of(self.outline_segments(), p) != 0
    }

    /// The closed outline, dart mouths bridged straight.
    fn outline_segments(&self) -> impl Iterator<Item = PathSeg> {
        let parts = || self.seams.iter().flat_map(|seam| &seam.parts);
        let next = parts().skip(1).chain(parts().take(1));
        parts().zip(next).flat_map(|(part, next)| {
            let bridge = PathSeg::Line(Line::new(part.end(), next.start()));
            part.segments().iter().copied().chain([bridge])
        })
    }

    /// The seam place nearest to `p`: index of the seam, the place, its distance.
    pub fn nearest(&self, p: Point) -> Option<(usize, SeamPoint, f64)> {
        self.nearest_within(p, f64::INFINITY)
    }

    /// The seam place nearest to `p`, if it is nearer than `reach` mm.
    pub fn nearest_within(&self, p: Point, reach: f64) -> Option<(usize, SeamPoint, f64)> {
        let mut best: Option<(usize, SeamPoint, f64)> = None;
        for (index, seam) in self.seams.iter().enumerate() {
            let least = best.as_ref().map_or(reach, |b| b.2);
            if let Some((place, distance)) = seam.nearest_within(p, least) {
                best = Some((index, place, distance));
            }
        }
        best
    }

    /// Where an endless line crosses the outline: index of the seam, sewn
    /// position on it, distance along the line from `line.p0`; in order along
    /// the line.
    pub fn crossings_with_line(&self, line: Line) -> Vec<(usize, f64, f64)> {
        let mut found: Vec<(usize, f64, f64)> = Vec::new();
        for (index, seam) in self.seams.iter().enumerate() {
            for c in seam.crossings_with_line(line) {
                if !found.iter().any(|f| (f.2 - c.there).abs() < AT_CORNER) {
                    found.push((index, c.here, c.there));
                }
            }
        }
        found.sort_by(|a, b| a.2.total_cmp(&b.2));
        found
    }

    /// From the first to the last crossing of an endless line with the outline, mm; none
    /// where the line misses the piece.
    pub fn width_along(&self, line: Line) -> Option<f64> {
        let found = self.crossings_with_line(line);
        Some(found.last()?.2 - found.first()?.2)
    }

    /// Checks what must hold of every piece: the outline closes, darts fit their
    /// seam and have equal legs, and the outline does not cross itself.
    ///
    /// # Errors
    /// The first [`PatternError`] found.
    pub fn check(&self) -> Result<(), PatternError> {
        self.check_darts()?;
        self.check_closed()?;
        self.check_simple()
    }

    fn check_darts(&self) -> Result<(), PatternError> {
        for seam in &self.seams {
            if seam.parts.len() != seam.darts.len() + 1 {
                return Err(PatternError::DartCount {
                    piece: self.name.clone(),
                    seam: seam.name.clone(),
                    parts: seam.parts.len(),
                    darts: seam.darts.len(),
                });
            }
            for (index, dart) in seam.darts.iter().enumerate() {
                let (first, second) = seam.leg_lengths(index);
                if (first - second).abs() > LEG_TOLERANCE {
                    return Err(PatternError::UnequalLegs {
                        piece: self.name.clone(),
                        dart: dart.name.clone(),
                        first: Length(first),
                        second: Length(second),
                    });
                }
            }
        }
        Ok(())
    }

    fn check_closed(&self) -> Result<(), PatternError> {
        for (index, seam) in self.seams.iter().enumerate() {
            let before = &self.seams[(index + self.seams.len() - 1) % self.seams.len()];
            let gap = before.end().distance(seam.start());
            if gap > MEET {
                return Err(PatternError::OpenOutline {
                    piece: self.name.clone(),
                    seam: seam.name.clone(),
                    gap: Length(gap),
                });
            }
        }
        Ok(())
    }

    fn check_simple(&self) -> Result<(), PatternError> {
        let edges = self.edges()?;
        let n = edges.len();
        for i in 0..n {
            for j in i..n {
                let crossing = if i == j {
                    crossing_of_itself(&edges[i])
                } else {
                    let shared = [edges[i].start(), edges[i].end()];
                    let mut points = edges[i].crossings(&edges[j]).into_iter().map(|c| c.point);
                    points.find(|p| {
                        let near = |q: &Point| q.distance(*p) < AT_CORNER;
                        let touches = [edges[j].start(), edges[j].end()].iter().any(near);
                        !(shared.iter().any(near) && touches)
                    })
                };
                if let Some(p) = crossing {
                    return Err(PatternError::SelfCrossing {
                        piece: self.name.clone(),
                        first: self.seams[i].name.clone(),
                        second: self.seams[j].name.clone(),
                        x: p.x,
                        y: p.y,
                    });
                }
            }
        }
        Ok(())
    }
}

fn bridge_area(a: Point, b: Point) -> f64 {
    0.5 * a.to_vec2().cross(b.to_vec2())
}

/// A place where a chain crosses itself: two of its segments (joints apart), or
/// one segment in a loop.
fn crossing_of_itself(chain: &Chain) -> Option<Point> {
    let segments: Vec<Chain> =
        chain.segments().iter().filter_map(|s| Chain::new(vec![*s]).ok()).collect();
    for (i, a) in segments.iter().enumerate() {
        for (j, b) in segments.iter().enumerate().skip(i + 1) {
            for c in a.crossings(b) {
                let at_joint = j == i + 1 && c.point.distance(a.end()) < AT_CORNER;
                if !at_joint {
                    return Some(c.point);
                }
            }
        }
        if let Some(p) = loop_of(a) {
            return Some(p);
        }
    }
    None
}

/// Where a chain of one segment crosses itself. A cubic can loop only when its
/// control legs turn the same way by more than half a turn together; then its
/// halves are crossed with each other.
fn loop_of(segment: &Chain) -> Option<Point> {
    let [PathSeg::Cubic(c)] = segment.segments() else { return None };
    let legs = [c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2];
    let (first, second) = (angle_between(legs[0], legs[1]), angle_between(legs[1], legs[2]));
    if first * second < 0.0 || (first + second).abs() < std::f64::consts::PI {
        return None;
    }
    let (before, after) = segment.split_at(segment.length() / 2.0).ok()?;
    let joint = before.end();
    let crossings = before.crossings(&after);
    crossings.into_iter().map(|c| c.point).find(|p| p.distance(joint) > AT_CORNER)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// A plain quadrilateral piece with the trouser names, for tests.
    pub(crate) fn simple_piece(points: [(f64, f64); 5]) -> Piece {
        use crate::names::*;
        let p = points.map(Point::from);
        let seam =
            |name, corner, i: usize| Seam::plain(name, corner, Chain::line(p[i], p[(i + 1) % 5]));
        Piece {
            name: BACK.into(),
            seams: vec![
                seam(WAIST, WAIST_SIDE, 0),
                seam(CROTCH, WAIST_CENTRE, 1),
                seam(INSEAM, CROTCH_POINT, 2),
                seam(HEM, HEM_INSEAM, 3),
                seam(SIDE, HEM_SIDE, 4),
            ],
            grain: Grain { from: Point::new(0.0, -700.0), to: Point::new(0.0, 100.0) },
            notches: vec![],
            inner: vec![],
            parted: None,
        }
    }

    pub(crate) fn plain_back() -> Piece {
        simple_piece([
            (110.0, 200.0),
            (-100.0, 200.0),
            (-200.0, 0.0),
            (-100.0, -700.0),
            (100.0, -700.0),
        ])
    }

    #[test]
    fn a_sound_piece_passes_and_its_area_is_the_shoelace() {
        let piece = plain_back();
        piece.check().unwrap();
        let p = [(110.0, 200.0), (-100.0, 200.0), (-200.0, 0.0), (-100.0, -700.0), (100.0, -700.0)];
        let shoelace: f64 =
            (0..5).map(|i| p[i].0 * p[(i + 1) % 5].1 - p[(i + 1) % 5].0 * p[i].1).sum::<f64>()
                / 2.0;
        assert!((piece.signed_area() - shoelace).abs() < 1e-6);
        assert!(piece.contains(Point::new(0.0, 0.0)));
        assert!(!piece.contains(Point::new(-190.0, 150.0)));
    }

    #[test]
    fn crossing_outlines_are_named() {
        let crossed = simple_piece([
            (110.0, 200.0),
            (-100.0, 200.0),
            (200.0, -300.0),
            (-100.0, -700.0),
            (100.0, -700.0),
        ]);
        let fault = crossed.check().unwrap_err();
        assert!(matches!(fault, PatternError::SelfCrossing { .. }), "{fault}");
    }

    #[test]
    fn a_loop_within_one_curve_is_found() {
        let cubic = |p1: (f64, f64), p2: (f64, f64)| {
            Chain::cubic(hangtrue_geometry::CubicBez::new((0.0, 0.0), p1, p2, (100.0, 0.0)))
        };
        assert!(crossing_of_itself(&cubic((200.0, 120.0), (-100.0, 120.0))).is_some());
        assert!(crossing_of_itself(&cubic((20.0, 60.0), (80.0, 60.0))).is_none());
        assert!(crossing_of_itself(&cubic((20.0, 60.0), (80.0, -60.0))).is_none());
    }

    #[test]
    fn an_open_outline_is_named() {
        let mut piece = plain_back();
        piece.seams[2] = Seam::plain(
            "inseam",
            "crotch point",
            Chain::line(Point::new(-199.0, 0.0), Point::new(-100.0, -700.0)),
        );
        assert!(matches!(piece.check(), Err(PatternError::OpenOutline { .. })));
    }

    #[test]
    fn a_wrong_name_lists_the_right_ones() {
        let fault = plain_back().seam("inside").unwrap_err().to_string();
        assert!(fault.contains("inseam"), "{fault}");
    }
}
