//! The map from plane to picture, and its derivatives.

use super::{Eye, Frame};
use crate::Point;
use nalgebra::{Matrix2, Matrix3, SMatrix, Vector2, Vector3};

/// Eight of the homography and two of the lens.
pub(super) const PARAMETERS: usize = 10;

/// Nearer than this to the horizon (0) nothing can be read; at the middle of the
/// marks the same number is 1.
const HORIZON: f64 = 1e-6;

pub(super) type ByParameters = SMatrix<f64, 2, PARAMETERS>;

/// Places of the plane made small numbers: (p − middle) / size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PlaneUnits {
    pub(super) middle: Point,
    pub(super) size: f64,
}

/// The two terms of radial distortion: u(1 + k1·r² + k2·r⁴), r in half diagonals.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Bend {
    pub(super) k1: f64,
    pub(super) k2: f64,
}

/// The camera. In plane units the last entry of the homography is 1: the middle
/// of the marks is in front of the camera, so it is never 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Model {
    pub(super) frame: Frame,
    pub(super) units: PlaneUnits,
    pub(super) h: [f64; 8],
    pub(super) bend: Bend,
}

/// A place on the way through the camera.
struct Seen {
    x: Vector2<f64>,
    w: f64,
    u: Vector2<f64>,
}

impl Model {
    pub(super) fn parameters(&self) -> SMatrix<f64, PARAMETERS, 1> {
        let all = self.h.iter().copied().chain([self.bend.k1, self.bend.k2]);
        SMatrix::from_iterator(all)
    }

    #[must_use]
    pub(super) fn moved(&self, by: &SMatrix<f64, PARAMETERS, 1>) -> Self {
        let mut model = *self;
        for (to, by) in model.h.iter_mut().zip(by.iter()) {
            *to += by;
        }
        model.bend.k1 += by[8];
        model.bend.k2 += by[9];
        model
    }

    fn seen(&self, plane: Point) -> Option<Seen> {
        let v = (plane - self.units.middle) / self.units.size;
        let x = Vector2::new(v.x, v.y);
        let h = &self.h;
        let w = h[6] * x.x + h[7] * x.y + 1.0;
        if w.is_nan() || w <= HORIZON {
            return None;
        }
        let u = Vector2::new(
            (h[0] * x.x + h[1] * x.y + h[2]) / w,
            (h[3] * x.x + h[4] * x.y + h[5]) / w,
        );
        Some(Seen { x, w, u })
    }

    pub(super) fn plane_to_picture(&self, plane: Point) -> Option<Point> {
        let u = self.seen(plane)?.u;
        let d = u * self.bend.factor(u.norm_squared());
        let s = self.frame.half_diagonal();
        let at = self.frame.centre() + s * crate::Vec2::new(d.x, d.y);
        at.is_finite().then_some(at)
    }

    pub(super) fn picture_to_plane(&self, picture: Point) -> Option<Point> {
        let d = (picture - self.frame.centre()) / self.frame.half_diagonal();
        let u = self.bend.undone(Vector2::new(d.x, d.y))?;
        // u = (Ax + b) / (c·x + 1)  ⇔  (A − u cᵀ) x = u − b.
        let h = &self.h;
        let m = Matrix2::new(
            h[0] - u.x * h[6],
            h[1] - u.x * h[7],
            h[3] - u.y * h[6],
            h[4] - u.y * h[7],
        );
        let x = m.try_inverse()? * (u - Vector2::new(h[2], h[5]));
        let w = h[6] * x.x + h[7] * x.y + 1.0;
        if w.is_nan() || w <= HORIZON {
            return None;
        }
        let at = self.units.middle + self.units.size * crate::Vec2::new(x.x, x.y);
        at.is_finite().then_some(at)
    }

    /// Where the lens was: the homography is the camera's turn and place seen through its
    /// focal length, up to a factor (Hartley and Zisserman, §8.1.1, memory).
    pub(super) fn eye(&self, focal: f64) -> Option<Eye> {
        let h = &self.h;
        let column = |a: f64, b: f64, c: f64| Vector3::new(a / focal, b / focal, c);
        let (across, along) = (column(h[0], h[3], h[6]), column(h[1], h[4], h[7]));
        let factor = 0.5 * (across.norm() + along.norm());
        let (across, along) = (across / factor, along / factor);
        let turn = Matrix3::from_columns(&[across, along, across.cross(&along)]);
        let eye = -turn.try_inverse()? * (column(h[2], h[5], 1.0) / factor);
        let foot = self.units.middle + self.units.size * crate::Vec2::new(eye.x, eye.y);
        let height = self.units.size * eye.z.abs();
        (foot.is_finite() && height.is_finite() && height > 0.0).then_some(Eye { foot, height })
    }

    /// Picture by plane, pixels per mm.
    pub(super) fn by_plane(&self, plane: Point) -> Option<Matrix2<f64>> {
        let seen = self.seen(plane)?;
        let h = &self.h;
        let u = seen.u;
        let by_x = Matrix2::new(
            h[0] - u.x * h[6],
            h[1] - u.x * h[7],
            h[3] - u.y * h[6],
            h[4] - u.y * h[7],
        ) / seen.w;
        let scale = self.frame.half_diagonal() / self.units.size;
        Some(self.bend.by_place(u) * by_x * scale)
    }

    /// Picture by parameters, pixels.
    pub(super) fn by_parameters(&self, plane: Point) -> Option<ByParameters> {
        let Seen { x, w, u } = self.seen(plane)?;
        let mut by_h = SMatrix::<f64, 2, 8>::zeros();
        for (column, value) in [x.x, x.y, 1.0].into_iter().enumerate() {
            by_h[(0, column)] = value / w;
            by_h[(1, column + 3)] = value / w;
        }
        for (column, value) in [x.x, x.y].into_iter().enumerate() {
            by_h[(0, 6 + column)] = -u.x * value / w;
            by_h[(1, 6 + column)] = -u.y * value / w;
        }
        let r2 = u.norm_squared();
        let mut all = ByParameters::zeros();
        all.fixed_view_mut::<2, 8>(0, 0).copy_from(&(self.bend.by_place(u) * by_h));
        all.set_column(8, &(u * r2));
        all.set_column(9, &(u * (r2 * r2)));
        Some(all * self.frame.half_diagonal())
    }
}

impl Bend {
    fn factor(self, r2: f64) -> f64 {
        1.0 + r2 * (self.k1 + r2 * self.k2)
    }

    /// Derivative of the bent place by the straight place.
    fn by_place(self, u: Vector2<f64>) -> Matrix2<f64> {
        let r2 = u.norm_squared();
        let slope = 2.0 * (self.k1 + 2.0 * self.k2 * r2);
        Matrix2::identity() * self.factor(r2) + u * u.transpose() * slope
    }

    /// The straight place of a bent one: Newton's method on the radius.
    fn undone(self, d: Vector2<f64>) -> Option<Vector2<f64>> {
        let bent = d.norm();
        if bent == 0.0 {
            return Some(d);
        }
        let mut r = bent;
        for _ in 0..40 {
            let r2 = r * r;
            let value = r * self.factor(r2) - bent;
            let slope = 1.0 + r2 * (3.0 * self.k1 + 5.0 * self.k2 * r2);
            // Past the fold of the lens terms there is nothing to come back to.
            if slope.is_nan() || slope <= 1e-3 {
                return None;
            }
            let next = (r - value / slope).max(0.0);
            if (next - r).abs() <= 1e-14 * bent.max(1e-9) {
                r = next;
                break;
            }
            r = next;
        }
        let off = (r * self.factor(r * r) - bent).abs();
        (off <= 1e-9 * bent.max(1.0)).then(|| d * (r / bent))
    }
}
