//! The edge of cloth beside a seam that is opened: it runs beside the seam from the waist
//! down and comes to it at the foot of the opening.

use hangtrue_geometry::{Chain, CubicBez, GeometryError, Vec2};

/// How the edge comes to the seam at its foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Foot {
    /// In a quarter of a round.
    Round,
    /// Slanting.
    Slanted,
}

/// Handle of a quarter round as a cubic, in radii: 4/3 (√2 − 1), which meets the round at
/// its middle (closed form).
const QUARTER: f64 = 0.552_284_749_830_793_4;

/// The edge is drawn on so far above the waist, so that it meets what lies there, mm.
const ABOVE: f64 = 150.0;

/// The line beside `seam`, which runs from the waist down: `away` mm to its left (less than
/// nought: to its right), ending on the seam `length` from the waist. It starts above the
/// waist, to be cut where it meets that.
///
/// # Errors
/// [`GeometryError`] when it is as wide as it is long, or turns too sharply.
pub(crate) fn beside(
    seam: &Chain,
    away: f64,
    length: f64,
    foot: Foot,
) -> Result<Chain, GeometryError> {
    let wide = away.abs();
    let run = seam.part(0.0, length - wide)?;
    let run = run.reversed().lengthened(ABOVE)?.reversed().offset(away)?;
    let (ends, along) = seam.place_at(length);
    let from = run.end();
    let last = match foot {
        Foot::Round => {
            let left = Vec2::new(-along.y, along.x) * away.signum();
            Chain::cubic(CubicBez::new(
                from,
                from + run.end_direction() * (QUARTER * wide),
                ends + left * (QUARTER * wide),
                ends,
            ))
        }
        Foot::Slanted => Chain::line(from, ends),
    };
    run.then(&last)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test stops at the first fault
mod tests {
    use super::*;
    use hangtrue_geometry::Point;

    #[test]
    fn beside_a_straight_seam_it_keeps_its_distance_and_ends_in_a_quarter_round() {
        let seam = Chain::line(Point::new(0.0, 0.0), Point::new(0.0, -300.0));
        let line = beside(&seam, 40.0, 200.0, Foot::Round).unwrap();
        // Left of a line that runs down is towards +x.
        assert!((line.start() - Point::new(40.0, ABOVE)).hypot() < 1e-9);
        assert!((line.end() - Point::new(0.0, -200.0)).hypot() < 1e-9);
        // A quarter round of radius 40: its length and its middle (closed forms; a cubic
        // comes to it within 2.8e-4 of the radius).
        let quarter = line.length() - ABOVE - 160.0;
        assert!((quarter - 20.0 * std::f64::consts::PI).abs() < 0.02, "{quarter}");
        let middle = Point::new(0.0, -160.0) + Vec2::new(1.0, -1.0) * (40.0 / 2f64.sqrt());
        assert!(line.nearest(middle).distance < 1e-6);
        assert!(beside(&seam, 40.0, 30.0, Foot::Round).is_err());
    }
}
