//! Marks found to a fraction of a pixel from where the maker pointed.
//!
//! Crossings and corners: the place where the edges around it point to; dots:
//! the place their edges stand square to. Both by least squares on the gradient
//! of the light (Förstner and Gülch 1987, memory).

use super::{Picture, Tone};
use crate::median::median;
use hangtrue_geometry::{Point, Vec2};
use nalgebra::{Matrix2, Vector2};
use serde::{Deserialize, Serialize};

/// What a mark looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum MarkLook {
    /// Two lines that cross, or a corner of fields.
    #[default]
    Crossing,
    /// A round dot.
    Dot,
    /// Whatever it is, the place pointed at is the place.
    AsPointed,
}

/// A mark found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundMark {
    /// The place, pixels.
    pub at: Point,
    /// Standard deviation each way, pixels.
    pub sigma: f64,
    /// How clearly it stands out: the weaker of its two directions, in squared
    /// light per pixel summed over the window; 0 for a mark used as pointed.
    pub strength: f64,
}

/// How well a hand points at a mark on a screen, standard deviation in pixels of
/// the picture (common practice, no published source).
pub const POINTED: f64 = 1.5;
/// No mark is believed to be found better than this, pixels.
pub const BEST: f64 = 0.05;
/// The variance of a smoothed difference against that of a pixel: (1, 2, 1)/4
/// one way and (−1, 0, 1)/2 the other.
const GRADIENT: f64 = 6.0 / 16.0 / 2.0;
/// Neighbouring differences share pixels: about four count as one.
const SHARED: f64 = 4.0;

/// Finds a mark near a place.
///
/// # Errors
/// Says in words why there is none.
pub fn find_mark(
    picture: &Picture,
    look: MarkLook,
    near: Point,
    reach: f64,
) -> Result<FoundMark, &'static str> {
    if !picture.holds(near, 0.0) {
        return Err("it lies outside the picture");
    }
    if look == MarkLook::AsPointed {
        return Ok(FoundMark { at: near, sigma: POINTED, strength: 0.0 });
    }
    let patch = Patch::around(picture, near, (3.0 * reach).ceil() as i64 + 3);
    let mut at = near;
    let mut found = None;
    for _ in 0..20 {
        let next = one_step(&patch, look, at, reach).ok_or(
            "nothing that looks like a mark is there; point at it again, or use it as pointed",
        )?;
        let moved = next.at.distance(at);
        at = next.at;
        found = Some(next);
        if at.distance(near) > 2.0 * reach {
            return Err("the nearest mark is too far from where you pointed; point at it again");
        }
        if moved < 0.005 {
            break;
        }
    }
    found.ok_or("nothing is there")
}

/// The light round a place, one value a pixel.
struct Patch {
    left: i64,
    top: i64,
    side: usize,
    light: Vec<f64>,
    /// Standard deviation of single pixels that is no mark.
    noise: f64,
}

/// The noise of a square of pixels: mixed second differences do not see light
/// that changes evenly, nor a line along the rows or columns; the middle one of
/// their sizes does not see the few others (1.4826: the standard deviation of a
/// normal spread by its median size).
fn noise(light: &[f64], side: usize) -> f64 {
    let at = |x: usize, y: usize| light[y * side + x];
    let mut sizes: Vec<f64> = (1..side)
        .flat_map(|y| (1..side).map(move |x| (x, y)))
        .map(|(x, y)| (at(x, y) - at(x - 1, y) - at(x, y - 1) + at(x - 1, y - 1)).abs() / 2.0)
        .collect();
    1.4826 * median(&mut sizes).unwrap_or(0.0)
}

impl Patch {
    fn around(picture: &Picture, at: Point, half: i64) -> Self {
        let (left, top) = (at.x.floor() as i64 - half, at.y.floor() as i64 - half);
        let side = (2 * half + 1) as usize;
        let light = (0..side * side).map(|i| {
            let (x, y) = (left + (i % side) as i64, top + (i / side) as i64);
            f64::from(picture.light(Tone::BRIGHTNESS, x, y))
        });
        let light: Vec<f64> = light.collect();
        let noise = noise(&light, side);
        Self { left, top, side, light, noise }
    }

    /// The change of light per pixel, across and down, at the middle of a pixel:
    /// smoothed differences (Sobel's weights).
    fn gradient(&self, x: i64, y: i64) -> Option<Vector2<f64>> {
        let (x, y) = (usize::try_from(x - self.left).ok()?, usize::try_from(y - self.top).ok()?);
        if x < 1 || y < 1 || x + 1 >= self.side || y + 1 >= self.side {
            return None;
        }
        let at = |dx: usize, dy: usize| self.light[(y + dy - 1) * self.side + x + dx - 1];
        let column = |dx: usize| (at(dx, 0) + 2.0 * at(dx, 1) + at(dx, 2)) / 4.0;
        let row = |dy: usize| (at(0, dy) + 2.0 * at(1, dy) + at(2, dy)) / 4.0;
        Some(Vector2::new((column(2) - column(0)) / 2.0, (row(2) - row(0)) / 2.0))
    }
}

/// One least-squares step with the window laid round `at`.
fn one_step(patch: &Patch, look: MarkLook, at: Point, reach: f64) -> Option<FoundMark> {
    let half = reach.ceil() as i64 + 1;
    let (mut a, mut b) = (Matrix2::<f64>::zeros(), Vector2::<f64>::zeros());
    let mut rows = Vec::with_capacity(((2 * half + 1) * (2 * half + 1)) as usize);
    let (cx, cy) = (at.x.floor() as i64, at.y.floor() as i64);
    for y in cy - half..=cy + half {
        for x in cx - half..=cx + half {
            let v = Vector2::new(x as f64 + 0.5 - at.x, y as f64 + 0.5 - at.y);
            let weight = 1.0 - v.norm_squared() / (reach * reach);
            if weight <= 0.0 {
                continue;
            }
            let Some(g) = patch.gradient(x, y) else { continue };
            // The direction the place is tied in: along the gradient for a
            // line through it, square to it for a ring round it.
            let tie = if look == MarkLook::Dot { Vector2::new(-g.y, g.x) } else { g };
            let weight = weight * weight;
            a += tie * tie.transpose() * weight;
            b += tie * (tie.dot(&v) * weight);
            rows.push((tie, v, weight));
        }
    }
    let spread = a.symmetric_eigenvalues();
    let (low, high) = (spread.min(), spread.max());
    // One edge alone holds the place in one direction only.
    if low < 1e-5 || low < 0.05 * high {
        return None;
    }
    let inverse = a.try_inverse()?;
    let shift = inverse * b;
    if shift.norm() > reach {
        return None;
    }
    // What the noise of the pixels moves: a weighted square of differences that
    // each keep GRADIENT of it, of which neighbours share their pixels.
    let mut spread = Matrix2::zeros();
    for (tie, v, weight) in rows {
        let away = v - shift;
        let (along, size) = (tie.dot(&away), away.norm_squared());
        let crossed = (tie * away.transpose() + away * tie.transpose()) * along;
        let own = Matrix2::identity() * (along * along) + crossed + tie * tie.transpose() * size;
        spread += own * (weight * weight);
    }
    let own = GRADIENT * SHARED * patch.noise * patch.noise;
    let variance = inverse * spread * inverse * own;
    let sigma = variance.symmetric_eigenvalues().max().max(0.0).sqrt();
    let at = at + Vec2::new(shift.x, shift.y);
    Some(FoundMark { at, sigma: sigma.max(BEST), strength: low })
}
