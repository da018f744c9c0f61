//! A plane seen by a camera: from a place in the picture to millimetres in the
//! plane and back, with the error to expect.
//!
//! The plane is in mm, y up; the picture in pixels, x to the right, y *down*,
//! the centre of the first pixel at (0.5, 0.5). What lies between is a
//! homography and one or two terms of radial distortion about the picture's
//! centre (Hartley and Zisserman, Multiple View Geometry in Computer Vision,
//! chapters 4 and 7; memory). `docs/photo.md` has the maths.

mod error;
mod mistake;
mod model;
mod side;
mod solve;

pub use error::CameraError;
pub use mistake::{MaybeCamera, PlaneMistake};
pub use side::StraightSide;
pub use solve::{Lens, PointPair, SolveLimits};

use crate::{Point, Vec2};
use model::{Bend, Model, PARAMETERS};
use nalgebra::SMatrix;

type Covariance = SMatrix<f64, PARAMETERS, PARAMETERS>;

/// The size of the picture, pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Width, pixels.
    pub width: f64,
    /// Height, pixels.
    pub height: f64,
}

impl Frame {
    /// The middle of the picture, pixels.
    pub fn centre(&self) -> Point {
        Point::new(self.width / 2.0, self.height / 2.0)
    }

    /// Half the diagonal, pixels: the unit of the distortion terms.
    pub fn half_diagonal(&self) -> f64 {
        self.width.hypot(self.height) / 2.0
    }
}

/// How far the marks the camera was solved from lie from where it puts them.
#[derive(Debug, Clone, PartialEq)]
pub struct Residuals {
    /// Per pair, plane place by the picture minus place given, mm.
    pub each: Vec<Vec2>,
    /// Root mean square of their lengths, mm.
    pub rms: f64,
    /// The longest, mm.
    pub worst: f64,
    /// Observations more than unknowns: with 0 the residuals are 0 and tell
    /// nothing.
    pub spare: usize,
    /// Residuals against what was expected of the marks, 1 when as expected;
    /// larger values have already widened every predicted error.
    pub strain: f64,
}

/// Where a lens was.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    /// The place of the plane under it, mm.
    pub foot: Point,
    /// How far above the plane, mm.
    pub height: f64,
}

/// A solved camera over a plane.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneCamera {
    model: Model,
    covariance: Covariance,
    residuals: Residuals,
    terms: usize,
}

impl PlaneCamera {
    /// Solves the camera from at least four pairs of places.
    ///
    /// # Errors
    /// [`CameraError`]: too few, in one line, badly placed, mirrored, or they do
    /// not agree with each other.
    pub fn solve(
        frame: Frame,
        pairs: &[PointPair],
        lens: Lens,
        limits: SolveLimits,
    ) -> Result<Self, CameraError> {
        solve::solve(frame, pairs, &[], lens, limits)
    }

    /// The same, with sides that are known to be straight: they tell the bend of
    /// the lens, which four marks cannot. A side that cannot be used is left out.
    ///
    /// # Errors
    /// As [`PlaneCamera::solve`].
    pub fn solve_with_sides(
        frame: Frame,
        pairs: &[PointPair],
        sides: &[StraightSide],
        lens: Lens,
        limits: SolveLimits,
    ) -> Result<Self, CameraError> {
        solve::solve(frame, pairs, sides, lens, limits)
    }

    /// Where a place of the picture lies in the plane, mm; none beyond the
    /// horizon or where the lens terms cannot be undone.
    pub fn to_plane(&self, picture: Point) -> Option<Point> {
        self.model.picture_to_plane(picture)
    }

    /// Where a place of the plane is seen, pixels; none behind the camera.
    pub fn to_picture(&self, plane: Point) -> Option<Point> {
        self.model.plane_to_picture(plane)
    }

    /// Pixels per mm at a place of the plane: the smaller of the two directions.
    pub fn scale_at(&self, plane: Point) -> Option<f64> {
        let j = self.model.by_plane(plane)?;
        j.singular_values().iter().copied().reduce(f64::min)
    }

    /// The error to expect of a place in the plane read from the picture at
    /// `picture` with a standard deviation of `sigma` pixels each way.
    pub fn mistake_at(&self, picture: Point, sigma: f64) -> Option<PlaneMistake> {
        let plane = self.to_plane(picture)?;
        let to_plane = self.model.by_plane(plane)?.try_inverse()?;
        let by_parameters = to_plane * self.model.by_parameters(plane)?;
        let own = to_plane * to_plane.transpose() * (sigma * sigma);
        let whole = by_parameters * self.covariance * by_parameters.transpose() + own;
        Some(PlaneMistake::new(whole))
    }

    /// How far the residuals were.
    pub fn residuals(&self) -> &Residuals {
        &self.residuals
    }

    /// How many distortion terms the marks determine (0, 1 or 2). The others are
    /// held near zero, and what they might be is part of every predicted error.
    pub fn terms_found(&self) -> usize {
        self.terms
    }

    /// The two distortion terms: a place at half the picture's diagonal from its
    /// centre is pushed out by `k1 + k2` of that distance.
    pub fn terms(&self) -> [f64; 2] {
        let Bend { k1, k2 } = self.model.bend;
        [k1, k2]
    }

    /// Where the lens was, were its focal length so many half diagonals of the picture; none
    /// when no lens could have been anywhere. A picture taken straight from above does not
    /// tell its focal length.
    pub fn eye(&self, focal: f64) -> Option<Eye> {
        self.model.eye(focal)
    }

    /// The picture the camera was solved for.
    pub fn frame(&self) -> Frame {
        self.model.frame
    }
}

#[cfg(test)]
mod tests;
