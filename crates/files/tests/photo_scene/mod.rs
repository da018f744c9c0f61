//! Photos made by the tests: a card on a table under a pinhole camera with
//! radial distortion, a blurred lens, uneven light and noise. The camera here is
//! written apart from the one that is tested: a rotation, a focal length and
//! terms in focal lengths. All scenes are invented.
// A helper of tests: what fails here must stop the test.
#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub mod leg;

use hangtrue_files::photo::{Picture, encoded};
use hangtrue_geometry::{Chain, Point, Vec2};
use nalgebra::{Rotation3, Unit, Vector3};

/// A run of chance that is the same every time.
pub struct Chance(pub u64);

impl Chance {
    pub fn of(seed: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x1234_5678_9abc_def1);
        for _ in 0..8 {
            chance.uniform();
        }
        chance
    }

    /// 0 to 1.
    pub fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / 9_007_199_254_740_992.0
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    pub fn normal(&mut self) -> f64 {
        let r = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        r * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// A pinhole over the table.
#[derive(Clone)]
pub struct Pinhole {
    pub size: (usize, usize),
    turn: Rotation3<f64>,
    eye: Vector3<f64>,
    focal: f64,
    /// The lens axis off the middle of the picture, pixels.
    axis: Vec2,
    k1: f64,
    k2: f64,
}

/// How a pinhole stands.
#[derive(Clone, Copy)]
pub struct Stand {
    pub size: (usize, usize),
    /// From straight down, radians.
    pub tilt: f64,
    /// The way it is tilted, radians.
    pub about: f64,
    /// Turned in the picture, radians.
    pub roll: f64,
    /// Focal length, pixels.
    pub focal: f64,
    pub axis: Vec2,
    pub k1: f64,
    pub k2: f64,
}

impl Pinhole {
    /// Far enough away to see all of `must_see` with a border.
    pub fn seeing(stand: Stand, must_see: &[Point]) -> Self {
        let n = must_see.len() as f64;
        let at = must_see.iter().fold(Vec2::ZERO, |a, p| a + p.to_vec2()) / n;
        let mut far = 500.0;
        loop {
            let hole = Self::new(stand, at.to_point(), far);
            let (w, h) = (stand.size.0 as f64, stand.size.1 as f64);
            let inside = |p: &Point| {
                hole.sees(*p)
                    .is_some_and(|s| s.x > 25.0 && s.y > 25.0 && s.x < w - 25.0 && s.y < h - 25.0)
            };
            if must_see.iter().all(inside) {
                return hole;
            }
            far *= 1.02;
            assert!(far < 20_000.0, "the scene does not fit");
        }
    }

    pub fn new(stand: Stand, at: Point, far: f64) -> Self {
        let down = Rotation3::from_axis_angle(&Vector3::x_axis(), std::f64::consts::PI);
        let roll = Rotation3::from_axis_angle(&Vector3::z_axis(), stand.roll);
        let lean = Unit::new_normalize(Vector3::new(stand.about.cos(), stand.about.sin(), 0.0));
        let turn = Rotation3::from_axis_angle(&lean, stand.tilt) * roll * down;
        let eye = Vector3::new(at.x, at.y, 0.0) - turn.inverse() * Vector3::new(0.0, 0.0, far);
        Self {
            size: stand.size,
            turn,
            eye,
            focal: stand.focal,
            axis: stand.axis,
            k1: stand.k1,
            k2: stand.k2,
        }
    }

    pub fn sees(&self, p: Point) -> Option<Point> {
        let c = self.turn * (Vector3::new(p.x, p.y, 0.0) - self.eye);
        if c.z <= 1.0 {
            return None;
        }
        let (x, y) = (c.x / c.z, c.y / c.z);
        let r2 = x * x + y * y;
        let bend = 1.0 + r2 * (self.k1 + r2 * self.k2);
        let middle = Vec2::new(self.size.0 as f64 / 2.0, self.size.1 as f64 / 2.0) + self.axis;
        Some((middle + self.focal * bend * Vec2::new(x, y)).to_point())
    }
}

/// What lies on the table, later things on top: closed outlines in mm and how
/// much of the light they throw back.
pub struct Scene {
    pub ground: [f64; 3],
    pub layers: Vec<(Vec<Vec<Point>>, [f64; 3])>,
}

/// How the picture is taken.
#[derive(Clone, Copy)]
pub struct Taking {
    /// Blur, standard deviation in pixels.
    pub blur: f64,
    /// Noise, standard deviation in steps of 256.
    pub noise: f64,
    /// Change of light from the middle to the right and lower border.
    pub light: Vec2,
    /// Loss of light in the corners.
    pub dusk: f64,
}

impl Scene {
    pub fn taken(&self, hole: &Pinhole, taking: Taking, chance: &mut Chance) -> Picture {
        let (w, h) = hole.size;
        let mut light: Vec<[f32; 3]> = vec![self.ground.map(|v| v as f32); w * h];
        for (outlines, tone) in &self.layers {
            let cover = coverage(hole, outlines);
            for (pixel, c) in light.iter_mut().zip(cover) {
                for (p, t) in pixel.iter_mut().zip(tone) {
                    *p += c * (*t as f32 - *p);
                }
            }
        }
        blurred(&mut light, w, h, taking.blur);
        let mut pixels = Vec::with_capacity(w * h * 3);
        for (i, pixel) in light.iter().enumerate() {
            let x = (i % w) as f64 / w as f64 * 2.0 - 1.0;
            let y = (i / w) as f64 / h as f64 * 2.0 - 1.0;
            let shine =
                1.0 + taking.light.x * x + taking.light.y * y - taking.dusk * (x * x + y * y) / 2.0;
            for p in pixel {
                let step = f64::from(encoded(p * shine as f32)) + taking.noise * chance.normal();
                // Rounding of the camera itself comes before the noise here: it
                // adds a third of a step.
                pixels.push(step.round().clamp(0.0, 255.0) as u8);
            }
        }
        Picture::from_pixels(w, h, pixels).unwrap()
    }
}

/// Exact area of each pixel covered by closed outlines: the signed areas of their
/// edges summed along each row.
fn coverage(hole: &Pinhole, outlines: &[Vec<Point>]) -> Vec<f32> {
    let (w, h) = hole.size;
    let stride = w + 3;
    let mut area = vec![0f64; stride * h];
    for outline in outlines {
        let seen: Vec<Point> = outline.iter().filter_map(|p| hole.sees(*p)).collect();
        for i in 0..seen.len() {
            edge(&mut area, w, h, stride, seen[i], seen[(i + 1) % seen.len()]);
        }
    }
    let mut cover = Vec::with_capacity(w * h);
    for y in 0..h {
        let mut sum = 0.0;
        for x in 0..w {
            sum += area[y * stride + x];
            cover.push((sum.abs() as f32).min(1.0));
        }
    }
    cover
}

fn edge(area: &mut [f64], w: usize, h: usize, stride: usize, a: Point, b: Point) {
    if a.y == b.y {
        return;
    }
    let (way, top, low) = if a.y < b.y { (1.0, a, b) } else { (-1.0, b, a) };
    let slope = (low.x - top.x) / (low.y - top.y);
    let first = top.y.max(0.0).floor() as usize;
    let last = (low.y.min(h as f64).ceil().max(0.0) as usize).min(h);
    for y in first..last {
        let from = top.y.max(y as f64);
        let to = low.y.min(y as f64 + 1.0);
        if to <= from {
            continue;
        }
        let clip = |x: f64| x.clamp(0.0, w as f64);
        let (x0, x1) = (clip(top.x + slope * (from - top.y)), clip(top.x + slope * (to - top.y)));
        let (x0, x1) = (x0.min(x1), x0.max(x1));
        spread(&mut area[y * stride..], way * (to - from), x0, x1);
    }
}

/// Adds the height `d` of an edge that runs from x0 to x1 within one row: each
/// pixel gets the change of area from the one before it.
fn spread(row: &mut [f64], d: f64, x0: f64, x1: f64) {
    // Area to the right of the edge within pixels up to X, as a share of d.
    let right_of = |x: f64| -> f64 {
        if x1 - x0 < 1e-12 {
            return (x - x0).max(0.0);
        }
        let t = (x - x0).clamp(0.0, x1 - x0);
        t * t / (2.0 * (x1 - x0)) + (x - x1).max(0.0)
    };
    let (first, last) = (x0.floor() as usize, x1.floor() as usize + 1);
    let mut before = 0.0;
    let mut covered = 0.0;
    for (x, light) in row.iter_mut().enumerate().take(last + 1).skip(first) {
        let here = right_of(x as f64 + 1.0);
        let pixel = here - before;
        *light += d * (pixel - covered);
        covered = pixel;
        before = here;
    }
    row[last + 1] += d * (1.0 - covered);
}

fn blurred(light: &mut Vec<[f32; 3]>, w: usize, h: usize, blur: f64) {
    let half = (3.0 * blur).ceil() as i64;
    let raw: Vec<f64> = (-half..=half).map(|i| (-0.5 * (i as f64 / blur).powi(2)).exp()).collect();
    let sum: f64 = raw.iter().sum();
    let kernel: Vec<f32> = raw.iter().map(|v| (v / sum) as f32).collect();
    for across in [true, false] {
        let mut out = vec![[0f32; 3]; w * h];
        for y in 0..h {
            for x in 0..w {
                let to = &mut out[y * w + x];
                for (k, weight) in (-half..=half).zip(&kernel) {
                    let (xx, yy) = if across {
                        ((x as i64 + k).clamp(0, w as i64 - 1) as usize, y)
                    } else {
                        (x, (y as i64 + k).clamp(0, h as i64 - 1) as usize)
                    };
                    for (t, f) in to.iter_mut().zip(light[yy * w + xx]) {
                        *t += weight * f;
                    }
                }
            }
        }
        *light = out;
    }
}

/// An outline in short steps, for drawing only.
pub fn steps(chain: &Chain, step: f64) -> Vec<Point> {
    let length = chain.length();
    let n = (length / step).ceil() as usize;
    (0..n).map(|i| chain.point_at(length * i as f64 / n as f64)).collect()
}

/// A straight-sided outline with its sides in short steps: a lens bends them.
pub fn sides(corners: &[Point], step: f64) -> Vec<Point> {
    let n = corners.len();
    (0..n)
        .flat_map(|i| {
            let (a, b) = (corners[i], corners[(i + 1) % n]);
            let count = (a.distance(b) / step).ceil().max(1.0) as usize;
            (0..count).map(move |k| a.lerp(b, k as f64 / count as f64)).collect::<Vec<_>>()
        })
        .collect()
}

/// The lines of a mat: from line to line `pitch`, each `wide`, over a rectangle.
pub fn grid_lines(
    columns: std::ops::RangeInclusive<i32>,
    rows: std::ops::RangeInclusive<i32>,
    pitch: f64,
    wide: f64,
) -> Vec<Vec<Point>> {
    let (x0, x1) = (f64::from(*columns.start()) * pitch, f64::from(*columns.end()) * pitch);
    let (y0, y1) = (f64::from(*rows.start()) * pitch, f64::from(*rows.end()) * pitch);
    let half = wide / 2.0;
    let bar = |a: (f64, f64), b: (f64, f64)| {
        sides(&[(a.0, a.1), (b.0, a.1), (b.0, b.1), (a.0, b.1)].map(Point::from), 15.0)
    };
    let upright =
        columns.map(|c| f64::from(c) * pitch).map(|x| bar((x - half, y0), (x + half, y1)));
    let level = rows.map(|r| f64::from(r) * pitch).map(|y| bar((x0, y - half), (x1, y + half)));
    upright.chain(level).collect()
}

/// A mark of two dark and two light quarters, as printed for measuring.
pub fn target(at: Point, size: f64) -> Vec<Vec<Point>> {
    let quarter = |sx: f64, sy: f64| {
        [(0.0, 0.0), (sx, 0.0), (sx, sy), (0.0, sy)]
            .map(|(x, y)| at + Vec2::new(x * size, y * size))
            .to_vec()
    };
    vec![quarter(1.0, 1.0), quarter(-1.0, -1.0)]
}

/// How far traced curves lie from the true ones, both ways: root mean square and
/// worst, mm.
pub fn distance(traced: &[Chain], truth: &[Chain]) -> (f64, f64) {
    let (mut sum, mut count, mut worst) = (0.0, 0.0, 0.0f64);
    for (from, to) in [(traced, truth), (truth, traced)] {
        for chain in from {
            let mut points = steps(chain, 6.0);
            points.push(chain.end());
            for p in points {
                let off = to.iter().map(|c| c.nearest(p).distance).fold(f64::INFINITY, f64::min);
                sum += off * off;
                count += 1.0;
                worst = worst.max(off);
            }
        }
    }
    ((sum / count).sqrt(), worst)
}
