//! The camera from pairs of places: the direct linear transform for a start,
//! then the least of the weighted squares by Levenberg and Marquardt's method.

use super::model::{Bend, Model, PARAMETERS, PlaneUnits};
use super::{CameraError, Covariance, Frame, PlaneCamera, Residuals, StraightSide};
use crate::words::Length;
use crate::{Point, Vec2};
use nalgebra::{Matrix2, Matrix3, SMatrix, Vector2};

/// A place of the plane and where it is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointPair {
    /// The place in the plane, mm.
    pub plane: Point,
    /// Where it is seen, pixels, y down.
    pub picture: Point,
    /// Standard deviation of the place in the plane each way, mm.
    pub plane_sigma: f64,
    /// Standard deviation of the place in the picture each way, pixels.
    pub picture_sigma: f64,
}

/// How much the lens may bend straight lines: the standard deviation of the two
/// terms before a mark is seen, in half diagonals of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Lens {
    /// A flatbed scanner: none.
    Flat,
    /// A camera that straightens its own pictures, as telephones do: about 2 %
    /// (memory).
    #[default]
    Usual,
    /// A wide lens, not straightened: about 10 % (memory).
    Wide,
}

impl Lens {
    fn spread(self) -> [f64; 2] {
        match self {
            Self::Flat => [0.0, 0.0],
            Self::Usual => [0.02, 0.01],
            Self::Wide => [0.1, 0.05],
        }
    }
}

/// What is still accepted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolveLimits {
    /// The longest residual of a mark, mm.
    pub residual: f64,
}

impl Default for SolveLimits {
    fn default() -> Self {
        Self { residual: 3.0 }
    }
}

/// Marks whose spread across is less than this of their spread along lie in one
/// line.
const LINE: f64 = 0.02;
/// Unknowns worse determined than this against the best one are not determined.
const CONDITION: f64 = 1e14;
/// Sigmas below these are taken for these: pixels and mm.
const LEAST_SIGMA: f64 = 1e-3;
/// Most rounds of refinement.
const ROUNDS: usize = 100;
/// The marks among which each is left out in turn.
const LEAVE_ONE_OUT: usize = 400;

pub(super) type Unknowns = SMatrix<f64, PARAMETERS, 1>;

/// What the camera is solved from.
#[derive(Clone, Copy)]
struct Given<'a> {
    pairs: &'a [PointPair],
    sides: &'a [StraightSide],
    lens: Lens,
}

pub(super) fn solve(
    frame: Frame,
    pairs: &[PointPair],
    sides: &[StraightSide],
    lens: Lens,
    limits: SolveLimits,
) -> Result<PlaneCamera, CameraError> {
    check_places(frame, pairs)?;
    let start = linear(frame, pairs)?;
    check_side(&start, pairs)?;
    let sides: Vec<StraightSide> = sides.iter().filter(|s| s.is_sound()).cloned().collect();
    let given = Given { pairs, sides: &sides, lens };
    let (model, weights) = refine(start, given)?;
    check_side(&model, pairs)?;
    finish(model, given, &weights, limits)
}

fn check_places(frame: Frame, pairs: &[PointPair]) -> Result<(), CameraError> {
    if pairs.len() < 4 {
        return Err(CameraError::TooFew { found: pairs.len() });
    }
    let sound = |p: &PointPair| {
        p.plane.is_finite()
            && p.picture.is_finite()
            && (0.0..1e6).contains(&p.plane_sigma)
            && (0.0..1e6).contains(&p.picture_sigma)
            && p.plane.to_vec2().hypot() < 1e7
            && p.picture.to_vec2().hypot() < 1e7
    };
    if let Some(index) = pairs.iter().position(|p| !sound(p)) {
        return Err(CameraError::NotFinite { index });
    }
    if !(1.0..1e7).contains(&frame.half_diagonal()) {
        return Err(CameraError::BadlyPlaced { why: "the picture has no size" });
    }
    let plane: Vec<Point> = pairs.iter().map(|p| p.plane).collect();
    let picture: Vec<Point> = pairs.iter().map(|p| p.picture).collect();
    if nearly_in_line(&plane) || nearly_in_line(&picture) {
        return Err(CameraError::Collinear);
    }
    Ok(())
}

/// Whether all but at most one lie in one line.
fn nearly_in_line(points: &[Point]) -> bool {
    if in_line(points.iter().copied()) {
        return true;
    }
    points.len() <= LEAVE_ONE_OUT
        && (0..points.len()).any(|out| {
            in_line(points.iter().enumerate().filter(|(i, _)| *i != out).map(|(_, p)| *p))
        })
}

fn in_line(points: impl Iterator<Item = Point> + Clone) -> bool {
    let count = points.clone().count().max(1) as f64;
    let mean = points.clone().fold(Vec2::ZERO, |a, p| a + p.to_vec2()) / count;
    let mut scatter = Matrix2::zeros();
    for p in points {
        let v = p.to_vec2() - mean;
        let v = Vector2::new(v.x, v.y);
        scatter += v * v.transpose();
    }
    let spread = scatter.symmetric_eigenvalues();
    let (low, high) = (spread.min().max(0.0), spread.max());
    low.sqrt() <= LINE * high.sqrt()
}

/// Middle and mean distance of points, for numbers near 1 (Hartley 1997).
fn units(points: impl Iterator<Item = Point> + Clone) -> PlaneUnits {
    let count = points.clone().count().max(1) as f64;
    let middle = (points.clone().fold(Vec2::ZERO, |a, p| a + p.to_vec2()) / count).to_point();
    let size = points.map(|p| p.distance(middle)).sum::<f64>() / count;
    PlaneUnits { middle, size: if size > 0.0 { size } else { 1.0 } }
}

/// The homography by the normalised direct linear transform.
fn linear(frame: Frame, pairs: &[PointPair]) -> Result<Model, CameraError> {
    let plane = units(pairs.iter().map(|p| p.plane));
    let picture = units(pairs.iter().map(|p| p.picture));
    let mut normal = SMatrix::<f64, 9, 9>::zeros();
    for pair in pairs {
        let x = (pair.plane - plane.middle) / plane.size;
        let u = (pair.picture - picture.middle) / picture.size;
        let rows = [
            [x.x, x.y, 1.0, 0.0, 0.0, 0.0, -u.x * x.x, -u.x * x.y, -u.x],
            [0.0, 0.0, 0.0, x.x, x.y, 1.0, -u.y * x.x, -u.y * x.y, -u.y],
        ];
        for row in rows {
            let row = SMatrix::<f64, 1, 9>::from_row_slice(&row);
            normal += row.transpose() * row;
        }
    }
    let eigen = normal.symmetric_eigen();
    let least = eigen.eigenvalues.imin();
    let second = (0..9).filter(|&i| i != least).map(|i| eigen.eigenvalues[i]);
    if second.fold(f64::INFINITY, f64::min) <= 1e-12 * eigen.eigenvalues.max() {
        return Err(CameraError::BadlyPlaced { why: "more than one camera fits them" });
    }
    let h = eigen.eigenvectors.column(least);
    let h = Matrix3::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8]);
    // Back to pixels, and on to half diagonals from the picture's centre.
    let from_picture_units = Matrix3::new(
        picture.size,
        0.0,
        picture.middle.x, //
        0.0,
        picture.size,
        picture.middle.y, //
        0.0,
        0.0,
        1.0,
    );
    let (c, s) = (frame.centre(), frame.half_diagonal());
    let to_frame_units =
        Matrix3::new(1.0 / s, 0.0, -c.x / s, 0.0, 1.0 / s, -c.y / s, 0.0, 0.0, 1.0);
    let h = to_frame_units * from_picture_units * h;
    let last = h[(2, 2)];
    if last.is_nan() || last.abs() <= 1e-9 * h.norm() {
        return Err(CameraError::BadlyPlaced { why: "their middle would lie on the horizon" });
    }
    let h = h / last;
    let h =
        [h[(0, 0)], h[(0, 1)], h[(0, 2)], h[(1, 0)], h[(1, 1)], h[(1, 2)], h[(2, 0)], h[(2, 1)]];
    Ok(Model { frame, units: plane, h, bend: Bend::default() })
}

/// All marks in front of the camera, and the plane seen from its upper side:
/// the picture's y runs down, so the map turns the way round.
fn check_side(model: &Model, pairs: &[PointPair]) -> Result<(), CameraError> {
    let turns = pairs.iter().map(|p| model.by_plane(p.plane).map(|j| j.determinant()));
    let mut mirrored = 0;
    for turn in turns {
        match turn {
            None => {
                return Err(CameraError::BadlyPlaced { why: "a mark would lie behind the camera" });
            }
            Some(turn) if turn > 0.0 => mirrored += 1,
            Some(_) => {}
        }
    }
    match mirrored {
        0 => Ok(()),
        n if n == pairs.len() => Err(CameraError::Mirrored),
        _ => Err(CameraError::BadlyPlaced { why: "the lens would fold the picture over itself" }),
    }
}

/// The weight of each pair: the inverse of its variance in the picture, what is
/// uncertain in the plane carried over.
fn weights(model: &Model, pairs: &[PointPair]) -> Option<Vec<Matrix2<f64>>> {
    let weight = |p: &PointPair| {
        let j = model.by_plane(p.plane)?;
        let picture = p.picture_sigma.max(LEAST_SIGMA);
        let plane = p.plane_sigma;
        let variance =
            Matrix2::identity() * (picture * picture) + j * j.transpose() * (plane * plane);
        variance.try_inverse()
    };
    pairs.iter().map(weight).collect()
}

/// One over the variance of the lens terms; a term that is not free has none.
fn prior(lens: Lens) -> [Option<f64>; 2] {
    lens.spread().map(|s| (s > 0.0).then(|| 1.0 / (s * s)))
}

/// Half the weighted squares, and their derivatives.
pub(super) struct Squares {
    pub(super) cost: f64,
    pub(super) normal: Covariance,
    pub(super) down: Unknowns,
}

fn squares(model: &Model, given: Given, weights: &[Matrix2<f64>]) -> Option<Squares> {
    let mut all = Squares { cost: 0.0, normal: Covariance::zeros(), down: Unknowns::zeros() };
    for (pair, weight) in given.pairs.iter().zip(weights) {
        let off = pair.picture - model.plane_to_picture(pair.plane)?;
        let off = Vector2::new(off.x, off.y);
        let by = model.by_parameters(pair.plane)?;
        all.cost += (off.transpose() * weight * off)[0];
        all.normal += by.transpose() * weight * by;
        all.down += by.transpose() * weight * off;
    }
    for side in given.sides {
        side.add_to(&mut all, model)?;
    }
    for (index, (weight, value)) in
        prior(given.lens).into_iter().zip([model.bend.k1, model.bend.k2]).enumerate()
    {
        let at = 8 + index;
        match weight {
            Some(weight) => {
                all.cost += weight * value * value;
                all.normal[(at, at)] += weight;
                all.down[at] -= weight * value;
            }
            None => hold(&mut all, at),
        }
    }
    all.cost.is_finite().then_some(all)
}

/// Takes an unknown out of the search.
fn hold(all: &mut Squares, at: usize) {
    for i in 0..PARAMETERS {
        all.normal[(at, i)] = 0.0;
        all.normal[(i, at)] = 0.0;
    }
    all.normal[(at, at)] = 1.0;
    all.down[at] = 0.0;
}

fn refine(start: Model, given: Given) -> Result<(Model, Vec<Matrix2<f64>>), CameraError> {
    const LOST: CameraError =
        CameraError::BadlyPlaced { why: "the search for the camera was lost" };
    let mut model = start;
    let mut weight = weights(&model, given.pairs).ok_or(LOST)?;
    // The weights follow the camera; two rounds settle them.
    for _ in 0..2 {
        let mut damping = 1e-6;
        let mut here = squares(&model, given, &weight).ok_or(LOST)?;
        for _ in 0..ROUNDS {
            let mut damped = here.normal;
            for i in 0..PARAMETERS {
                damped[(i, i)] *= 1.0 + damping;
            }
            let Some(step) = damped.cholesky().map(|c| c.solve(&here.down)) else {
                damping *= 10.0;
                if damping > 1e12 {
                    return Err(LOST);
                }
                continue;
            };
            let next = model.moved(&step);
            let there = squares(&next, given, &weight).filter(|s| s.cost <= here.cost);
            match there {
                Some(there) => {
                    let gained = here.cost - there.cost;
                    let small = step.norm() <= 1e-13 * model.parameters().norm();
                    (model, here) = (next, there);
                    damping = (damping / 10.0).max(1e-12);
                    if small || gained <= 1e-15 * here.cost {
                        break;
                    }
                }
                None if damping > 1e12 => break,
                None => damping *= 10.0,
            }
        }
        weight = weights(&model, given.pairs).ok_or(LOST)?;
    }
    Ok((model, weight))
}

fn finish(
    model: Model,
    given: Given,
    weights: &[Matrix2<f64>],
    limits: SolveLimits,
) -> Result<PlaneCamera, CameraError> {
    const FREE: CameraError =
        CameraError::BadlyPlaced { why: "they leave the camera free to move" };
    let at = squares(&model, given, weights).ok_or(FREE)?;
    // Each unknown by its own size, so that their units do not count.
    let own = at.normal.diagonal().map(|d| if d > 0.0 { 1.0 / d.sqrt() } else { 1.0 });
    let own = Covariance::from_diagonal(&own);
    let balanced = own * at.normal * own;
    let values = balanced.symmetric_eigenvalues();
    if values.min().is_nan() || values.min() <= 0.0 || values.max() / values.min() > CONDITION {
        return Err(FREE);
    }
    let mut covariance = own * balanced.try_inverse().ok_or(FREE)? * own;
    let spread = given.lens.spread();
    let mut terms = 0;
    for (index, spread) in spread.into_iter().enumerate() {
        let at = 8 + index;
        if spread == 0.0 {
            covariance.row_mut(at).fill(0.0);
            covariance.column_mut(at).fill(0.0);
        } else if covariance[(at, at)].sqrt() < 0.5 * spread {
            terms += 1;
        }
    }
    let residuals = residuals(&model, given, at.cost, terms).ok_or(FREE)?;
    let (worst, longest) = worst_of(&residuals.each);
    if longest > limits.residual {
        return Err(CameraError::ResidualTooLarge {
            worst,
            residual: Length(longest),
            limit: Length(limits.residual),
        });
    }
    covariance *= residuals.strain.max(1.0).powi(2);
    Ok(PlaneCamera { model, covariance, residuals, terms })
}

fn worst_of(each: &[Vec2]) -> (usize, f64) {
    let lengths = each.iter().map(|r| r.hypot()).enumerate();
    lengths.fold((0, 0.0), |best, one| if one.1 > best.1 { one } else { best })
}

fn residuals(model: &Model, given: Given, cost: f64, terms: usize) -> Option<Residuals> {
    let each: Option<Vec<Vec2>> =
        given.pairs.iter().map(|p| Some(model.picture_to_plane(p.picture)? - p.plane)).collect();
    let each = each?;
    let rms = (each.iter().map(|r| r.hypot2()).sum::<f64>() / each.len() as f64).sqrt();
    let sides: usize = given.sides.iter().map(StraightSide::spare).sum();
    let spare = (2 * given.pairs.len() + sides).saturating_sub(8 + terms);
    let strain = if spare == 0 { 1.0 } else { (cost / spare as f64).sqrt() };
    let worst = worst_of(&each).1;
    Some(Residuals { each, rms, worst, spare, strain })
}
