//! Side seams and waists: the hip and the waist brought to their girths, the two
//! side seams to one length.

use super::crotch::{CrotchSide, Frame};
use super::levels::Levels;
use super::side::{SidePlaces, SideSeam, side_seam};
use super::solve::secant;
use super::waist::{self, DartPlan, Ends};
use super::{DraftError, Targets, disagree};
use crate::Dart;
use crate::measures::{Measure, Measures};
use hangtrue_geometry::{Chain, Line, Point, Vec2};

/// A piece's waist and side seam, in the front's frame.
pub(super) struct Shaped {
    pub side: SideSeam,
    pub waist: Vec<Chain>,
    pub darts: Vec<Dart>,
    /// Height of the piece's hip line, mm: where its side seam has the hip notch.
    pub hip: f64,
}

/// The side seam takes this part of the waist shaping darts could take, and at
/// most this much, mm (common practice).
const SIDE_PART: (f64, f64) = (0.45, 26.0);

/// Less than this is taken at the side instead of in a dart, mm.
const LEAST_DART: f64 = 8.0;

/// More than this is shared by two darts, mm.
const ONE_DART: f64 = 24.0;

/// A dart takes in at most this part of its length.
const STEEPEST_DART: f64 = 0.30;

/// Dart length as a part of the way from waist level to hip line, back and
/// front, and its limits, mm (common practice: the back dart is the longer).
const DART_LENGTH: (f64, f64) = (0.80, 0.62);
const DART_LIMITS: (f64, f64) = (35.0, 140.0);

/// Widest move of a side corner at the waist from the hip line, mm.
const SIDE_MOVE: f64 = 260.0;

/// Farthest the two side corners may lie apart in height, mm.
const UNEVEN: f64 = 70.0;

/// Accuracy of the waist and of the match of the side seams, mm.
const MATCH: f64 = 1e-9;

/// A piece ready to be shaped.
#[derive(Clone)]
struct Open<'a> {
    frame: &'a Frame,
    crotch: &'a CrotchSide,
    hip: Point,
    /// Sewn waist to reach, mm.
    sewn: f64,
    darts: Vec<DartPlan>,
    /// First guess of the waist corner's x.
    guess: f64,
}

/// Shapes back and front.
pub(super) fn shape(
    measures: &Measures,
    target: &Targets,
    levels: &Levels,
    frames: (&Frame, &Frame),
    crotch: (&CrotchSide, &CrotchSide),
) -> Result<(Shaped, Shaped), DraftError> {
    let no_hip = || {
        let why = "the hip line does not meet the crotch seam";
        disagree(measures, Measure::HipHeight, Measure::InsideLegHeight, why)
    };
    let hip_back = hip_corner(crotch.0, levels.hip, target.hip_back).ok_or_else(no_hip)?;
    let hip_front = hip_corner(crotch.1, levels.hip, target.hip_front).ok_or_else(no_hip)?;
    let over = |c: &CrotchSide, hip: Point, sewn: f64| c.waist_centre().x - hip.x - sewn;
    let over_back = over(crotch.0, hip_back, target.waist_back);
    let over_front = over(crotch.1, hip_front, target.waist_front);
    let moved = moved_to_back(over_back, over_front);
    let (waist_back, waist_front) = (target.waist_back + moved, target.waist_front - moved);
    let (over_back, over_front) = (over_back - moved, over_front + moved);
    let common = (SIDE_PART.0 * 0.5 * (over_back + over_front)).min(SIDE_PART.1);
    let depth = levels.waist - levels.hip;
    let open = |frame, crotch, hip: Point, sewn, over, length: f64, name| {
        let length = (length * depth).clamp(DART_LIMITS.0, DART_LIMITS.1);
        let (side, darts) = share_out(over, common, length, name);
        Open { frame, crotch, hip, sewn, darts, guess: hip.x + side }
    };
    let back =
        open(frames.0, crotch.0, hip_back, waist_back, over_back, DART_LENGTH.0, "back dart");
    let front =
        open(frames.1, crotch.1, hip_front, waist_front, over_front, DART_LENGTH.1, "front dart");
    let at = |uneven: Uneven| {
        let hip = hip_corner(crotch.0, levels.hip + uneven.hip, target.hip_back)?;
        let moved = Open { hip, guess: back.guess + hip.x - back.hip.x, ..back.clone() };
        let back = moved.close(levels, levels.waist - 0.5 * uneven.waist)?;
        let front = front.close(levels, levels.waist + 0.5 * uneven.waist)?;
        Some((back, front))
    };
    let no_waist = || {
        let why = "no waist of that length closes over that hip";
        disagree(measures, Measure::WaistGirth, Measure::HipGirth, why)
    };
    let no_side = || {
        let why = "the leg spreads so far that the two side seams cannot be made alike";
        disagree(measures, Measure::CrotchLength, Measure::WaistHeight, why)
    };
    at(Uneven::default()).ok_or_else(no_waist)?;
    let (back, front) = even_out(at).ok_or_else(no_side)?;
    if fair(&back) && fair(&front) { Ok((back, front)) } else { Err(no_side()) }
}

/// What lies uneven in the drawing so that the two side seams are sewn even.
#[derive(Debug, Clone, Copy, Default)]
struct Uneven {
    /// The front's waist corner above the back's, mm.
    waist: f64,
    /// The back's hip line above the front's, mm.
    hip: f64,
}

/// Steps until the side seams have to be even.
const STEPS: usize = 40;

/// Makes the side seams of back and front equally long from waist to hip line and
/// from there to the knee, so that their hip notches lie on the hip lines.
///
/// A waist corner or a hip line moved by a millimetre makes the seam longer by nearly
/// one: that is the slope it begins with, and each step mends it (Broyden's rule,
/// Math. Comp. 19 (1965) 577, from memory).
fn even_out(at: impl Fn(Uneven) -> Option<(Shaped, Shaped)>) -> Option<(Shaped, Shaped)> {
    let miss = |(back, front): &(Shaped, Shaped)| {
        let to_hip = |s: &Shaped| s.side.above_knee - s.side.above_hip;
        Vec2::new(front.side.above_hip - back.side.above_hip, to_hip(front) - to_hip(back))
    };
    let mut uneven = Vec2::ZERO;
    let mut made = at(Uneven::default())?;
    let mut off = miss(&made);
    // The inverse of ∂(above the hip, below it)/∂(waist, hip), by rows.
    let mut slopes = [Vec2::new(1.0, 1.0), Vec2::new(0.0, -1.0)];
    for _ in 0..STEPS {
        if off.x.abs() <= MATCH && off.y.abs() <= MATCH {
            return Some(made);
        }
        let step = -Vec2::new(slopes[0].dot(off), slopes[1].dot(off));
        uneven += step;
        if uneven.x.abs() > UNEVEN || uneven.y.abs() > UNEVEN || !uneven.is_finite() {
            return None;
        }
        made = at(Uneven { waist: uneven.x, hip: uneven.y })?;
        let now = miss(&made);
        let change = now - off;
        let moved = Vec2::new(slopes[0].dot(change), slopes[1].dot(change));
        let along = step.dot(moved);
        if along.abs() > f64::MIN_POSITIVE {
            let back = slopes[0] * step.x + slopes[1] * step.y;
            slopes[0] += back * ((step.x - moved.x) / along);
            slopes[1] += back * ((step.y - moved.y) / along);
        }
        off = now;
    }
    None
}

/// A part of the waist is at most this much longer than its chord.
const BOWED: f64 = 1.06;

/// The side seam above the hip line slants at most this much, radians.
const STEEP: f64 = 0.7;

/// Whether the waist runs without a swing and the side seam stands up.
fn fair(shaped: &Shaped) -> bool {
    let level = |part: &Chain| part.length() <= BOWED * part.start().distance(part.end());
    let slant = shaped.side.waist_direction;
    shaped.waist.iter().all(level) && slant.x.atan2(slant.y).abs() <= STEEP
}

/// The back has more over than the front by at least and at most these parts of
/// the sum of both.
const UNEQUAL_OVER: (f64, f64) = (0.25, 0.6);

/// How much of the sewn waist moves from the front to the back, mm, so that the
/// two side seams are shaped alike where there is little or nothing for darts.
fn moved_to_back(over_back: f64, over_front: f64) -> f64 {
    let sum = (over_back + over_front).max(0.0);
    let differ = over_back - over_front;
    0.5 * (differ - differ.clamp(UNEQUAL_OVER.0 * sum, UNEQUAL_OVER.1 * sum))
}

/// Where the side seam meets the hip line, so that the piece has its width there.
fn hip_corner(crotch: &CrotchSide, level: f64, width: f64) -> Option<Point> {
    let line = Line::new((0.0, level), (1.0, level));
    let centre = crotch.crotch.crossings_with_line(line).first()?.point.x;
    Some(Point::new(centre - width, level))
}

/// Shares what is over at the waist between the side seam and darts: the side's
/// part, mm, and the darts.
fn share_out(over: f64, common: f64, length: f64, name: &str) -> (f64, Vec<DartPlan>) {
    let side = common.min(over);
    let left = over - side;
    if left < LEAST_DART {
        return (over, Vec::new());
    }
    let count = if left > ONE_DART { 2 } else { 1 };
    let intake = (left / f64::from(count)).min(STEEPEST_DART * length);
    let dart = |name: String, at, length| DartPlan { name, at, intake, length };
    let darts = match count {
        1 => vec![dart(name.to_owned(), 0.5, length)],
        _ => vec![
            dart(format!("{name} at side"), 0.34, 0.88 * length),
            dart(format!("{name} at centre"), 0.67, length),
        ],
    };
    (over - intake * f64::from(count), darts)
}

impl Open<'_> {
    /// Side seam and waist with the side corner at height `y`, its x solved so
    /// that the waist has its sewn length.
    fn close(&self, levels: &Levels, y: f64) -> Option<Shaped> {
        let at = |x: f64| {
            let places = SidePlaces {
                leg: (self.frame.knee, self.frame.hem),
                hip: self.hip,
                waist: Point::new(x, y),
            };
            let side = side_seam(&places, levels)?;
            let ends = Ends {
                side: places.waist,
                side_up: side.waist_direction,
                centre: self.crotch.waist_centre(),
                centre_up: self.crotch.centre_up,
            };
            let (waist, darts) = waist::draw(&ends, &self.darts);
            Some(Shaped { side, waist, darts, hip: self.hip.y })
        };
        let short = |x: f64| {
            let shaped = at(x)?;
            Some(self.sewn - shaped.waist.iter().map(Chain::length).sum::<f64>())
        };
        let limits = (self.hip.x - SIDE_MOVE, self.hip.x + SIDE_MOVE);
        at(secant(short, self.guess, limits, MATCH)?)
    }
}
