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

/// Roll and tilt are found in so many turns.
const TURNS: usize = 6;

/// How far the mark seems to lean, radians.
fn seeming_roll(level: &Level) -> f64 {
    match *level {
        Level::Plumb(a, b) => {
            let down = if b.y < a.y { a - b } else { b - a };
            (-down.x).atan2(down.y)
        }
        Level::Floor(a, b) => {
            let right = if b.x < a.x { a - b } else { b - a };
            right.y.atan2(right.x)
        }
        Level::Camera => 0.0,
    }
}

/// Refuses a level mark whose two places lie on each other.
///
/// # Errors
/// [`WornError::TooNear`].
pub(super) fn check_level(level: &Level) -> Result<(), WornError> {
    match *level {
        Level::Plumb(a, b) | Level::Floor(a, b) if (b - a).hypot() < APART => {
            Err(WornError::TooNear { what: "level" })
        }
        _ => Ok(()),
    }
}

impl Stand {
    /// A camera with the focal length that stands as the photo says; `roll` and
    /// `sunk` are added to what its marks say.
    ///
    /// With the lens H above the floor and the heels D away, the sight of the
    /// heels goes down by atan(H/D); what the picture does not show of that is the
    /// tilt. A camera that tilts sees plumb lines lean towards each other, so the
    /// roll is not what a plumb line seems to lean: it is what makes the sights of
    /// its two ends go the same way across (x/z), and those of a level edge square
    /// to the view equally far down (y/z). Roll and tilt are found in turn; each
    /// turn is better by about the tilt times the roll.
    pub(super) fn new(photo: &WornPhoto, focal: f64, roll: f64, sunk: f64) -> Self {
        let centre = Point::new(photo.size.0 / 2.0, (photo.size.1 - photo.cut_above) / 2.0);
        let mut stand = Self { centre, focal, roll: seeming_roll(&photo.level), tilt: sunk };
        for _ in 0..TURNS {
            if let Horizon::Floor { lens_height, heels } = photo.horizon {
                let seen = stand.upright(heels).y.atan2(focal);
                stand.tilt = sunk + lens_height.atan2(photo.distance) - seen;
            }
            stand.roll += match photo.level {
                Level::Plumb(a, b) => {
                    let lean = stand.sight(a) - stand.sight(b);
                    let lean = if lean.y < 0.0 { -lean } else { lean };
                    lean.x.atan2(lean.y)
                }
                Level::Floor(a, b) => {
                    let slope = stand.sight(b) - stand.sight(a);
                    let slope = if slope.x < 0.0 { -slope } else { slope };
                    -slope.y.atan2(slope.x)
                }
                Level::Camera => 0.0,
            };
        }
        stand.roll += roll;
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
            assert!((seeming_roll(&level) - angle).abs() < 1e-12);
        }
        assert!(check_level(&Level::Plumb(p, p)).is_err());
    }

    #[test]
    fn a_tilted_camera_finds_its_roll_from_a_leaning_plumb_line_and_from_a_floor() {
        let centre = Point::new(600.0, 800.0);
        let truth = Stand { centre, focal: 2000.0, roll: 0.03, tilt: 0.17 };
        let (lens_height, distance) = (1100.0, 3000.0);
        let plumb =
            Level::Plumb(truth.seen(-500.0, 200.0, 3200.0), truth.seen(-500.0, -900.0, 3200.0));
        let floor =
            Level::Floor(truth.seen(-400.0, -1100.0, 3500.0), truth.seen(600.0, -1100.0, 3500.0));
        for level in [plumb, floor] {
            let photo = WornPhoto {
                view: super::super::View::Back,
                size: (1200.0, 1600.0),
                cut_above: 0.0,
                level,
                horizon: Horizon::Floor { lens_height, heels: truth.seen(0.0, -1100.0, distance) },
                distance,
                known: super::super::KnownLength {
                    upper: (String::new(), super::super::LegSeen::Left),
                    upper_at: centre,
                    lower: (String::new(), super::super::LegSeen::Left),
                    lower_at: centre,
                    length: 1.0,
                },
                lines: vec![],
            };
            let found = Stand::new(&photo, 2000.0, 0.0, 0.0);
            assert!((found.roll - truth.roll).abs() < 1e-5, "{found:?}");
            assert!((found.tilt - truth.tilt).abs() < 1e-5, "{found:?}");
        }
    }
}
