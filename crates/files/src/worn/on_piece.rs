//! What the pattern knows of a line that is clicked on a photo.

use hangtrue_adjust::HomeShape;
use hangtrue_adjust::worn::{LegSeen, LineMark, LineOnPiece, View};
use hangtrue_pattern::{Leg, Pattern, names};

/// The home of a line is written down at so many even steps.
const STEPS: u32 = 24;

/// The line as it lies on what faces the lens; none from the side, or where the pattern has
/// no such line from seam to seam.
pub(super) fn line_on_piece(
    pattern: &Pattern,
    homes: &[HomeShape],
    mark: &LineMark,
    view: View,
) -> Option<LineOnPiece> {
    let piece = match view {
        View::Back => names::BACK,
        View::Front => names::FRONT,
        View::LeftSide | View::RightSide => return None,
    };
    let of_leg = |leg: Leg| {
        let piece = pattern.piece_for(leg, piece).unwrap_or(piece);
        homes.iter().find(|h| h.piece == piece && h.line == mark.name)
    };
    // From behind, the wearer's left is at the photo's left.
    let (at_left, at_right) = match view {
        View::Back => (Leg::Left, Leg::Right),
        _ => (Leg::Right, Leg::Left),
    };
    let shares = (0..=STEPS).map(|i| f64::from(i) / f64::from(STEPS));
    let (length, home) = match mark.leg {
        LegSeen::Left | LegSeen::Right => {
            let shape = of_leg(if mark.leg == LegSeen::Left { Leg::Left } else { Leg::Right })?;
            (shape.length(), shares.map(|s| shape.below_side(s)).collect())
        }
        LegSeen::Both => {
            let (left, right) = (of_leg(at_left)?, of_leg(at_right)?);
            let below = |s: f64| {
                let shape = if s < 0.5 { left } else { right };
                shape.below_side((2.0 * s - 1.0).abs())
            };
            (left.length() + right.length(), shares.map(below).collect())
        }
    };
    Some(LineOnPiece { length, home })
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
