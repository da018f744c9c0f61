//! Rigid moves: turning and laying one curve on another without stretching it.

use kurbo::{Affine, Point, Vec2};

/// The turn by `angle` radians (counter-clockwise) about `hinge`.
pub fn turn_about(hinge: Point, angle: f64) -> Affine {
    Affine::rotate_about(angle, hinge)
}

/// The signed angle from `from` to `to`, radians in (−π, π], counter-clockwise
/// positive.
pub fn angle_between(from: Vec2, to: Vec2) -> f64 {
    from.cross(to).atan2(from.dot(to))
}

/// The direction turned by `angle` radians, counter-clockwise.
pub fn turned(direction: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = angle.sin_cos();
    Vec2::new(direction.x * cos - direction.y * sin, direction.x * sin + direction.y * cos)
}

/// The rigid move that takes the directed place (`from`, `from_direction`) onto
/// (`to`, `to_direction`). Directions need not be unit vectors.
pub fn lay_along(from: Point, from_direction: Vec2, to: Point, to_direction: Vec2) -> Affine {
    let turn = angle_between(from_direction, to_direction);
    Affine::translate(to.to_vec2()) * Affine::rotate(turn) * Affine::translate(-from.to_vec2())
}

/// The rigid move that takes `a` onto `to_a` and turns `a→b` towards `to_a→to_b`.
/// The second pair coincides only if both segments have the same length.
pub fn lay_segment(a: Point, b: Point, to_a: Point, to_b: Point) -> Affine {
    lay_along(a, b - a, to_a, to_b - to_a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wedge_swings_the_far_edge_by_its_chord() {
        // Closed form: a point at radius r swings 2·r·sin(φ/2).
        let (r, phi) = (300.0, 0.142_8);
        let far = Point::new(r, 0.0);
        let swung = turn_about(Point::ORIGIN, phi) * far;
        let chord = 2.0 * r * (phi / 2.0).sin();
        assert!((swung.distance(far) - chord).abs() < 1e-12);
    }

    #[test]
    fn laying_keeps_distances_and_hits_the_place() {
        let m = lay_along(
            Point::new(3.0, 4.0),
            Vec2::new(1.0, 2.0),
            Point::new(-5.0, 7.0),
            Vec2::new(-1.0, 0.5),
        );
        assert!((m * Point::new(3.0, 4.0)).distance(Point::new(-5.0, 7.0)) < 1e-12);
        let ahead = m * Point::new(4.0, 6.0) - m * Point::new(3.0, 4.0);
        assert!(angle_between(ahead, Vec2::new(-1.0, 0.5)).abs() < 1e-12);
        assert!((ahead.hypot() - 5f64.sqrt()).abs() < 1e-12);
    }
}
