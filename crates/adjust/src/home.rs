//! The home shape of a line: how it hangs on a toile that fits.
//!
//! Two seams that converge make the cloth between them a part of a cone once it is
//! sewn round a leg, and on a cone only an arc about the apex is level. A straight
//! line of width W between seams that converge by β hangs `W/2·tan(β/4)` lower in
//! its middle than at its ends, along the cloth; plumb a little less. Closed form; a
//! general line is measured against the arc through its two ends.
//!
//! Predicted, not seen: no toile on a body has been compared with it yet.

use hangtrue_geometry::{Chain, Point, Vec2};
use hangtrue_pattern::{End, Pattern, Piece, PlacedLine, names};
use serde::Serialize;

/// Two standard deviations of how a line hangs at home, mm, that nothing predicted is told
/// finer than: no toile has been measured.
pub const HOME_ERROR: f64 = 4.0;

/// Two standard deviations of the bow of a home shape in closed form: as a share of the bow,
/// and at the least, mm. Toiles of 12 survey bodies settled by our own model
/// (docs/reading.md) hung off it by 7.7 mm (root of the mean square) at the back thigh, 3.5
/// at the front thigh and 2.1 and 2.5 at the hip balance line.
const BOW_SHARE: f64 = 0.4;
const BOW_LEAST: f64 = 5.0;

/// The same at the least of knee and hem: 2.9 mm at the back knee, 7.3 at the front.
const BOW_LEAST_LOW: f64 = 11.0;

/// Two standard deviations of how much lower or higher the inner end of a line hangs at
/// home than the closed form has it, against its side end, mm: by the same toiles 6.4 and
/// 8.8 mm at the hip balance line of back and front, 4.9 at the thigh line, 4.3 at the knee.
const TILT_HIP: f64 = 15.0;
const TILT_THIGH: f64 = 10.0;
const TILT_LOW: f64 = 9.0;

/// Seams that converge by less than this are parallel: level is straight, radians.
const PARALLEL: f64 = 1e-9;

/// How a line hangs on a toile that fits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HomeShape {
    /// The line.
    pub line: String,
    /// Its piece.
    pub piece: String,
    /// The seams it runs between: at its start and at its end.
    pub seams: [String; 2],
    /// Straight distance between its ends, mm.
    pub width: f64,
    /// How much the two seams come together below the line, radians; negative when
    /// they come together above it.
    pub converge: f64,
    /// How much lower than the middle height of what it is sewn to the line starts
    /// and ends, mm: half of its step at that seam.
    pub ends: [f64; 2],
    /// A length along the cloth is so many times as much plumb down: the cosine of the
    /// half angle of the cone that the pieces make round the body.
    pub plumb: f64,
    #[serde(skip)]
    chain: Chain,
    #[serde(skip)]
    level: Level,
}

/// The level curve through the two ends of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Level {
    middle: Point,
    /// From start to end, length 1.
    along: Vec2,
    /// Square to it, towards the hem, length 1.
    down: Vec2,
    half: f64,
    converge: f64,
}

impl Level {
    /// How far a point lies below the level curve, mm.
    fn below(&self, p: Point) -> f64 {
        let from = p - self.middle;
        let (x, y) = (from.dot(self.along), from.dot(self.down));
        if self.converge.abs() < PARALLEL {
            return y;
        }
        let turn = 0.5 * self.converge;
        // The apex lies below the middle of the line, or above it when negative.
        let apex = self.half / turn.tan();
        let (radius, here) = (self.half / turn.sin().abs(), x.hypot(apex - y));
        // radius − here, without losing its digits when the apex lies far away.
        let squares = self.half * self.half - x * x + 2.0 * apex * y - y * y;
        self.converge.signum() * squares / (radius + here)
    }
}

impl HomeShape {
    /// How far below level the line hangs at a share of its length, mm.
    pub fn droop_at(&self, share: f64) -> f64 {
        let bow = self.level.below(self.chain.point_at(share * self.chain.length()));
        self.plumb * bow + self.ends[0] * (1.0 - share) + self.ends[1] * share
    }

    /// How far below its place at the side seam the line hangs, at a share of its length
    /// from the inner end, mm: as a droop is measured.
    pub fn below_side(&self, from_inner: f64) -> f64 {
        let at = |share: f64| self.droop_at(self.share_from_inner(share));
        at(from_inner) - at(1.0)
    }

    /// Two standard deviations, mm, of each of the ways in which [`Self::below_side`] may be
    /// off at a share of the length from the inner end: in the bow, most in the middle; in
    /// how the whole line tilts, most at the inner end; and in how a step at a seam is
    /// shared, by halves or otherwise. Each way holds along the whole line and on both legs.
    pub fn errors_from_inner(&self, share: f64) -> [f64; 3] {
        let ends = if self.starts_at_side() { [self.ends[1], self.ends[0]] } else { self.ends };
        let step = ends[0].abs() * (1.0 - share) + ends[1].abs() * share;
        [4.0 * share * (1.0 - share) * self.error(), (1.0 - share) * self.tilt_error(), step]
    }

    /// Two standard deviations of the bow, mm.
    pub fn error(&self) -> f64 {
        let low = self.is_low();
        let least = if low { BOW_LEAST_LOW } else { BOW_LEAST };
        least.max(BOW_SHARE * self.bow().abs())
    }

    /// Two standard deviations of how much lower its inner end hangs than its side end, mm.
    fn tilt_error(&self) -> f64 {
        match self.line.as_str() {
            names::THIGH => TILT_THIGH,
            _ if self.is_low() => TILT_LOW,
            _ => TILT_HIP,
        }
    }

    /// Whether it lies at the knee or below.
    fn is_low(&self) -> bool {
        self.line == names::KNEE || self.line == names::HEM
    }

    /// How much lower the middle hangs than the ends do, mm.
    pub fn bow(&self) -> f64 {
        self.droop_at(0.5) - 0.5 * (self.droop_at(0.0) + self.droop_at(1.0))
    }

    /// How long the line is, mm.
    pub fn length(&self) -> f64 {
        self.chain.length()
    }

    /// Whether the line starts at the side seam.
    pub fn starts_at_side(&self) -> bool {
        self.seams[0] == names::SIDE
    }

    /// The share of its length from the start, for a share from the inner end.
    pub fn share_from_inner(&self, share: f64) -> f64 {
        if self.starts_at_side() { 1.0 - share } else { share }
    }
}

/// The home shapes of all lines of a pattern that run from seam to seam, and of the
/// hems.
pub fn home_shapes(pattern: &Pattern) -> Vec<HomeShape> {
    let (lines, _) = pattern.place_lines();
    let hems = pattern.pieces.iter().filter_map(|piece| hem_of(piece));
    let all: Vec<PlacedLine> = lines.into_iter().chain(hems).collect();
    let mut shapes: Vec<HomeShape> =
        all.iter().filter_map(|line| home_shape(pattern, &all, line)).collect();
    let plumb: Vec<f64> = shapes.iter().map(|s| plumb(pattern, &shapes, s)).collect();
    for (shape, plumb) in shapes.iter_mut().zip(plumb) {
        shape.plumb = plumb;
    }
    shapes
}

/// The cosine of the half angle of the cone that a line's piece makes with what it is
/// sewn to: the flat angles of all pieces round it add up to 2π times its sine.
fn plumb(pattern: &Pattern, shapes: &[HomeShape], shape: &HomeShape) -> f64 {
    let sewn_to = |seam: &str| -> Option<String> {
        let join = pattern.joins_of(&shape.piece, seam).find(|j| !j.is_mirror())?;
        let other = join.sides().find(|s| s.piece != shape.piece)?;
        (!pattern.joins_legs(join)).then(|| other.piece.clone())
    };
    let [start, end] = shape.seams.each_ref().map(|seam| sewn_to(seam));
    let other = start.clone().or_else(|| end.clone());
    let angle = |piece: &String| {
        let namesake = shapes.iter().find(|s| &s.piece == piece && s.line == shape.line);
        namesake.map_or(shape.converge, |s| s.converge)
    };
    // Round a leg there are the two; round the body each of them twice.
    let legs = if start.is_some() && end.is_some() { 1.0 } else { 2.0 };
    let round = legs * (shape.converge + other.as_ref().map_or(shape.converge, angle));
    let sine = round / std::f64::consts::TAU;
    (1.0 - sine * sine).max(0.0).sqrt()
}

/// The hem of a piece as a line between its side seam and its inseam.
fn hem_of(piece: &Piece) -> Option<PlacedLine> {
    let chain = piece.seam(names::HEM).ok()?.edge().ok()?;
    let end = |point: Point| {
        let met = [names::INSEAM, names::SIDE].into_iter().find_map(|name| {
            let seam = piece.seam(name).ok()?;
            let (at, off) = seam.nearest(point);
            (off < AT_CORNER).then(|| (name.to_owned(), at.position))
        })?;
        Some(hangtrue_pattern::LineEnd { seam: met.0, position: met.1, point })
    };
    Some(PlacedLine {
        name: names::HEM.into(),
        piece: piece.name.clone(),
        ends: vec![end(chain.start())?, end(chain.end())?],
        chain,
        stale: None,
    })
}

/// A corner is found on the seams that meet there within this, mm.
const AT_CORNER: f64 = 1e-3;

fn home_shape(pattern: &Pattern, all: &[PlacedLine], line: &PlacedLine) -> Option<HomeShape> {
    let [first, .., last] = line.ends.as_slice() else { return None };
    if first.seam == last.seam || line.stale.is_some() {
        return None;
    }
    let piece = pattern.piece(&line.piece).ok()?;
    let (start, end) = (line.chain.start(), line.chain.end());
    let width = start.distance(end);
    if width < AT_CORNER {
        return None;
    }
    let along = (end - start) / width;
    let hemwards = -piece.grain.direction();
    let square = Vec2::new(-along.y, along.x);
    let down = if square.dot(hemwards) >= 0.0 { square } else { -square };
    let lean = |seam: &str, position: f64| -> Option<f64> {
        let way = piece.seam(seam).ok()?.place(End::Start, position).direction;
        let way = if way.dot(down) >= 0.0 { way } else { -way };
        Some(way.dot(along).atan2(way.dot(down)))
    };
    let converge = lean(&first.seam, first.position)? - lean(&last.seam, last.position)?;
    let level = Level { middle: start.midpoint(end), along, down, half: 0.5 * width, converge };
    let half_step = |at: &hangtrue_pattern::LineEnd| 0.5 * step_below(pattern, all, line, at);
    Some(HomeShape {
        line: line.name.clone(),
        piece: line.piece.clone(),
        seams: [first.seam.clone(), last.seam.clone()],
        width,
        converge,
        ends: [half_step(first), half_step(last)],
        plumb: 1.0,
        chain: line.chain.clone(),
        level,
    })
}

/// How much lower along the seam the line ends than its namesake on the piece it is
/// sewn to there, mm; 0 when it has none.
fn step_below(
    pattern: &Pattern,
    all: &[PlacedLine],
    line: &PlacedLine,
    end: &hangtrue_pattern::LineEnd,
) -> f64 {
    let step = || {
        let join = pattern.joins_of(&line.piece, &end.seam).find(|j| !j.is_mirror())?;
        let mine = join.sides().find(|s| s.piece == line.piece && s.seam == end.seam)?;
        let other = join.sides().find(|s| (&s.piece, &s.seam) != (&mine.piece, &mine.seam))?;
        let namesake = all.iter().find(|l| l.piece == other.piece && l.name == line.name)?;
        let met = namesake.ends.iter().find(|e| e.seam == other.seam)?;
        let seam = |side: &hangtrue_pattern::JoinSide| {
            pattern.piece(&side.piece).and_then(|p| p.seam(&side.seam)).ok()
        };
        let (my_seam, its_seam) = (seam(mine)?, seam(other)?);
        // Ease is spread evenly: places are matched by their share of the seam.
        let share = |s: &hangtrue_pattern::Seam, side: &hangtrue_pattern::JoinSide, at: f64| {
            s.distance_from(side.from, at) / s.sewn_length()
        };
        let apart = share(my_seam, mine, end.position) - share(its_seam, other, met.position);
        let piece = pattern.piece(&line.piece).ok()?;
        let run = my_seam.end_point(mine.from.other()) - my_seam.end_point(mine.from);
        let from_top = run.dot(piece.grain.direction()) < 0.0;
        let step = apart * 0.5 * (my_seam.sewn_length() + its_seam.sewn_length());
        Some(if from_top { step } else { -step })
    };
    step().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn level(width: f64, converge: f64) -> Level {
        Level {
            middle: Point::new(3.0, 4.0),
            along: Vec2::new(1.0, 0.0),
            down: Vec2::new(0.0, -1.0),
            half: 0.5 * width,
            converge,
        }
    }

    /// Closed form: W/2·tan(β/4) in the middle of a straight line, nothing at its ends.
    #[test]
    fn the_middle_of_a_straight_line_hangs_by_the_closed_form() {
        for (width, converge) in [(280.0, 0.4), (200.0, 0.05), (240.0, -0.2), (250.0, 1e-5)] {
            let level = level(width, converge);
            let middle = level.below(level.middle);
            assert!((middle - 0.5 * width * (0.25 * converge).tan()).abs() < 1e-9, "{middle}");
            for way in [-0.5, 0.5] {
                assert!(level.below(level.middle + level.along * width * way).abs() < 1e-9);
            }
        }
        assert_eq!(level(250.0, 0.0).below(Point::new(10.0, -3.0)), 7.0);
    }

    /// Rolled up without the formula: a flat sector wound round its cone in space,
    /// and heights read off there.
    #[test]
    fn a_sector_rolled_to_a_cone_hangs_so() {
        let (width, converge) = (260.0_f64, 0.42_f64);
        let level = level(width, converge);
        let apex = 0.5 * width / (0.5 * converge).tan();
        for copies in [2.0, 3.0] {
            // The sectors sewn side by side close the cone: 2π·sin(half angle) of it.
            let sine = copies * converge / std::f64::consts::TAU;
            let steep = (1.0 - sine * sine).sqrt();
            let height = |x: f64| x.hypot(apex) * steep;
            for share in [0.0, 0.2, 0.5, 0.9] {
                let x = width * (share - 0.5);
                let space = height(0.5 * width) - height(x);
                let told = level.below(level.middle + level.along * x);
                // Along the cloth it is a little more than plumb.
                assert!((told * steep - space).abs() < 1e-9, "{told} {space}");
            }
        }
    }
}
