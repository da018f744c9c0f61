//! From where the body is looked at, and where that falls on a picture.

use crate::cloth::Position;
use std::f64::consts::{FRAC_PI_2, PI};

/// A direction of looking, without perspective: lengths square to it are all alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Viewpoint {
    /// Radians about the vertical: nought from the back, a quarter turn from the wearer's
    /// right side, a half turn from the front.
    pub turn: f64,
    /// Radians above level the eye stands.
    pub tilt: f64,
}

impl Viewpoint {
    /// From behind.
    pub const BACK: Self = Self { turn: 0.0, tilt: 0.0 };
    /// From the wearer's right side.
    pub const SIDE: Self = Self { turn: FRAC_PI_2, tilt: 0.0 };
    /// From the front.
    pub const FRONT: Self = Self { turn: PI, tilt: 0.0 };
    /// The most the eye is raised or lowered, radians.
    pub const STEEPEST: f64 = 1.2;

    /// To the right of the picture, up it, and towards the eye; each of length 1.
    pub fn axes(&self) -> [Position; 3] {
        let ((sine, cosine), (up, level)) = (self.turn.sin_cos(), self.tilt.sin_cos());
        [
            Position::new(cosine, sine, 0.0),
            Position::new(-sine * up, cosine * up, level),
            Position::new(sine * level, -cosine * level, up),
        ]
    }

    /// How squarely the back is faced: 1 from behind, −1 from the front.
    pub fn faces_back(&self) -> f64 {
        self.turn.cos()
    }
}

/// A view on a picture of so many pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// From where.
    pub view: Viewpoint,
    /// Pixels for one mm.
    pub scale: f64,
    /// The pixel the middle of [`Scene::reach`](super::Scene::reach) falls on.
    pub middle: (f64, f64),
    /// The place that falls there.
    pub at: Position,
}

impl Frame {
    /// Right and down in pixels, and mm towards the eye.
    pub fn project(&self, p: &Position) -> [f64; 3] {
        let [right, up, near] = self.view.axes();
        let from = p - self.at;
        [
            self.middle.0 + self.scale * right.dot(&from),
            self.middle.1 - self.scale * up.dot(&from),
            near.dot(&from),
        ]
    }

    /// The same picture with so many times the pixels.
    pub(super) fn finer(&self, by: f64) -> Self {
        let middle = (self.middle.0 * by, self.middle.1 * by);
        Self { scale: self.scale * by, middle, ..*self }
    }
}
