//! A chain: line, quadratic and cubic segments laid end to end.

use crate::words::Length;
use crate::{GeometryError, tolerance};
use kurbo::{
    Affine, BezPath, CubicBez, Line, ParamCurve, ParamCurveArclen, ParamCurveArea, ParamCurveDeriv,
    ParamCurveExtrema, PathEl, PathSeg, Point, QuadBez, Rect, Vec2,
};
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

/// A continuous open curve of at least one segment, coordinates in mm.
///
/// Lengths are arc lengths to [`tolerance::LENGTH`]; positions along the chain
/// are arc lengths from its start.
///
/// ```
/// use hangtrue_geometry::{Chain, Line, PathSeg, Point};
///
/// let corner = Point::new(30.0, 0.0);
/// let chain = Chain::new(vec![
///     PathSeg::Line(Line::new(Point::ORIGIN, corner)),
///     PathSeg::Line(Line::new(corner, Point::new(30.0, 40.0))),
/// ])?;
/// assert_eq!(chain.length(), 70.0);
/// assert_eq!(chain.point_at(50.0), Point::new(30.0, 20.0));
/// let (above, below) = chain.split_at(50.0)?;
/// assert_eq!(above.then(&below)?.length(), chain.length());
/// assert_eq!(chain.nearest(Point::new(35.0, 10.0)).position, 40.0);
/// // What leaves a gap is refused, with its width.
/// assert!(above.then(&chain).is_err());
/// # Ok::<(), hangtrue_geometry::GeometryError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[serde(try_from = "ChainRecord", into = "ChainRecord")]
pub struct Chain {
    segments: Vec<PathSeg>,
    lengths: Lengths,
}

/// The arc lengths of the segments, mm, computed once when first asked for. Not
/// part of what a chain is: two chains are equal by their segments.
#[derive(Debug, Clone, Default)]
struct Lengths(OnceLock<Box<[f64]>>);

impl PartialEq for Lengths {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// The place of a chain nearest to a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Arc length from the start of the chain, mm.
    pub position: f64,
    /// The place itself.
    pub point: Point,
    /// Distance from the point asked about, mm.
    pub distance: f64,
    /// Unit direction of travel there.
    pub direction: Vec2,
}

impl Chain {
    /// Builds a chain from segments that meet end to end. A gap too small to be
    /// refused is closed: the later segment starts exactly where the earlier ends.
    ///
    /// # Errors
    /// [`GeometryError`] when there is no segment, a coordinate is not finite,
    /// or two segments lie further apart than [`tolerance::SAME_POINT`].
    pub fn new(mut segments: Vec<PathSeg>) -> Result<Self, GeometryError> {
        if segments.is_empty() {
            return Err(GeometryError::Empty);
        }
        let mut before: Option<Point> = None;
        for (index, segment) in segments.iter_mut().enumerate() {
            if !segment.is_finite() {
                return Err(GeometryError::NotFinite { index });
            }
            if let Some(end) = before {
                let gap = end.distance(segment.start());
                if gap > tolerance::SAME_POINT {
                    return Err(GeometryError::Broken { index, gap: Length(gap) });
                }
                start_at(segment, end);
            }
            before = Some(segment.end());
        }
        Ok(Self::made(segments))
    }

    /// A straight chain from `a` to `b`.
    pub fn line(a: Point, b: Point) -> Self {
        Self::made(vec![PathSeg::Line(Line::new(a, b))])
    }

    /// A chain of one cubic.
    pub fn cubic(curve: CubicBez) -> Self {
        Self::made(vec![PathSeg::Cubic(curve)])
    }

    fn made(segments: Vec<PathSeg>) -> Self {
        Self { segments, lengths: Lengths::default() }
    }

    /// The arc length of each segment, mm.
    pub fn lengths(&self) -> &[f64] {
        self.lengths.0.get_or_init(|| self.segments.iter().map(segment_length).collect())
    }

    /// The segments in order.
    pub fn segments(&self) -> &[PathSeg] {
        &self.segments
    }

    /// The first point.
    pub fn start(&self) -> Point {
        self.segments[0].start()
    }

    /// The last point.
    pub fn end(&self) -> Point {
        self.segments[self.segments.len() - 1].end()
    }

    /// The arc length, mm.
    pub fn length(&self) -> f64 {
        self.lengths().iter().sum()
    }

    /// The same curve walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self::made(self.segments.iter().rev().map(PathSeg::reverse).collect())
    }

    /// The chain moved by an affine map (segments stay segments of their kind).
    #[must_use]
    pub fn moved(&self, by: Affine) -> Self {
        Self::made(self.segments.iter().map(|&s| by * s).collect())
    }

    /// The segment, and the parameter within it, at arc length `position`;
    /// positions outside are held at the ends.
    pub fn locate(&self, position: f64) -> (usize, f64) {
        let mut left = position.max(0.0);
        for (index, (segment, &length)) in self.segments.iter().zip(self.lengths()).enumerate() {
            if left <= length {
                return (index, parameter_at(segment, left, length));
            }
            left -= length;
        }
        (self.segments.len() - 1, 1.0)
    }

    /// The point at arc length `position`, mm.
    pub fn point_at(&self, position: f64) -> Point {
        let (index, t) = self.locate(position);
        self.segments[index].eval(t)
    }

    /// The unit direction of travel at arc length `position`, mm.
    pub fn direction_at(&self, position: f64) -> Vec2 {
        self.place_at(position).1
    }

    /// The point and the unit direction of travel at arc length `position`, mm.
    pub fn place_at(&self, position: f64) -> (Point, Vec2) {
        let (index, t) = self.locate(position);
        (self.segments[index].eval(t), segment_direction(&self.segments[index], t))
    }

    /// The unit direction of travel at the start.
    pub fn start_direction(&self) -> Vec2 {
        segment_direction(&self.segments[0], 0.0)
    }

    /// The unit direction of travel at the end.
    pub fn end_direction(&self) -> Vec2 {
        segment_direction(&self.segments[self.segments.len() - 1], 1.0)
    }

    /// Cuts the chain at arc length `position`, mm, strictly inside it.
    ///
    /// # Errors
    /// [`GeometryError::OutsideLength`] when the cut would leave a part shorter
    /// than [`tolerance::SAME_POINT`].
    pub fn split_at(&self, position: f64) -> Result<(Self, Self), GeometryError> {
        let length = self.length();
        let inside = tolerance::SAME_POINT..=(length - tolerance::SAME_POINT);
        if !inside.contains(&position) {
            return Err(GeometryError::OutsideLength {
                asked: Length(position),
                length: Length(length),
            });
        }
        let (index, t) = self.locate(position);
        let mut before = self.segments[..index].to_vec();
        let mut after = Vec::new();
        let segment = self.segments[index];
        // A cut within a hair of a segment end would leave a sliver segment.
        let sliver = 1e-9;
        if t > sliver {
            before.push(segment.subsegment(0.0..t.min(1.0)));
        }
        if t < 1.0 - sliver {
            after.push(segment.subsegment(t.max(0.0)..1.0));
        }
        after.extend_from_slice(&self.segments[index + 1..]);
        let mut before = Self::made(before);
        let after = Self::made(after);
        before.move_end_point(after.start());
        Ok((before, after))
    }

    /// The part between two arc lengths, mm.
    ///
    /// # Errors
    /// [`GeometryError::OutsideLength`] when the part would be empty or outside.
    pub fn part(&self, from: f64, to: f64) -> Result<Self, GeometryError> {
        let length = self.length();
        let mut kept = self.clone();
        if to < length - tolerance::SAME_POINT {
            kept = kept.split_at(to)?.0;
        } else if to > length + tolerance::SAME_POINT {
            return Err(GeometryError::OutsideLength { asked: Length(to), length: Length(length) });
        }
        if from > tolerance::SAME_POINT {
            kept = kept.split_at(from)?.1;
        } else if from < -tolerance::SAME_POINT {
            return Err(GeometryError::OutsideLength {
                asked: Length(from),
                length: Length(length),
            });
        }
        Ok(kept)
    }

    /// This chain followed by `next`, which must start where this one ends.
    ///
    /// # Errors
    /// [`GeometryError::Broken`] when the two do not meet.
    pub fn then(&self, next: &Self) -> Result<Self, GeometryError> {
        let mut segments = self.segments.clone();
        segments.extend_from_slice(&next.segments);
        Self::new(segments)
    }

    /// The chain with a straight length added at its end (positive, mm) along
    /// its end direction, or with that much cut off (negative).
    ///
    /// # Errors
    /// [`GeometryError::OutsideLength`] when more is cut off than there is.
    pub fn lengthened(&self, by: f64) -> Result<Self, GeometryError> {
        if by.abs() <= tolerance::SAME_POINT {
            return Ok(self.clone());
        }
        if by < 0.0 {
            return Ok(self.split_at(self.length() + by)?.0);
        }
        let end = self.end();
        let far = end + self.end_direction() * by;
        let mut segments = self.segments.clone();
        match segments.last_mut() {
            Some(PathSeg::Line(line)) => line.p1 = far,
            _ => segments.push(PathSeg::Line(Line::new(end, far))),
        }
        Self::new(segments)
    }

    /// The place of the chain nearest to `p`.
    pub fn nearest(&self, p: Point) -> Nearest {
        self.nearest_within(p, f64::INFINITY).unwrap_or_else(|| Nearest {
            position: 0.0,
            point: self.start(),
            distance: self.start().distance(p),
            direction: self.start_direction(),
        })
    }

    /// The place of the chain nearest to `p`, if it is nearer than `reach` mm.
    ///
    /// Segments whose control points all lie too far away are passed over. On
    /// the others the best of a few samples is bracketed by golden section and
    /// finished by Newton's method on (C(t) − p)·C′(t) = 0.
    pub fn nearest_within(&self, p: Point, reach: f64) -> Option<Nearest> {
        let boxes = self.segments.iter().enumerate().map(|(i, s)| (box_distance(s, p), i));
        let mut order: Vec<(f64, usize)> = boxes.filter(|b| b.0 <= reach).collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best: Option<(f64, usize, f64)> = None;
        for (at_least, index) in order {
            let least = best.map_or(reach, |b| b.0);
            if at_least > least {
                break;
            }
            let t = nearest_parameter(&self.segments[index], p);
            let distance = self.segments[index].eval(t).distance(p);
            let earlier = best.is_some_and(|b| distance == b.0 && index < b.1);
            if distance < least || earlier {
                best = Some((distance, index, t));
            }
        }
        let (distance, index, t) = best?;
        let before: f64 = self.lengths()[..index].iter().sum();
        let within = segment_length(&self.segments[index].subsegment(0.0..t));
        let point = self.segments[index].eval(t);
        let direction = segment_direction(&self.segments[index], t);
        Some(Nearest { position: before + within, point, distance, direction })
    }

    /// The area swept between the chain and the origin, mm²; the
    /// sum over a closed loop of chains is its signed area (counter-clockwise
    /// positive), exact by Green's theorem.
    pub fn area_about_origin(&self) -> f64 {
        self.segments.iter().map(ParamCurveArea::signed_area).sum()
    }

    /// The smallest box that holds the curve.
    pub fn bounds(&self) -> Rect {
        let boxes = self.segments.iter().map(ParamCurveExtrema::bounding_box);
        boxes.reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// As a kurbo path, for drawing.
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        path.push(PathEl::MoveTo(self.start()));
        self.append_to(&mut path);
        path
    }

    /// Appends the segments to a path that already stands at the start point.
    pub fn append_to(&self, path: &mut BezPath) {
        for segment in &self.segments {
            path.push(segment.as_path_el());
        }
    }

    /// The chain with its first and last points moved, the control points
    /// between following by a weight that falls to nothing along the chain, so
    /// that shape is disturbed least. Each control point moves by the
    /// chord-parameter mix of the two end moves.
    #[must_use]
    pub fn with_ends(&self, start: Point, end: Point) -> Self {
        let (a, b) = (self.start(), self.end());
        let (move_a, move_b) = (start - a, end - b);
        let lengths = self.lengths();
        let total: f64 = lengths.iter().sum::<f64>().max(tolerance::SAME_POINT);
        let mut done = 0.0;
        let mut segments = Vec::with_capacity(self.segments.len());
        for (segment, length) in self.segments.iter().zip(lengths) {
            let weight = |fraction: f64| ((done + fraction * length) / total).clamp(0.0, 1.0);
            let shift = |p: Point, fraction: f64| {
                let w = weight(fraction);
                p + move_a * (1.0 - w) + move_b * w
            };
            segments.push(match *segment {
                PathSeg::Line(l) => PathSeg::Line(Line::new(shift(l.p0, 0.0), shift(l.p1, 1.0))),
                PathSeg::Quad(q) => PathSeg::Quad(QuadBez::new(
                    shift(q.p0, 0.0),
                    shift(q.p1, 0.5),
                    shift(q.p2, 1.0),
                )),
                PathSeg::Cubic(c) => PathSeg::Cubic(CubicBez::new(
                    shift(c.p0, 0.0),
                    shift(c.p1, 1.0 / 3.0),
                    shift(c.p2, 2.0 / 3.0),
                    shift(c.p3, 1.0),
                )),
            });
            done += length;
        }
        let mut moved = Self::made(segments);
        moved.move_end_point(end);
        moved
    }

    /// [`Self::with_ends`], then the first and last handles aimed back along the
    /// directions the chain had, so that what joins it square stays square.
    /// A straight chain becomes a cubic when its ends no longer lie in line.
    #[must_use]
    pub fn with_ends_keeping_directions(&self, start: Point, end: Point) -> Self {
        let (leave, arrive) = (self.start_direction(), self.end_direction());
        self.with_ends(start, end).aimed(leave, arrive)
    }

    /// The chain with its first and last handles turned to the given directions,
    /// their lengths kept.
    #[must_use]
    pub fn aimed(&self, leave: Vec2, arrive: Vec2) -> Self {
        let straight = |from: Vec2, to: Vec2| {
            crate::angle_between(from, to).abs() <= tolerance::SAME_DIRECTION
        };
        let mut aimed = self.clone();
        let last = aimed.segments.len() - 1;
        if !straight(leave, aimed.start_direction()) {
            let mut c = as_cubic(&aimed.segments[0]);
            let handle = handle_length(c.p0, c.p1, c.p3);
            c.p1 = c.p0 + leave.normalize() * handle;
            aimed.segments[0] = PathSeg::Cubic(c);
            aimed.lengths = Lengths::default();
        }
        if !straight(arrive, aimed.end_direction()) {
            let mut c = as_cubic(&aimed.segments[last]);
            let handle = handle_length(c.p3, c.p2, c.p0);
            c.p2 = c.p3 - arrive.normalize() * handle;
            aimed.segments[last] = PathSeg::Cubic(c);
            aimed.lengths = Lengths::default();
        }
        aimed
    }

    /// The chain with segments shorter than `shortest` mm at its start taken up
    /// by the segment behind them; start point and start direction are kept. A
    /// sliver left by a cut cannot follow when the chain is reshaped.
    #[must_use]
    pub fn without_short_start(&self, shortest: f64) -> Self {
        let (start, leave) = (self.start(), self.start_direction());
        let short = |length: &&f64| **length < shortest;
        let count = self.lengths().iter().take_while(short).count().min(self.segments.len() - 1);
        if count == 0 {
            return self.clone();
        }
        let mut segments = self.segments[count..].to_vec();
        let by = start - segments[0].start();
        match &mut segments[0] {
            PathSeg::Line(l) => l.p0 = start,
            PathSeg::Quad(q) => q.p0 = start,
            PathSeg::Cubic(c) => {
                c.p0 = start;
                c.p1 += by;
            }
        }
        let kept = Self::made(segments);
        let arrive = kept.end_direction();
        kept.aimed(leave, arrive)
    }

    fn move_end_point(&mut self, to: Point) {
        self.lengths = Lengths::default();
        match self.segments.last_mut() {
            Some(PathSeg::Line(l)) => l.p1 = to,
            Some(PathSeg::Quad(q)) => q.p2 = to,
            Some(PathSeg::Cubic(c)) => c.p3 = to,
            None => {}
        }
    }
}

/// The length of a handle, or a third of the chord where it has none.
fn handle_length(end: Point, handle: Point, far: Point) -> f64 {
    let length = end.distance(handle);
    if length > tolerance::SAME_POINT { length } else { end.distance(far) / 3.0 }
}

/// Moves the first point of a segment.
pub(crate) fn start_at(segment: &mut PathSeg, at: Point) {
    match segment {
        PathSeg::Line(l) => l.p0 = at,
        PathSeg::Quad(q) => q.p0 = at,
        PathSeg::Cubic(c) => c.p0 = at,
    }
}

/// The arc length of one segment, mm, to [`tolerance::LENGTH`].
pub(crate) fn segment_length(segment: &PathSeg) -> f64 {
    if let PathSeg::Quad(q) = segment {
        // kurbo's closed formula for a parabola divides by its size.
        let polygon = q.p0.distance(q.p1) + q.p1.distance(q.p2);
        if polygon <= tolerance::LENGTH {
            return polygon;
        }
    }
    segment.arclen(tolerance::LENGTH)
}

/// The segment as a cubic with the *same parameter*: kurbo's own `to_cubic`
/// puts a line's handles on its ends, which changes its speed.
pub(crate) fn as_cubic(segment: &PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(l) => {
            CubicBez::new(l.p0, l.p0.lerp(l.p1, 1.0 / 3.0), l.p0.lerp(l.p1, 2.0 / 3.0), l.p1)
        }
        _ => segment.to_cubic(),
    }
}

fn parameter_at(segment: &PathSeg, along: f64, length: f64) -> f64 {
    if length <= tolerance::SAME_POINT {
        return 0.0;
    }
    match segment {
        PathSeg::Line(_) => along / length,
        _ => by_newton(&as_cubic(segment), along, length)
            .unwrap_or_else(|| segment.inv_arclen(along, tolerance::LENGTH))
            .clamp(0.0, 1.0),
    }
}

/// The parameter at an arc length by Newton's method, each step measured from the place
/// before so that only a short stretch is left to integrate; none where that does not
/// settle, as near a cusp.
fn by_newton(curve: &CubicBez, along: f64, length: f64) -> Option<f64> {
    const STEPS: usize = 8;
    let speed = curve.deriv();
    let mut t = along / length;
    let mut at = curve.subsegment(0.0..t).arclen(0.1 * tolerance::LENGTH);
    for _ in 0..STEPS {
        let rest = along - at;
        if rest.abs() <= tolerance::LENGTH {
            return Some(t);
        }
        let next = t + rest / speed.eval(t).to_vec2().hypot();
        if !(0.0..=1.0).contains(&next) {
            return None;
        }
        let stretch = curve.subsegment(t.min(next)..t.max(next)).arclen(0.1 * tolerance::LENGTH);
        at += stretch.copysign(next - t);
        t = next;
    }
    None
}

/// The unit direction of a segment at parameter `t`; where the derivative
/// vanishes (a control point on its end) the direction towards the next
/// distinct control point.
pub(crate) fn segment_direction(segment: &PathSeg, t: f64) -> Vec2 {
    let cubic = as_cubic(segment);
    let derivative = cubic.deriv().eval(t).to_vec2();
    if derivative.hypot() > tolerance::SAME_POINT {
        return derivative.normalize();
    }
    let (here, others) = if t < 0.5 {
        (cubic.p0, [cubic.p1, cubic.p2, cubic.p3])
    } else {
        (cubic.p3, [cubic.p2, cubic.p1, cubic.p0])
    };
    let sign = if t < 0.5 { 1.0 } else { -1.0 };
    let away = others.into_iter().map(|p| p - here).find(|v| v.hypot() > tolerance::SAME_POINT);
    away.map_or(Vec2::new(1.0, 0.0), |v| v.normalize() * sign)
}

/// The box of a segment's control points: the segment lies inside it.
pub(crate) fn control_box(segment: &PathSeg) -> Rect {
    match *segment {
        PathSeg::Line(l) => Rect::from_points(l.p0, l.p1),
        PathSeg::Quad(q) => Rect::from_points(q.p0, q.p1).union_pt(q.p2),
        PathSeg::Cubic(c) => Rect::from_points(c.p0, c.p1).union_pt(c.p2).union_pt(c.p3),
    }
}

/// The least distance from `p` to the box of a segment's control points, mm: the
/// segment lies inside it.
fn box_distance(segment: &PathSeg, p: Point) -> f64 {
    let hull = control_box(segment);
    let dx = (hull.x0 - p.x).max(p.x - hull.x1).max(0.0);
    let dy = (hull.y0 - p.y).max(p.y - hull.y1).max(0.0);
    dx.hypot(dy)
}

/// The parameter of a segment nearest to `p`.
fn nearest_parameter(segment: &PathSeg, p: Point) -> f64 {
    if let PathSeg::Line(l) = segment {
        let along = l.p1 - l.p0;
        let whole = along.hypot2();
        return if whole == 0.0 { 0.0 } else { ((p - l.p0).dot(along) / whole).clamp(0.0, 1.0) };
    }
    const SAMPLES: usize = 24;
    const BRACKET: usize = 10;
    /// Steps enough to find a least without Newton: at a cusp.
    const THOROUGH: usize = 60;
    let cubic = as_cubic(segment);
    let distance = |t: f64| cubic.eval(t).distance_squared(p);
    let at = |i: usize| i as f64 / SAMPLES as f64;
    let mut sampled = [0.0; SAMPLES + 1];
    for (i, d) in sampled.iter_mut().enumerate() {
        *d = distance(at(i));
    }
    // A curve that doubles back is near in more than one place: each valley of
    // the samples is followed to its floor.
    let valley = |i: &usize| {
        (*i == 0 || sampled[*i] <= sampled[i - 1])
            && (*i == SAMPLES || sampled[*i] <= sampled[i + 1])
    };
    let floors = (0..=SAMPLES).filter(valley).map(|i| {
        let (low, high) = (at(i.saturating_sub(1)), at((i + 1).min(SAMPLES)));
        let guess = crate::smallest(distance, low, high, BRACKET);
        polish_nearest(&cubic, p, guess).unwrap_or_else(|| {
            let thorough = crate::smallest(distance, low, high, THOROUGH);
            let ends = [thorough, 0.0, 1.0];
            ends.into_iter()
                .min_by(|a, b| distance(*a).total_cmp(&distance(*b)))
                .unwrap_or(thorough)
        })
    });
    floors.min_by(|a, b| distance(*a).total_cmp(&distance(*b))).unwrap_or(0.0)
}

/// Newton's method from `guess`; none when it does not settle, or settles on a
/// place farther away than the guess or an end.
fn polish_nearest(cubic: &CubicBez, p: Point, guess: f64) -> Option<f64> {
    let (first, second) = (cubic.deriv(), cubic.deriv().deriv());
    let mut t = guess;
    let mut settled = false;
    for _ in 0..12 {
        let away = cubic.eval(t) - p;
        let d1 = first.eval(t).to_vec2();
        let d2 = second.eval(t).to_vec2();
        let slope = d1.dot(d1) + away.dot(d2);
        if slope <= 0.0 {
            break;
        }
        let next = (t - away.dot(d1) / slope).clamp(0.0, 1.0);
        settled = (next - t).abs() < 1e-14;
        t = next;
        if settled {
            break;
        }
    }
    // The distance is flat at its least: among places whose distances differ by
    // rounding only, Newton's is the accurate one.
    const ROUNDING: f64 = 1e-12;
    let distance = |t: f64| cubic.eval(t).distance(p);
    let here = distance(t);
    let least = [guess, 0.0, 1.0].into_iter().map(distance).fold(f64::INFINITY, f64::min);
    (settled && here <= least + ROUNDING).then_some(t)
}

/// How a chain is written in a file: a start point, then steps.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[serde(rename = "Curve")]
struct ChainRecord {
    start: (f64, f64),
    steps: Vec<Step>,
}

#[derive(Serialize, Deserialize)]
enum Step {
    Line((f64, f64)),
    Quad((f64, f64), (f64, f64)),
    Cubic((f64, f64), (f64, f64), (f64, f64)),
}

fn pair(p: Point) -> (f64, f64) {
    (p.x, p.y)
}

impl From<Chain> for ChainRecord {
    fn from(chain: Chain) -> Self {
        let steps = chain.segments.iter().map(|s| match *s {
            PathSeg::Line(l) => Step::Line(pair(l.p1)),
            PathSeg::Quad(q) => Step::Quad(pair(q.p1), pair(q.p2)),
            PathSeg::Cubic(c) => Step::Cubic(pair(c.p1), pair(c.p2), pair(c.p3)),
        });
        Self { start: pair(chain.start()), steps: steps.collect() }
    }
}

impl TryFrom<ChainRecord> for Chain {
    type Error = GeometryError;
    fn try_from(record: ChainRecord) -> Result<Self, Self::Error> {
        let mut at = Point::from(record.start);
        let mut segments = Vec::with_capacity(record.steps.len());
        for step in record.steps {
            let segment = match step {
                Step::Line(p) => PathSeg::Line(Line::new(at, Point::from(p))),
                Step::Quad(p, q) => PathSeg::Quad(QuadBez::new(at, Point::from(p), Point::from(q))),
                Step::Cubic(p, q, r) => PathSeg::Cubic(CubicBez::new(
                    at,
                    Point::from(p),
                    Point::from(q),
                    Point::from(r),
                )),
            };
            at = segment.end();
            segments.push(segment);
        }
        Chain::new(segments)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn point() -> impl Strategy<Value = Point> {
        (-300.0f64..300.0, -300.0f64..300.0).prop_map(|(x, y)| Point::new(x, y))
    }

    prop_compose! {
        fn chains()(p in proptest::collection::vec(point(), 7)) -> Chain {
            Chain::new(vec![
                PathSeg::Line(Line::new(p[0], p[1])),
                PathSeg::Cubic(CubicBez::new(p[1], p[2], p[3], p[4])),
                PathSeg::Quad(QuadBez::new(p[4], p[5], p[6])),
            ]).unwrap()
        }
    }

    #[test]
    fn refuses_a_gap_and_a_nan() {
        let a = PathSeg::Line(Line::new((0.0, 0.0), (1.0, 0.0)));
        let b = PathSeg::Line(Line::new((1.1, 0.0), (2.0, 0.0)));
        assert!(matches!(Chain::new(vec![a, b]), Err(GeometryError::Broken { index: 1, .. })));
        let n = PathSeg::Line(Line::new((0.0, f64::NAN), (1.0, 0.0)));
        assert_eq!(Chain::new(vec![n]), Err(GeometryError::NotFinite { index: 0 }));
        assert_eq!(Chain::new(vec![]), Err(GeometryError::Empty));
    }

    #[test]
    fn a_curve_shrunk_to_a_point_has_no_length() {
        let p = Point::new(30.0, 40.0);
        let (quad, cubic) = (QuadBez::new(p, p, p), CubicBez::new(p, p, p, p));
        for segment in [PathSeg::Quad(quad), PathSeg::Cubic(cubic), Line::new(p, p).into()] {
            assert_eq!(segment_length(&segment), 0.0);
        }
        // Asked about its own start, a parabola answers with position 0.
        let arc = QuadBez::new((0.0, 0.0), (50.0, 10.0), (100.0, 80.0));
        let chain = Chain::new(vec![PathSeg::Quad(arc)]).unwrap();
        assert_eq!(chain.nearest(Point::new(-9.0, -1.0)).position, 0.0);
    }

    #[test]
    fn a_gap_of_rounding_is_closed() {
        let a = PathSeg::Line(Line::new((0.0, 0.0), (1.0, 0.0)));
        let b = PathSeg::Line(Line::new((1.0 + 5e-7, 0.0), (2.0, 0.0)));
        let chain = Chain::new(vec![a, b]).unwrap();
        assert_eq!(chain.segments()[1].start(), chain.segments()[0].end());
        assert!((chain.length() - 2.0).abs() < 1e-15);
    }

    proptest! {
        #[test]
        fn the_two_parts_of_a_split_add_up(chain in chains(), f in 0.01f64..0.99) {
            let length = chain.length();
            let (a, b) = chain.split_at(f * length).unwrap();
            prop_assert!((a.length() - f * length).abs() < 1e-6);
            prop_assert!((a.length() + b.length() - length).abs() < 1e-6);
            prop_assert!(a.end() == b.start());
        }

        #[test]
        fn rigid_moves_keep_length_and_nearest_distance(
            chain in chains(), turn in -3.0f64..3.0, p in point()
        ) {
            let m = crate::turn_about(p, turn);
            prop_assert!((chain.moved(m).length() - chain.length()).abs() < 1e-6);
            let q = Point::new(p.y, p.x);
            let d0 = chain.nearest(q).distance;
            prop_assert!((chain.moved(m).nearest(m * q).distance - d0).abs() < 1e-6);
        }

        #[test]
        fn the_nearest_place_is_no_farther_than_any_sample(chain in chains(), p in point()) {
            let near = chain.nearest(p);
            prop_assert!(chain.point_at(near.position).distance(near.point) < 1e-6);
            let length = chain.length();
            for i in 0..=200 {
                let q = chain.point_at(length * f64::from(i) / 200.0);
                prop_assert!(q.distance(p) >= near.distance - 1e-6);
            }
        }

        #[test]
        fn reversing_twice_is_the_same_curve(chain in chains()) {
            prop_assert_eq!(chain.reversed().reversed(), chain);
        }

        #[test]
        fn lengthening_is_exact(chain in chains(), by in -20.0f64..50.0) {
            prop_assume!(chain.length() > 40.0);
            let longer = chain.lengthened(by).unwrap();
            prop_assert!((longer.length() - chain.length() - by).abs() < 1e-6);
        }

        #[test]
        fn moving_the_ends_hits_the_ends(chain in chains(), a in point(), b in point()) {
            let moved = chain.with_ends(a, b);
            prop_assert!(moved.start().distance(a) < 1e-9);
            prop_assert!(moved.end() == b);
        }

        #[test]
        fn a_sliver_at_the_start_is_taken_up(chain in chains(), cut in 0.01f64..0.9) {
            prop_assume!(chain.length() > 40.0);
            let (_, rest) = chain.split_at(10.0).unwrap();
            let (sliver, tail) = rest.split_at(cut).unwrap();
            let slivered = sliver.then(&tail).unwrap();
            let merged = slivered.without_short_start(1.0);
            prop_assert!(merged.segments().len() < slivered.segments().len());
            prop_assert!(merged.start() == slivered.start() && merged.end() == slivered.end());
            let turn = crate::angle_between(merged.start_direction(), slivered.start_direction());
            prop_assert!(turn.abs() < 1e-6);
        }

        #[test]
        fn aiming_hits_the_directions(chain in chains(), a in point(), b in point()) {
            prop_assume!(a.to_vec2().hypot() > 1.0 && b.to_vec2().hypot() > 1.0);
            let aimed = chain.aimed(a.to_vec2(), b.to_vec2());
            prop_assert!(crate::angle_between(aimed.start_direction(), a.to_vec2()).abs() < 1e-6);
            prop_assert!(crate::angle_between(aimed.end_direction(), b.to_vec2()).abs() < 1e-6);
            prop_assert!(aimed.start() == chain.start() && aimed.end() == chain.end());
        }
    }
}
