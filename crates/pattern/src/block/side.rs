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
}

/// End of the seam at the waist turned beyond its chord by this part of the turn
/// from hip to chord: less than a circle would, so the waist stays near level.
const WAIST_TURN: f64 = 0.35;

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
    let thigh = curve(knee, slant(knee - hem), places.hip, hip);
    let seat = curve(places.hip, hip, places.waist, waist);
    let (thigh, seat) = (Chain::cubic(thigh), Chain::cubic(seat));
    let (above_hip, to_hip) = (seat.length(), thigh.length());
    let chain = Chain::line(hem, knee).then(&thigh).ok()?.then(&seat).ok()?;
    let waist_direction = upward(waist);
    Some(SideSeam { chain, above_hip, above_knee: above_hip + to_hip, waist_direction })
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
