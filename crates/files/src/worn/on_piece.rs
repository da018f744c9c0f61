//! What the pattern knows of a line that is clicked on a photo.

use hangtrue_adjust::HomeShape;
use hangtrue_adjust::worn::{LegSeen, LineMark, View};
use hangtrue_pattern::{Leg, Pattern, names};

/// How long the line is on what faces the lens, mm; none from the side, or where the pattern
/// has no such line from seam to seam.
pub(super) fn sewn_length(
    pattern: &Pattern,
    homes: &[HomeShape],
    mark: &LineMark,
    view: View,
) -> Option<f64> {
    let piece = match view {
        View::Back => names::BACK,
        View::Front => names::FRONT,
        View::LeftSide | View::RightSide => return None,
    };
    let of_leg = |leg: Leg| {
        let piece = pattern.piece_for(leg, piece).unwrap_or(piece);
        let home = homes.iter().find(|h| h.piece == piece && h.line == mark.name);
        home.map(HomeShape::length)
    };
    match mark.leg {
        LegSeen::Left => of_leg(Leg::Left),
        LegSeen::Right => of_leg(Leg::Right),
        LegSeen::Both => Some(of_leg(Leg::Left)? + of_leg(Leg::Right)?),
    }
}

/// Legs whose inner edges lie nearer than this are taken to be pressed together, share of
/// the picture's width.
const PRESSED: f64 = 0.006;

/// Whether the inner end of a line lies against the same line of the other leg.
pub(super) fn is_pressed(mark: &LineMark, all: &[LineMark], width: f64) -> bool {
    let other = match mark.leg {
        LegSeen::Left => LegSeen::Right,
        LegSeen::Right => LegSeen::Left,
        LegSeen::Both => return false,
    };
    let other = all.iter().find(|m| m.name == mark.name && m.leg == other);
    let inner = |m: &LineMark| m.points.first().map(|p| p.x);
    match (inner(mark), other.and_then(inner)) {
        (Some(a), Some(b)) => (a - b).abs() < PRESSED * width,
        _ => false,
    }
}
