//! The cloth round a leg or the seat: sections that are no ellipses, flat where leg is
//! pressed to leg, with folds and ripples, found by rays marched to it.

use super::Dice;
use std::f64::consts::{FRAC_PI_2, TAU};

/// A fold: how far it stands out, where (mm round from the middle of the near side, and
/// up), how wide and long, and how it leans.
#[derive(Clone)]
pub struct Fold {
    pub out: f64,
    pub at: (f64, f64),
    pub wide: f64,
    pub long: f64,
    pub lean: f64,
}

/// Small waves of the cloth.
#[derive(Clone)]
pub struct Ripple {
    pub out: f64,
    pub round: f64,
    pub up: f64,
    pub phase: f64,
}

/// The cloth round one part of the body. x to the right of the photo, y up, z to the
/// camera. Angles from the middle of the near side, positive to the right.
#[derive(Clone)]
pub struct Cloth {
    pub middle: (f64, f64),
    /// Half widths to the left and right, half depths to the camera and away.
    pub left: f64,
    pub right: f64,
    pub near: f64,
    pub far: f64,
    /// Exponent of the section: 2 is elliptic, more is squarer.
    pub square: f64,
    /// The height at which the sizes hold; narrower per mm downwards; the middle moves
    /// to the right per mm upwards.
    pub level: f64,
    pub taper: f64,
    pub shift: f64,
    /// Pressed flat against a plane: its x, and to which side the cloth lies (±1).
    pub wall: Option<(f64, f64)>,
    pub folds: Vec<Fold>,
    pub ripples: Vec<Ripple>,
    /// Radii by the angle, at `level`.
    table: Vec<f64>,
}

const ANGLES: usize = 720;

impl Cloth {
    #[allow(clippy::too_many_arguments)]
    pub fn new(
        middle: (f64, f64),
        [left, right, near, far]: [f64; 4],
        square: f64,
        level: f64,
        wall: Option<(f64, f64)>,
    ) -> Self {
        let mut cloth = Self {
            middle,
            left,
            right,
            near,
            far,
            square,
            level,
            taper: 0.0,
            shift: 0.0,
            wall,
            folds: Vec::new(),
            ripples: Vec::new(),
            table: Vec::new(),
        };
        cloth.lay_table();
        cloth
    }

    pub fn lay_table(&mut self) {
        let radius = |k: usize| {
            let (sin, cos) = (TAU * k as f64 / ANGLES as f64).sin_cos();
            let across = if sin < 0.0 { self.left } else { self.right };
            let deep = if cos > 0.0 { self.near } else { self.far };
            let sum = (sin.abs() / across).powf(self.square) + (cos.abs() / deep).powf(self.square);
            sum.powf(-1.0 / self.square)
        };
        self.table = (0..=ANGLES).map(radius).collect();
    }

    /// Makes all sizes so many times as large.
    pub fn grow(&mut self, times: f64) {
        for size in [&mut self.left, &mut self.right, &mut self.near, &mut self.far] {
            *size *= times;
        }
        self.lay_table();
    }

    fn radius(&self, angle: f64) -> f64 {
        let at = angle.rem_euclid(TAU) / TAU * ANGLES as f64;
        let i = (at as usize).min(ANGLES - 1);
        self.table[i] + (at - i as f64) * (self.table[i + 1] - self.table[i])
    }

    fn size(&self, y: f64) -> f64 {
        1.0 + self.taper * (y - self.level)
    }

    fn axis(&self, y: f64) -> (f64, f64) {
        (self.middle.0 + self.shift * (y - self.level), self.middle.1)
    }

    fn out(&self, angle: f64, y: f64) -> f64 {
        let round = angle * 0.5 * (self.near + 0.5 * (self.left + self.right));
        let mut out = 0.0;
        for fold in &self.folds {
            let (x, v) = (round - fold.at.0, y - fold.at.1);
            let (sin, cos) = fold.lean.sin_cos();
            let (across, along) = (x * cos + v * sin, v * cos - x * sin);
            let far = (across / fold.wide).powi(2) + (along / fold.long).powi(2);
            if far < 9.0 {
                out += fold.out * (-far).exp();
            }
        }
        for r in &self.ripples {
            out += r.out * (r.round * round + r.up * y + r.phase).sin();
        }
        out
    }

    /// Below nought inside, near the distance close to the cloth.
    fn outside(&self, [x, y, z]: [f64; 3]) -> f64 {
        let (cx, cz) = self.axis(y);
        let (dx, dz) = (x - cx, z - cz);
        let (r, angle) = (dx.hypot(dz), dx.atan2(dz));
        let free = r - self.size(y) * self.radius(angle) - self.out(angle, y);
        match self.wall {
            Some((at, side)) => free.max(side * (at - x)),
            None => free,
        }
    }

    /// The angle of a place, and the way out of the cloth there.
    pub fn facing(&self, p: [f64; 3]) -> (f64, [f64; 3]) {
        let (cx, cz) = self.axis(p[1]);
        let angle = (p[0] - cx).atan2(p[2] - cz);
        let here = self.outside(p);
        let step = |k: usize| {
            let mut q = p;
            q[k] += 0.4;
            self.outside(q) - here
        };
        let n = [step(0), step(1), step(2)];
        let long = n.iter().map(|v| v * v).sum::<f64>().sqrt().max(1e-9);
        (angle, n.map(|v| v / long))
    }

    /// Where a ray first meets the cloth.
    pub fn met(&self, from: [f64; 3], way: [f64; 3]) -> Option<[f64; 3]> {
        let at = |t: f64| [from[0] + t * way[0], from[1] + t * way[1], from[2] + t * way[2]];
        let most = self.near.max(self.left).max(self.right) * 1.12 + 12.0;
        let t0 = (self.middle.1 + self.near * 1.12 + 12.0 - from[2]) / way[2];
        let end = (self.middle.1 - 40.0 - from[2]) / way[2];
        let first = at(t0);
        if (first[0] - self.axis(first[1]).0).abs() > most + 30.0 {
            return None;
        }
        let (mut t, mut last) = (t0, t0);
        for _ in 0..120 {
            let f = self.outside(at(t));
            if f < 0.03 {
                // Gone in: half way back, twice over, is near enough.
                let (mut low, mut high) = (last, t);
                for _ in 0..if f < -0.03 { 12 } else { 0 } {
                    let half = 0.5 * (low + high);
                    if self.outside(at(half)) < 0.0 { high = half } else { low = half }
                }
                return Some(at(high));
            }
            last = t;
            t += (0.75 * f).max(0.08);
            if t > end {
                return None;
            }
        }
        None
    }

    /// The place of an angle at a height, with or without folds.
    pub fn place(&self, angle: f64, y: f64, folds: bool) -> [f64; 3] {
        let (cx, cz) = self.axis(y);
        let r = self.size(y) * self.radius(angle) + if folds { self.out(angle, y) } else { 0.0 };
        let mut x = cx + r * angle.sin();
        if let Some((at, side)) = self.wall {
            x = if side > 0.0 { x.max(at) } else { x.min(at) };
        }
        [x, y, cz + r * angle.cos()]
    }

    /// Round the cloth at a height, along its folds: what the pattern knows.
    pub fn girth(&self, y: f64) -> f64 {
        let place = |k: i32| self.place(TAU * f64::from(k) / 1440.0, y, true);
        let way = |a: [f64; 3], b: [f64; 3]| (a[0] - b[0]).hypot(a[2] - b[2]);
        (0..1440).map(|k| way(place(k), place(k + 1))).sum()
    }

    /// Folds to `most` mm and ripples near heights.
    pub fn crumple(&mut self, most: f64, heights: &[f64], dice: &mut Dice) {
        for y in heights {
            for _ in 0..dice.count(2, 5) {
                let out = most * dice.between(-1.0, 1.0);
                let at = (dice.between(-1.4, 1.4) * self.near, y + dice.between(-40.0, 40.0));
                let (wide, long) = (dice.between(9.0, 28.0), dice.between(30.0, 120.0));
                let lean = dice.between(-FRAC_PI_2, FRAC_PI_2);
                self.folds.push(Fold { out, at, wide, long, lean });
            }
        }
        for _ in 0..3 {
            let (long, turn) = (dice.between(25.0, 70.0), dice.between(0.0, TAU));
            let (sin, cos) = turn.sin_cos();
            let out = dice.between(0.05, 0.13) * most;
            let phase = dice.between(0.0, TAU);
            self.ripples.push(Ripple { out, round: TAU / long * cos, up: TAU / long * sin, phase });
        }
    }
}
