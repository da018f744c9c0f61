//! Smooth joins: a cubic that leaves and arrives in given directions, and the
//! rounding of a corner.

use crate::{Chain, GeometryError};
use kurbo::{CubicBez, Point, Vec2};

/// The cubic from `a` (leaving along `leave`) to `b` (arriving along `arrive`)
/// with handles one third of the chord: the Hermite cubic at unit speed.
/// Directions need not be unit vectors.
pub fn hermite(a: Point, leave: Vec2, b: Point, arrive: Vec2) -> CubicBez {
    let reach = a.distance(b) / 3.0;
    CubicBez::new(a, a + leave.normalize() * reach, b - arrive.normalize() * reach, b)
}

/// Replaces the corner where `before` ends and `after` starts by one cubic that
/// joins both smoothly (G1), starting `reach` mm before the corner and ending
/// `reach` mm after it.
///
/// `reach` is held to 45 % of the shorter chain. A small gap between the two
/// ends is bridged.
///
/// # Errors
/// Passes on [`GeometryError`] from the cuts.
pub fn blend_corner(before: &Chain, after: &Chain, reach: f64) -> Result<Chain, GeometryError> {
    let reach = reach.min(0.45 * before.length()).min(0.45 * after.length());
    let (kept_before, _) = before.split_at(before.length() - reach)?;
    let (_, kept_after) = after.split_at(reach)?;
    let bridge = hermite(
        kept_before.end(),
        kept_before.end_direction(),
        kept_after.start(),
        kept_after.start_direction(),
    );
    kept_before.then(&Chain::cubic(bridge))?.then(&kept_after)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle_between;

    #[test]
    fn a_blend_is_smooth_and_shorter_than_the_corner() {
        let a = Chain::line(Point::new(-100.0, 0.0), Point::ZERO);
        let b = Chain::line(Point::ZERO, Point::new(100.0, 10.0));
        let joined = blend_corner(&a, &b, 40.0).unwrap();
        assert_eq!(joined.segments().len(), 3);
        for pair in joined.segments().windows(2) {
            let turn = angle_between(
                crate::chain::segment_direction(&pair[0], 1.0),
                crate::chain::segment_direction(&pair[1], 0.0),
            );
            assert!(turn.abs() < 1e-9);
        }
        assert!(joined.length() < a.length() + b.length());
        assert!(joined.length() > a.length() + b.length() - 0.5);
    }
}
