//! A straight side as an observation: whatever its place, the picture of it is
//! bent by the lens alone (the plumb line of Brown 1971, memory).

use super::Covariance;
use super::model::{Model, PARAMETERS};
use super::solve::{Squares, Unknowns};
use crate::Point;
use nalgebra::{Matrix3, SMatrix, Vector2, Vector3};

/// A side that is straight in the plane. Only its straightness is used: where its
/// ends lie is free, so that it may be given beside marks that were found from it.
#[derive(Debug, Clone, PartialEq)]
pub struct StraightSide {
    /// One end in the plane, mm, roughly.
    pub from: Point,
    /// The other end, mm, roughly.
    pub to: Point,
    /// Places along it as seen, pixels, and the standard deviation of each across
    /// the side, pixels.
    pub seen: Vec<(Point, f64)>,
    /// How far its middle may lie off the straight line of its ends, standard
    /// deviation in mm.
    pub bow: f64,
}

/// A side needs as many places to say anything.
const FEWEST: usize = 6;

impl StraightSide {
    /// Whether all of it can be used.
    pub(super) fn is_sound(&self) -> bool {
        let seen = |s: &(Point, f64)| {
            s.0.is_finite() && s.0.to_vec2().hypot() < 1e7 && (1e-4..1e6).contains(&s.1)
        };
        let (from, to) = (self.from, self.to);
        from.is_finite()
            && to.is_finite()
            && from.to_vec2().hypot().max(to.to_vec2().hypot()) < 1e7
            && from.distance(to) > 1e-3
            && (1e-6..1e6).contains(&self.bow)
            && self.seen.len() >= FEWEST
            && self.seen.iter().all(seen)
    }

    /// Observations more than what is free of the side itself.
    pub(super) fn spare(&self) -> usize {
        self.seen.len() - 2
    }

    /// Adds its squares. What is free of it (its two ends, and its bow as far as it
    /// is not known to be straight) is solved along and taken out (Schur's
    /// complement).
    pub(super) fn add_to(&self, all: &mut Squares, model: &Model) -> Option<()> {
        let mut free = Matrix3::zeros();
        free[(2, 2)] = 1.0 / (self.bow * self.bow);
        let mut shared = SMatrix::<f64, 3, PARAMETERS>::zeros();
        let mut off = Vector3::zeros();
        for (picture, sigma) in &self.seen {
            let row = self.row(model, *picture)?;
            let weight = 1.0 / (sigma * sigma);
            all.cost += weight * row.off * row.off;
            all.normal += row.by.transpose() * row.by * weight;
            all.down += row.by.transpose() * (row.off * weight);
            free += row.free * row.free.transpose() * weight;
            shared += row.free * row.by * weight;
            off += row.free * (row.off * weight);
        }
        let free = free.cholesky()?;
        let (solved, least) = (free.solve(&shared), free.solve(&off));
        all.cost -= off.dot(&least);
        let normal: Covariance = shared.transpose() * solved;
        let down: Unknowns = shared.transpose() * least;
        all.normal -= normal;
        all.down -= down;
        Some(())
    }

    /// How far a place is seen from the picture of the side, and what moves that.
    fn row(&self, model: &Model, picture: Point) -> Option<Row> {
        let length = self.from.distance(self.to);
        let along = (self.to - self.from) / length;
        let part = (model.picture_to_plane(picture)? - self.from).dot(along);
        let foot = self.from + along * part;
        let by_plane = model.by_plane(foot)?;
        let run = by_plane * Vector2::new(along.x, along.y);
        let across = Vector2::new(-run.y, run.x).try_normalize(0.0)?;
        let out = by_plane * Vector2::new(-along.y, along.x);
        let t = part / length;
        let away = picture - model.plane_to_picture(foot)?;
        Some(Row {
            off: across.dot(&Vector2::new(away.x, away.y)),
            by: across.transpose() * model.by_parameters(foot)?,
            free: Vector3::new(1.0 - t, t, 4.0 * t * (1.0 - t)) * across.dot(&out),
        })
    }
}

struct Row {
    /// Pixels across the side.
    off: f64,
    /// The same by the camera's unknowns.
    by: SMatrix<f64, 1, PARAMETERS>,
    /// The same by the two ends and the bow, pixels per mm.
    free: Vector3<f64>,
}
