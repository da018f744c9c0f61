//! Edges between light and dark, found to a fraction of a pixel.
//!
//! Across an edge the light is smoothed and differentiated by the derivative of
//! a Gaussian (Canny 1986, memory); the edge lies where that is greatest, taken
//! from the parabola through the greatest sample and its neighbours.

use super::{Picture, Tone};
use crate::median::median;
use hangtrue_geometry::{Point, Vec2};

/// Sampling across an edge, pixels.
const STEP: f64 = 0.5;
/// How wide the smoothing kernel is cut, in standard deviations.
const KERNEL: f64 = 3.0;
/// An edge weaker than this against the strongest near it is texture.
const WEAK: f64 = 0.5;
/// Light this even shows no edge, full scale 1 per pixel.
const FAINTEST: f64 = 0.004;

/// Which way the light goes across an edge, in the direction looked in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Light to dark.
    Falls,
    /// Dark to light.
    Rises,
    /// Either.
    Either,
}

/// How an edge is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// The colours looked at.
    pub tone: Tone,
    /// How far to either side, pixels.
    pub reach: f64,
    /// Smoothing, standard deviation in pixels.
    pub blur: f64,
    /// Which way the light goes from inside to outside.
    pub way: Way,
}

/// An edge met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Where, pixels from the place asked about, along the direction looked in.
    pub offset: f64,
    /// Change of light per pixel, positive when it rises.
    pub slope: f64,
}

impl Look {
    /// The first clear edge met when going from `at − reach·across` to
    /// `at + reach·across`; `across` a unit vector.
    pub fn first(&self, picture: &Picture, at: Point, across: Vec2) -> Option<Edge> {
        let edges = self.all(picture, at, across);
        let strongest = edges.iter().map(|e| e.slope.abs()).fold(0.0, f64::max);
        edges.into_iter().find(|e| e.slope.abs() >= WEAK * strongest)
    }

    /// The clear edge nearest to `at`.
    pub fn nearest(&self, picture: &Picture, at: Point, across: Vec2) -> Option<Edge> {
        let edges = self.all(picture, at, across);
        let strongest = edges.iter().map(|e| e.slope.abs()).fold(0.0, f64::max);
        edges
            .into_iter()
            .filter(|e| e.slope.abs() >= WEAK * strongest)
            .min_by(|a, b| a.offset.abs().total_cmp(&b.offset.abs()))
    }

    /// The first clear edge, as [`Self::first`], in the mean of the light seen at `at`
    /// moved by each of `along`.
    pub fn first_of_mean(
        &self,
        picture: &Picture,
        at: Point,
        across: Vec2,
        along: &[Vec2],
    ) -> Option<Edge> {
        let share = 1.0 / along.len().max(1) as f64;
        let mean = |t: f64| {
            let sum: f64 = along
                .iter()
                .map(|by| f64::from(picture.light_at(self.tone, at + *by + across * t)))
                .sum();
            sum * share
        };
        let edges = self.edges(&self.slopes(mean));
        let strongest = edges.iter().map(|e| e.slope.abs()).fold(0.0, f64::max);
        edges.into_iter().find(|e| e.slope.abs() >= WEAK * strongest)
    }

    fn all(&self, picture: &Picture, at: Point, across: Vec2) -> Vec<Edge> {
        let light = |t: f64| f64::from(picture.light_at(self.tone, at + across * t));
        self.edges(&self.slopes(light))
    }

    fn edges(&self, slopes: &[f64]) -> Vec<Edge> {
        let sign = match self.way {
            Way::Falls => |s: f64| -s,
            Way::Rises => |s: f64| s,
            Way::Either => f64::abs,
        };
        let mut found = Vec::new();
        for i in 1..slopes.len().saturating_sub(1) {
            let [before, here, after] = [i - 1, i, i + 1].map(|k| sign(slopes[k]));
            if here < FAINTEST || here < before || here <= after {
                continue;
            }
            let bend = before - 2.0 * here + after;
            let shift = if bend < 0.0 { 0.5 * (before - after) / bend } else { 0.0 };
            let offset = (i as f64 + shift.clamp(-0.5, 0.5)) * STEP - self.reach;
            found.push(Edge { offset, slope: slopes[i] });
        }
        found
    }

    /// The smoothed change of light per pixel at every step across; `light` at a
    /// distance across.
    fn slopes(&self, light: impl Fn(f64) -> f64) -> Vec<f64> {
        let half = (KERNEL * self.blur / STEP).ceil() as usize;
        let count = (2.0 * self.reach / STEP).round() as usize + 1;
        let light: Vec<f64> = (0..count + 2 * half)
            .map(|i| {
                let t = (i as f64 - half as f64) * STEP - self.reach;
                light(t)
            })
            .collect();
        let kernel = slope_kernel(self.blur, half);
        (0..count).map(|i| kernel.iter().zip(&light[i..]).map(|(k, l)| k * l).sum()).collect()
    }
}

/// Weights that give the slope of a straight ramp exactly, per pixel.
fn slope_kernel(blur: f64, half: usize) -> Vec<f64> {
    let at = |i: usize| (i as f64 - half as f64) * STEP;
    let raw: Vec<f64> =
        (0..=2 * half).map(|i| at(i) * (-0.5 * (at(i) / blur).powi(2)).exp()).collect();
    let gain: f64 = raw.iter().enumerate().map(|(i, w)| w * at(i)).sum();
    raw.iter().map(|w| w / gain).collect()
}

/// A line followed along an edge: where the edge is at each place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct EdgePlace {
    /// The place on the edge, pixels.
    pub(crate) at: Point,
    /// Unit direction outward.
    pub(crate) out: Vec2,
}

/// Follows a rough line: at every place the first clear edge from inside to
/// outside, where inside lies to the left on the screen. Places without an edge,
/// and places whose edge lies more than `jump` pixels (and four times the usual
/// spread) off their neighbours', are left out.
pub(crate) fn follow(
    picture: &Picture,
    look: &Look,
    rough: &[Point],
    closed: bool,
    pick_nearest: bool,
    jump: f64,
) -> Vec<EdgePlace> {
    let found: Vec<Option<(Point, Vec2, Edge)>> = outward(rough, closed)
        .into_iter()
        .zip(rough)
        .map(|(out, &at)| {
            let edge = if pick_nearest {
                look.nearest(picture, at, out)
            } else {
                look.first(picture, at, out)
            };
            edge.map(|e| (at, out, e))
        })
        .collect();
    let mut slopes: Vec<f64> = found.iter().flatten().map(|f| f.2.slope.abs()).collect();
    let usual = median(&mut slopes).unwrap_or(0.0);
    let clear = |f: &(Point, Vec2, Edge)| f.2.slope.abs() >= 0.25 * usual;
    let offsets: Vec<Option<f64>> =
        found.iter().map(|f| f.as_ref().filter(|f| clear(f)).map(|f| f.2.offset)).collect();
    let keep = steady(&offsets, closed, jump);
    found
        .into_iter()
        .zip(keep)
        .filter_map(|(f, keep)| f.filter(|_| keep))
        .map(|(at, out, edge)| EdgePlace { at: at + out * edge.offset, out })
        .collect()
}

/// Which offsets go along with the middle one of their neighbours.
fn steady(offsets: &[Option<f64>], closed: bool, jump: f64) -> Vec<bool> {
    const AROUND: i64 = 8;
    let n = offsets.len() as i64;
    let near = |i: i64| {
        let of =
            |k: i64| if closed { Some(k.rem_euclid(n)) } else { (0..n).contains(&k).then_some(k) };
        let mut all: Vec<f64> =
            (i - AROUND..=i + AROUND).filter_map(of).filter_map(|k| offsets[k as usize]).collect();
        median(&mut all)
    };
    let away: Vec<Option<f64>> =
        (0..n).map(|i| Some((offsets[i as usize]? - near(i)?).abs())).collect();
    let mut sizes: Vec<f64> = away.iter().flatten().copied().collect();
    // 1.4826: the standard deviation of a normal spread by its median size.
    let spread = 1.4826 * median(&mut sizes).unwrap_or(0.0);
    let most = (4.0 * spread).max(jump);
    away.into_iter().map(|a| a.is_some_and(|a| a <= most)).collect()
}

/// Unit directions to the right on the screen of a line's travel.
pub(crate) fn outward(line: &[Point], closed: bool) -> Vec<Vec2> {
    const SPAN: i64 = 4;
    let n = line.len() as i64;
    let at = |k: i64| line[if closed { k.rem_euclid(n) } else { k.clamp(0, n - 1) } as usize];
    (0..n)
        .map(|i| {
            let d = at(i + SPAN) - at(i - SPAN);
            let d = if d.hypot() > 0.0 { d.normalize() } else { Vec2::new(1.0, 0.0) };
            Vec2::new(-d.y, d.x)
        })
        .collect()
}

/// A line laid out anew in even steps, about `step` pixels each.
pub(crate) fn even_steps(line: &[Point], closed: bool, step: f64) -> Vec<Point> {
    let mut whole = line.to_vec();
    if closed && let Some(first) = line.first() {
        whole.push(*first);
    }
    let length: f64 = whole.windows(2).map(|w| w[0].distance(w[1])).sum();
    let count = (length / step).round() as usize;
    if count < 2 || !length.is_finite() {
        return line.to_vec();
    }
    let step = length / count as f64;
    let mut out = Vec::with_capacity(count + 1);
    let (mut gone, mut next) = (0.0, 0.0);
    for w in whole.windows(2) {
        let part = w[0].distance(w[1]);
        while next <= gone + part && out.len() < count {
            let t = if part > 0.0 { (next - gone) / part } else { 0.0 };
            out.push(w[0].lerp(w[1], t));
            next += step;
        }
        gone += part;
    }
    if !closed && let Some(last) = line.last() {
        out.push(*last);
    }
    out
}

/// Each place of a line averaged with its neighbours.
pub(crate) fn softened(line: &[Point], closed: bool, around: i64) -> Vec<Point> {
    let n = line.len() as i64;
    (0..n)
        .map(|i| {
            // At an open end the window narrows evenly, so that the end stays.
            let around = if closed { around.min(n / 2) } else { around.min(i).min(n - 1 - i) };
            let sum = (i - around..=i + around)
                .map(|k| line[k.rem_euclid(n) as usize].to_vec2())
                .fold(Vec2::ZERO, |a, b| a + b);
            (sum / (2 * around + 1) as f64).to_point()
        })
        .collect()
}
