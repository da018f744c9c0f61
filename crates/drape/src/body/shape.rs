//! The body as a level function: below nought inside, nought on the skin, above
//! outside. A torso and two legs, each a stack of superellipses whose front and
//! back halves differ, run together smoothly.
//!
//! A part's level is the way from the skin along the ray from its middle,
//! `r (1 − 1/ρ)`, ρ the superellipse's norm; so it is near the distance close to
//! the skin, and closed everywhere.

use super::curve::Curve;
use super::number::{Number, Sloped};
use crate::cloth::Position;
use crate::contact::Solid;

/// The sections of a part by their height, mm.
#[derive(Debug, Clone, Default)]
pub struct Stack {
    /// Sideways place of the middle.
    pub x: Curve,
    /// Place of the middle, front positive.
    pub y: Curve,
    /// Half the breadth.
    pub half: Curve,
    /// From the middle to the front.
    pub front: Curve,
    /// From the middle to the back.
    pub back: Curve,
    /// Exponent of the superellipse: 2 is an ellipse, more is squarer.
    pub square: Curve,
}

impl Stack {
    /// The norm of the section at `level` and the distance from its middle, at x, y.
    fn norm<T: Number>(&self, x: T, y: T, level: T) -> (T, T) {
        let (dx, dy) = (x - self.x.at(level), y - self.y.at(level));
        let deep = if dy.value() > 0.0 { self.front.at(level) } else { self.back.at(level) };
        let n = self.square.at(level);
        let across = size(dx) / self.half.at(level);
        let along = size(dy) / deep;
        let sum = across.power(n) + along.power(n);
        (sum.power(T::of(1.0) / n), dx * dx + dy * dy)
    }
}

fn size<T: Number>(v: T) -> T {
    if v.value() < 0.0 { -v } else { v }
}

/// The level of a part: `r (1 − 1/ρ)`; at its very middle something well inside.
fn from_skin<T: Number>(norm: T, r_squared: T) -> T {
    if norm.value() < 1e-3 {
        return T::of(-1e3);
    }
    r_squared.root() * (T::of(1.0) - T::of(1.0) / norm)
}

/// Both of two, run together over a width (twice continuously differentiable).
fn both<T: Number>(a: T, b: T, width: f64) -> T {
    let (low, high) = if a.value() < b.value() { (a, b) } else { (b, a) };
    let gap = high - low;
    if gap.value() >= width {
        return low;
    }
    let h = T::of(1.0) - gap / T::of(width);
    low - h * h * h * T::of(width / 6.0)
}

/// A body.
#[derive(Debug, Clone, Default)]
pub struct Shape {
    /// The torso down to its base.
    pub torso: Stack,
    /// Where the torso begins to close, mm above the floor.
    pub base: f64,
    /// How far below its base the torso ends, mm.
    pub depth: f64,
    /// The roundness of its underside.
    pub under: f64,
    /// The right leg.
    pub leg: Stack,
    /// Where the leg begins to close upwards, and how far above it ends, mm.
    pub top: (f64, f64),
    /// By how much the body lies lower for each mm to the right, by level; nothing where
    /// both sides are alike.
    pub lean: Curve,
}

/// Over what difference torso and legs, and the two legs, run together, mm. Ours.
const JOINED: f64 = 14.0;
const LEGS_JOINED: f64 = 10.0;
/// Rounds by which a leaning level is found; each is at least four times nearer.
const LEAN_ROUNDS: usize = 12;
/// Further to the side than any body, mm.
const ASIDE: f64 = 300.0;

impl Shape {
    /// The level at a place.
    pub fn level<T: Number>(&self, x: T, y: T, z: T) -> T {
        // What leans is the even body, its levels sheared.
        let z = z + self.lean.at(z) * x;
        let torso = self.torso_level(x, y, z);
        if z.value() > self.top.0 + self.top.1 + JOINED {
            return torso;
        }
        let x = size(x);
        let right = self.leg_level(x, y, z);
        let legs = if x.value() < 80.0 && right.value() < 60.0 {
            both(right, self.leg_level(-x, y, z), LEGS_JOINED)
        } else {
            right
        };
        both(torso, legs, JOINED)
    }

    /// Where a place of the even body lies on the one that leans.
    pub fn leaned(&self, at: Position) -> Position {
        let mut z = at.z;
        for _ in 0..LEAN_ROUNDS {
            z = at.z - self.lean.at(z) * at.x;
        }
        Position::new(at.x, at.y, z)
    }

    fn torso_level<T: Number>(&self, x: T, y: T, z: T) -> T {
        let under = T::of(self.base) - z;
        if under.value() <= 0.0 {
            let (norm, r) = self.torso.norm(x, y, z);
            return from_skin(norm, r);
        }
        let (norm, r) = self.torso.norm(x, y, T::of(self.base));
        let m = T::of(self.under);
        let sum = norm.power(m) + (under / T::of(self.depth)).power(m);
        from_skin(sum.power(T::of(1.0 / self.under)), r + under * under)
    }

    fn leg_level<T: Number>(&self, x: T, y: T, z: T) -> T {
        let over = z - T::of(self.top.0);
        if over.value() <= 0.0 {
            let (norm, r) = self.leg.norm(x, y, z);
            return from_skin(norm, r);
        }
        let (norm, r) = self.leg.norm(x, y, T::of(self.top.0));
        let over = over / T::of(self.top.1);
        let sum = norm * norm + over * over;
        let height = over * T::of(self.top.1);
        from_skin(sum.root(), r + height * height)
    }
}

impl Solid for Shape {
    fn probe(&self, at: &Position) -> (f64, Position) {
        let level =
            self.level(Sloped::along(at.x, 0), Sloped::along(at.y, 1), Sloped::along(at.z, 2));
        (level.value, Position::from(level.slope))
    }

    fn level_at(&self, at: &Position) -> f64 {
        self.level(at.x, at.y, at.z)
    }

    /// With a part's norm ρ and its skin at `r/ρ` along a ray, `r (1 − 1/ρ)` changes by
    /// at most `1 + (r/ρ) |∇ρ|/ρ`, and a norm by at most one over its shortest half axis
    /// each way; half as much again is left for sections that change with height.
    fn steepest(&self) -> f64 {
        let ratio = |stack: &Stack, end: f64| {
            let axes = [&stack.half, &stack.front, &stack.back].map(Curve::range);
            let short = axes.iter().map(|a| a.0).fold(end, f64::min);
            let long = axes.iter().map(|a| a.1).fold(end, f64::max);
            // A squarish section reaches further out than its axes.
            long * 2.0_f64.sqrt() / short
        };
        let even = 1.0 + 1.5 * ratio(&self.torso, self.depth).max(ratio(&self.leg, self.top.1));
        // Shearing the levels adds the lean itself and how fast it fades, at the side.
        let (low, high) = self.lean.range();
        let lean = if low <= high { low.abs().max(high.abs()) } else { 0.0 };
        even * (1.0 + lean + ASIDE * self.lean.fastest())
    }
}
