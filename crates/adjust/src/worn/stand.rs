//! How the camera stood: a pinhole with a roll and a tilt.

use super::{Horizon, Level, WornError, WornPhoto};
use hangtrue_geometry::{Point, Vec2};

/// The camera, the origin of the world.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stand {
    /// The middle of the picture, pixels.
    pub centre: Point,
    /// Focal length, pixels.
    pub focal: f64,
    /// How far the picture must be turned to stand upright, radians.
    pub roll: f64,
    /// How far the lens looks down, radians.
    pub tilt: f64,
}

/// Two marked places nearer than this tell no direction, pixels.
const APART: f64 = 20.0;

/// The roll that makes level what is level, radians.
///
/// # Errors
/// [`WornError::TooNear`] when the two places lie on each other.
pub(super) fn roll(level: &Level) -> Result<f64, WornError> {
    let along = |a: Point, b: Point| -> Result<Vec2, WornError> {
        let along = b - a;
        if along.hypot() >= APART { Ok(along) } else { Err(WornError::TooNear { what: "level" }) }
    };
    Ok(match *level {
        Level::Plumb(a, b) => {
            let down = along(a, b)?;
            let down = if down.y < 0.0 { -down } else { down };
            (-down.x).atan2(down.y)
        }
        Level::Floor(a, b) => {
            let right = along(a, b)?;
            let right = if right.x < 0.0 { -right } else { right };
            right.y.atan2(right.x)
        }
        Level::Camera => 0.0,
    })
}

impl Stand {
    /// A camera with the focal length that stands as the photo says.
    ///
    /// With the lens H above the floor and the heels D away, the sight of the
    /// heels goes down by atan(H/D); what the picture does not show of that is the
    /// tilt.
    pub(super) fn new(photo: &WornPhoto, focal: f64, roll: f64, sunk: f64) -> Self {
        let centre = Point::new(photo.size.0 / 2.0, photo.size.1 / 2.0);
        let mut stand = Self { centre, focal, roll, tilt: sunk };
        if let Horizon::Floor { lens_height, heels } = photo.horizon {
            let seen = stand.upright(heels).y.atan2(focal);
            stand.tilt += lens_height.atan2(photo.distance) - seen;
        }
        stand
    }

    /// A place in the picture turned upright, from its middle, pixels.
    pub fn upright(&self, place: Point) -> Vec2 {
        let (d, (sin, cos)) = (place - self.centre, self.roll.sin_cos());
        Vec2::new(cos * d.x + sin * d.y, cos * d.y - sin * d.x)
    }

    /// The sight of a place: x/z and y/z of the world.
    pub fn sight(&self, place: Point) -> Vec2 {
        let (p, (sin, cos)) = (self.upright(place), self.tilt.sin_cos());
        let z = self.focal * cos - p.y * sin;
        Vec2::new(p.x / z, -(p.y * cos + self.focal * sin) / z)
    }

    /// Where a place of the world is seen, pixels.
    pub fn seen(&self, x: f64, y: f64, z: f64) -> Point {
        let (sin, cos) = self.tilt.sin_cos();
        // Forward is (0, −sin, cos), down is (0, −cos, −sin).
        let (forward, down) = (z * cos - y * sin, -y * cos - z * sin);
        let (u, v) = (self.focal * x / forward, self.focal * down / forward);
        let (sin, cos) = self.roll.sin_cos();
        self.centre + Vec2::new(cos * u - sin * v, sin * u + cos * v)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sight_goes_back_to_its_place() {
        let centre = Point::new(900.0, 1200.0);
        let stand = Stand { centre, focal: 2600.0, roll: 0.03, tilt: 0.12 };
        for (x, y, z) in [(0.0, 0.0, 3000.0), (120.0, -400.0, 2900.0), (-200.0, 300.0, 3100.0)] {
            let sight = stand.sight(stand.seen(x, y, z));
            assert!((sight.x - x / z).abs() < 1e-12 && (sight.y - y / z).abs() < 1e-12);
        }
    }

    #[test]
    fn a_leaning_plumb_line_and_a_sloping_floor_tell_the_same_roll() {
        let angle: f64 = 0.02;
        let (sin, cos) = angle.sin_cos();
        let p = Point::new(300.0, 200.0);
        let down = Level::Plumb(p, p + 900.0 * Vec2::new(-sin, cos));
        let floor = Level::Floor(p, p + 900.0 * Vec2::new(cos, sin));
        let back = Level::Floor(p + 900.0 * Vec2::new(cos, sin), p);
        for level in [down, floor, back] {
            assert!((roll(&level).unwrap() - angle).abs() < 1e-12);
        }
        assert!(roll(&Level::Plumb(p, p)).is_err());
    }
}
