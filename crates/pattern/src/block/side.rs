//! The side seam, hem to waist, in the front's frame.

use super::levels::Levels;
use hangtrue_geometry::{Chain, CubicBez, Point, Vec2};

/// The three places the side seam runs through above the knee.
#[derive(Debug, Clone, Copy)]
pub(super) struct SidePlaces {
    /// Half the knee and half the hem, mm.
    pub leg: (f64, f64),
    /// The seam at the hip line, mm.
    pub hip: Point,
    /// The waist corner, mm.
    pub waist: Point,
}

/// A side seam and its length above the hip line and above the knee, mm.
pub(super) struct SideSeam {
    pub chain: Chain,
    pub above_hip: f64,
    pub above_knee: f64,
    pub waist_direction: Vec2,
    /// Most it leans from the upright above the hip line, radians: at one of its ends,
    /// as it bends one way there.
    pub leans_most: f64,
}

/// End of the seam at the waist turned beyond its chord by this part of the turn
/// from hip to chord: less than a circle would, so the waist stays near level.
const WAIST_TURN: f64 = 0.1;

/// Straight to the knee, one cubic to the hip line, one to the waist, smooth at
/// both joins.
pub(super) fn side_seam(places: &SidePlaces, levels: &Levels) -> Option<SideSeam> {
    let hem = Point::new(-places.leg.1, levels.hem);
    let knee = Point::new(-places.leg.0, levels.knee);
    let lower = slant(places.hip - knee);
    let upper = slant(places.waist - places.hip);
    // Half way between the two chords: the seam passes over the hip without a
    // flat or a bump.
    let hip = 0.5 * (lower + upper);
    let waist = upper + WAIST_TURN * (upper - hip);
    let thigh = leg_curve(places.hip, -upward(hip), knee, -upward(slant(knee - hem)));
    let seat = curve(places.hip, hip, places.waist, waist);
    let (thigh, seat) = (Chain::cubic(thigh).reversed(), Chain::cubic(seat));
    let (above_hip, to_hip) = (seat.length(), thigh.length());
    let chain = Chain::line(hem, knee).then(&thigh).ok()?.then(&seat).ok()?;
    let waist_direction = upward(waist);
    let leans_most = hip.abs().max(waist.abs());
    Some(SideSeam { chain, above_hip, above_knee: above_hip + to_hip, waist_direction, leans_most })
}

/// Handles of the curve from the thigh to the knee as parts of its chord: the
/// longer one at the knee lets the seam come gently out of the straight lower leg.
const LEG_HANDLES: (f64, f64) = (0.30, 0.46);

/// The curve from a place at the thigh, left along `leave`, down to the knee.
pub(super) fn leg_curve(top: Point, leave: Vec2, knee: Point, arrive: Vec2) -> CubicBez {
    let chord = top.distance(knee);
    let (first, second) = (LEG_HANDLES.0 * chord, LEG_HANDLES.1 * chord);
    CubicBez::new(top, top + leave * first, knee - arrive * second, knee)
}

/// Slant of an upward step from the vertical, radians, positive to the right.
fn slant(step: Vec2) -> f64 {
    step.x.atan2(step.y)
}

fn upward(slant: f64) -> Vec2 {
    Vec2::new(slant.sin(), slant.cos())
}

fn curve(a: Point, leave: f64, b: Point, arrive: f64) -> CubicBez {
    hangtrue_geometry::hermite(a, upward(leave), b, upward(arrive))
}
