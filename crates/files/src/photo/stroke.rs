//! Straight strokes of a pencil or pen on the card: ridges of dark, put together as
//! far as they run straight on.
//!
//! A place is on a ridge where the dark bends down most across it and is greatest
//! there (Steger 1998, memory: the second derivatives of a Gaussian); a stroke is the
//! straight line of least squares through those of one direction.

use super::flat::Flat;
use crate::median::median;
use hangtrue_geometry::{Point, Vec2};
use rayon::prelude::*;

/// A straight stroke on the table, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stroke {
    pub(crate) from: Point,
    pub(crate) to: Point,
    /// How far its places lie from it, root mean square, mm.
    pub(crate) scatter: f64,
    /// How dark it is (natural logarithm).
    pub(crate) dark: f64,
}

impl Stroke {
    pub(crate) fn length(&self) -> f64 {
        self.from.distance(self.to)
    }

    pub(crate) fn way(&self) -> Vec2 {
        (self.to - self.from).normalize()
    }

    /// How far a place lies from the endless line.
    pub(crate) fn off(&self, p: Point) -> f64 {
        self.way().cross(p - self.from)
    }
}

/// The smoothing, mm and cells.
const BLUR: (f64, f64) = (0.4, 1.2);
/// A ridge must be so many times what is usual on the card.
const CLEAR: f64 = 3.5;
/// Faintest ridges, bends of the logarithm of light in a cell.
const FAINTEST: f32 = 0.004;
/// Places of a stroke turn from it by no more than this, radians.
const TURN: f64 = 0.3;
/// How far beside the stroke its places are looked for, mm and cells.
const BESIDE: (f64, f64) = (0.5, 1.3);
/// A stroke may be broken for so long, mm.
const GAP: f64 = 4.0;
/// Strokes shorter than this are writing, mm.
pub(crate) const SHORT: f64 = 15.0;
/// The share of its length a stroke must be seen on; and when it is long.
const SEEN: (f64, f64) = (0.8, 0.6);
const LONG: f64 = 60.0;
/// The most strokes of a card.
const MOST: usize = 60;

/// Places of ridges.
struct Ridges {
    at: Vec<Point>,
    way: Vec<Vec2>,
    strong: Vec<f32>,
    /// Which place lies in a cell, one more than its number; 0 for none.
    cells: Vec<u32>,
    used: Vec<bool>,
}

/// The straight strokes on a card, the longest first.
pub(crate) fn strokes(flat: &Flat) -> Vec<Stroke> {
    let Some(mut ridges) = Ridges::of(flat) else { return Vec::new() };
    let mut order: Vec<usize> = (0..ridges.at.len()).collect();
    order.sort_by(|a, b| ridges.strong[*b].total_cmp(&ridges.strong[*a]));
    let mut found: Vec<Stroke> = Vec::new();
    let mut tried = vec![false; ridges.at.len()];
    for seed in order {
        if ridges.used[seed] || tried[seed] || found.len() >= MOST {
            continue;
        }
        tried[seed] = true;
        let Some((stroke, places)) = ridges.grown(flat, seed) else { continue };
        for place in places {
            tried[place] = true;
        }
        ridges.use_up(flat, &stroke);
        found.push(stroke);
    }
    found.sort_by(|a, b| b.length().total_cmp(&a.length()));
    found
}

impl Ridges {
    fn of(flat: &Flat) -> Option<Self> {
        let blur = (BLUR.0 / flat.cell).max(BLUR.1);
        let smooth = smoothed(flat, blur);
        let (w, h) = (flat.width, flat.height);
        if w < 8 || h < 8 {
            return None;
        }
        let bend = |x: usize, y: usize| -> Option<(f32, Vec2, f64)> {
            let v = |dx: i64, dy: i64| {
                f64::from(smooth[(y as i64 + dy) as usize * w + (x as i64 + dx) as usize])
            };
            let here = v(0, 0);
            let (gx, gy) = ((v(1, 0) - v(-1, 0)) / 2.0, (v(0, 1) - v(0, -1)) / 2.0);
            let (xx, yy) = (v(1, 0) - 2.0 * here + v(-1, 0), v(0, 1) - 2.0 * here + v(0, -1));
            let xy = (v(1, 1) - v(-1, 1) - v(1, -1) + v(-1, -1)) / 4.0;
            let half = (xx - yy) / 2.0;
            let root = half.hypot(xy);
            let most = (xx + yy) / 2.0 - root;
            let across = Vec2::from_angle(0.5 * xy.atan2(half) + std::f64::consts::FRAC_PI_2);
            let slope = gx * across.x + gy * across.y;
            (most.is_finite() && most < 0.0).then(|| (-most as f32, across, -slope / most))
        };
        let step = (w * h / 200_000).max(1);
        let inner = |i: &usize| {
            let (x, y) = (i % w, i / w);
            x > 0 && y > 0 && x + 1 < w && y + 1 < h
        };
        let mut usual: Vec<f64> = (0..w * h)
            .step_by(step)
            .filter(inner)
            .filter_map(|i| bend(i % w, i / w).map(|b| f64::from(b.0)))
            .collect();
        // What of the bends goes down is half of a two-way spread.
        let usual = 1.4826 * median(&mut usual)?;
        let least = FAINTEST.max((CLEAR * usual) as f32);
        let rows: Vec<Vec<(usize, Point, Vec2, f32)>> = (1..h - 1)
            .into_par_iter()
            .map(|y| {
                (1..w - 1)
                    .filter_map(|x| {
                        let (strong, across, shift) = bend(x, y)?;
                        let near =
                            (across.x * shift).abs() <= 0.6 && (across.y * shift).abs() <= 0.6;
                        let at =
                            flat.place(x as f64 + across.x * shift, y as f64 + across.y * shift);
                        let way = Vec2::new(-across.y, across.x);
                        (strong >= least && near).then_some((y * w + x, at, way, strong))
                    })
                    .collect()
            })
            .collect();
        let mut own = Self {
            at: Vec::new(),
            way: Vec::new(),
            strong: Vec::new(),
            cells: vec![0; w * h],
            used: Vec::new(),
        };
        for (cell, at, way, strong) in rows.into_iter().flatten() {
            own.at.push(at);
            own.way.push(way);
            own.strong.push(strong);
            own.used.push(false);
            own.cells[cell] = own.at.len() as u32;
        }
        Some(own)
    }

    /// The places of a cell and those round it.
    fn near(&self, flat: &Flat, p: Point, reach: f64) -> Vec<usize> {
        let Some(cell) = flat.cell_of(p) else { return Vec::new() };
        let (x, y) = ((cell % flat.width) as i64, (cell / flat.width) as i64);
        let around = (reach / flat.cell).ceil() as i64 + 1;
        let mut all = Vec::new();
        for y in (y - around).max(0)..=(y + around).min(flat.height as i64 - 1) {
            for x in (x - around).max(0)..=(x + around).min(flat.width as i64 - 1) {
                let own = self.cells[y as usize * flat.width + x as usize];
                if own > 0 && !self.used[own as usize - 1] {
                    all.push(own as usize - 1);
                }
            }
        }
        all
    }

    /// The stroke that goes through a place.
    fn grown(&self, flat: &Flat, seed: usize) -> Option<(Stroke, Vec<usize>)> {
        let beside = BESIDE.0.max(BESIDE.1 * flat.cell);
        let (mut through, mut way) = (self.at[seed], self.way[seed]);
        let mut places = vec![seed];
        let mut ends = (0.0, 0.0);
        // A little at a time, the line drawn anew each time, then as far as it goes.
        for reach in [4.0, 8.0, 16.0, 40.0, 4000.0, 4000.0, 4000.0] {
            let (all, low, high) = self.along(flat, (through, way), (beside, reach));
            if all.len() < 5 {
                return None;
            }
            (through, way) = self.line(&all, way)?;
            places = all;
            ends = (low, high);
        }
        let length: f64 = ends.1 - ends.0;
        if length < SHORT {
            return None;
        }
        let bins = (length / BIN).ceil().max(1.0) as usize;
        let mut seen = vec![false; bins];
        let mut off = 0.0;
        let mut dark = Vec::new();
        let at = |t: f64| through + way * t;
        // The ends were counted from the line before; count them from this one.
        let along: Vec<f64> = places.iter().map(|p| (self.at[*p] - through).dot(way)).collect();
        let low = along.iter().copied().fold(f64::INFINITY, f64::min);
        let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for (place, t) in places.iter().zip(&along) {
            off += way.cross(self.at[*place] - through).powi(2);
            let bin = ((t - low) / BIN) as usize;
            seen[bin.min(bins - 1)] = true;
            dark.extend(flat.at(self.at[*place]));
        }
        let share = seen.iter().filter(|s| **s).count() as f64 / bins as f64;
        let scatter = (off / places.len() as f64).sqrt();
        let enough = if length > LONG { SEEN.1 } else { SEEN.0 };
        if share < enough || scatter > 0.6 * beside {
            return None;
        }
        let dark = median(&mut dark)?;
        Some((Stroke { from: at(low), to: at(high), scatter, dark }, places))
    }

    /// The places along a line from a place of it both ways until a gap.
    fn along(
        &self,
        flat: &Flat,
        (through, way): (Point, Vec2),
        (beside, reach): (f64, f64),
    ) -> (Vec<usize>, f64, f64) {
        let mut all = Vec::new();
        let mut ends = [0.0f64; 2];
        for (side, end) in [(-1.0, 0), (1.0, 1)] {
            let mut last = 0.0;
            let mut t = 0.0;
            while t <= reach && t - last <= GAP {
                let here = through + way * (side * t);
                let mut met = false;
                for place in self.near(flat, here, beside.max(BIN / 2.0)) {
                    let off = self.at[place] - through;
                    let along = side * off.dot(way);
                    let turn = self.way[place].cross(way).abs();
                    if (t - BIN / 2.0..t + BIN / 2.0).contains(&along)
                        && way.cross(off).abs() <= beside
                        && turn < TURN
                    {
                        all.push(place);
                        met = true;
                        ends[end] = ends[end].max(along);
                    }
                }
                if met {
                    last = t;
                }
                t += BIN;
            }
        }
        all.sort_unstable();
        all.dedup();
        (all, -ends[0], ends[1])
    }

    /// The straight line of least squares, directed as before.
    fn line(&self, places: &[usize], before: Vec2) -> Option<(Point, Vec2)> {
        let n = places.len() as f64;
        let middle = places.iter().fold(Vec2::ZERO, |a, p| a + self.at[*p].to_vec2()) / n;
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for place in places {
            let off = self.at[*place].to_vec2() - middle;
            xx += off.x * off.x;
            xy += off.x * off.y;
            yy += off.y * off.y;
        }
        let way = Vec2::from_angle(0.5 * (2.0 * xy).atan2(xx - yy));
        let way = if way.dot(before) < 0.0 { -way } else { way };
        (way.dot(before) > 0.5).then(|| (middle.to_point(), way))
    }

    /// Everything close to a stroke belongs to it.
    fn use_up(&mut self, flat: &Flat, stroke: &Stroke) {
        let wide = 1.0f64.max(2.5 * flat.cell);
        let count = (stroke.length() / BIN).ceil() as usize;
        for i in 0..=count {
            let at = stroke.from.lerp(stroke.to, i as f64 / count.max(1) as f64);
            for place in self.near(flat, at, wide) {
                let along = self.way[place].cross(stroke.way()).abs() < 2.0 * TURN;
                if stroke.off(self.at[place]).abs() < wide && along {
                    self.used[place] = true;
                }
            }
        }
    }
}

/// A stroke is followed in such steps, mm.
const BIN: f64 = 1.0;

/// The dark of each cell smoothed by a Gaussian; NaN next to what is not known.
fn smoothed(flat: &Flat, blur: f64) -> Vec<f32> {
    let half = (3.0 * blur).ceil() as i64;
    let raw: Vec<f32> =
        (-half..=half).map(|i| (-0.5 * (i as f64 / blur).powi(2)).exp() as f32).collect();
    let sum: f32 = raw.iter().sum();
    let kernel: Vec<f32> = raw.iter().map(|k| k / sum).collect();
    let (w, h) = (flat.width, flat.height);
    let pass = |from: &[f32], across: bool| -> Vec<f32> {
        let mut to = vec![f32::NAN; w * h];
        to.par_chunks_mut(w).enumerate().for_each(|(y, row)| {
            for (x, cell) in row.iter_mut().enumerate() {
                let (at, end) = if across { (x, w) } else { (y, h) };
                if from[y * w + x].is_nan() || at < half as usize || at + half as usize >= end {
                    continue;
                }
                let start =
                    if across { y * w + x - half as usize } else { (y - half as usize) * w + x };
                let step = if across { 1 } else { w };
                *cell = kernel.iter().enumerate().map(|(k, v)| v * from[start + k * step]).sum();
            }
        });
        to
    };
    pass(&pass(&flat.dark, true), false)
}
