//! What the cloth lies against, and the friction there.

use crate::cloth::Position;
use crate::sparse::Blocks;
use nalgebra::Matrix3;

/// Something solid.
pub trait Solid: Sync {
    /// A level function of the place, mm, nought on the surface, above nought
    /// outside, and its gradient. Near the surface it need only be near the
    /// distance; it is divided by its steepness.
    fn probe(&self, at: &Position) -> (f64, Position);

    /// The level alone.
    fn level_at(&self, at: &Position) -> f64 {
        self.probe(at).0
    }

    /// The most the level changes for each mm gone, anywhere outside.
    fn steepest(&self) -> f64;

    /// The distance from the surface to first order, mm, and the way out.
    fn distance(&self, at: &Position) -> (f64, Position) {
        let (level, slope) = self.probe(at);
        let steep = slope.norm().max(1e-6);
        (level / steep, slope / steep)
    }
}

/// Nothing solid at all.
pub struct Nothing;

impl Solid for Nothing {
    fn probe(&self, _: &Position) -> (f64, Position) {
        (1e9, Position::z())
    }

    fn steepest(&self) -> f64 {
        1.0
    }
}

/// How cloth lies against a solid.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Touch {
    /// How far from the surface the middle of the cloth is held, mm.
    pub offset: f64,
    /// Pressure for each mm nearer, N/mm³, once it is pressed in by [`Self::soft`].
    pub stiffness: f64,
    /// Over this way the stiffness rises from nought, mm: what comes to lie against
    /// the body is felt by and by.
    pub soft: f64,
    /// Friction over pressure.
    pub friction: f64,
    /// Sliding this far makes the whole of the friction felt, mm.
    pub creep: f64,
}

impl Touch {
    /// Ours, but for the friction: 0.3 for cotton on cotton is memory. Softer, and cloth
    /// sinks visibly into the hip; stiffer, and it settles in more steps to the same lines.
    pub const USUAL: Self =
        Self { offset: 1.0, stiffness: 2e-3, soft: 0.5, friction: 0.3, creep: 1.0 };

    /// Energy, pressure and stiffness for each mm² of cloth at a depth, N/mm, N/mm²
    /// and N/mm³.
    pub fn press(&self, depth: f64) -> (f64, f64, f64) {
        let (k, soft) = (self.stiffness, self.soft);
        if depth <= 0.0 {
            (0.0, 0.0, 0.0)
        } else if depth < soft {
            let t = depth / soft;
            (k * soft * soft * t * t * t / 6.0, 0.5 * k * soft * t * t, k * t)
        } else {
            let over = depth - soft;
            let energy = soft * soft / 6.0 + 0.5 * soft * over + 0.5 * over * over;
            (k * energy, k * (0.5 * soft + over), k)
        }
    }
}

/// What was seen of a vertex when it was looked at last.
#[derive(Debug, Clone, Copy)]
struct Look {
    at: Position,
    level: f64,
    slope: Position,
    /// The way it may go from there before it can touch, mm.
    clear: f64,
}

impl Default for Look {
    fn default() -> Self {
        let nowhere = Position::repeat(f64::NAN);
        Self { at: nowhere, level: 0.0, slope: Position::z(), clear: 0.0 }
    }
}

/// The contact of every vertex with a solid.
pub struct Contact<'a> {
    solid: &'a dyn Solid,
    touch: Touch,
    areas: Vec<f64>,
    /// How steep the level function is at each vertex. Held during a step, so that
    /// energy and gradient belong together.
    steep: Vec<f64>,
    looks: Vec<Look>,
    /// Where each vertex was when friction was last set, the way out there, and the
    /// force it was pressed with.
    held: Vec<(Position, Position, f64)>,
}

impl<'a> Contact<'a> {
    /// The contact of vertices that answer for `areas`, mm².
    pub fn new(solid: &'a dyn Solid, touch: Touch, areas: Vec<f64>) -> Self {
        let steep = vec![1.0; areas.len()];
        let looks = vec![Look::default(); areas.len()];
        Self { solid, touch, areas, steep, looks, held: Vec::new() }
    }

    /// Takes the steepness anew.
    pub fn look(&mut self, x: &[Position]) {
        let most = self.solid.steepest();
        for (v, at) in x.iter().enumerate() {
            if !self.is_clear(v, at) {
                let (level, slope) = self.solid.probe(at);
                let steep = slope.norm().max(0.2);
                self.steep[v] = steep;
                let clear = level / most - self.touch.offset;
                self.looks[v] = Look { at: *at, level, slope, clear };
            }
        }
    }

    /// Whether a vertex is too far off to touch; told without asking the solid.
    fn is_clear(&self, v: usize, at: &Position) -> bool {
        let last = &self.looks[v];
        last.clear > 0.0 && (at - last.at).norm_squared() < last.clear * last.clear
    }

    /// What the solid says of a vertex: what it said at the last look, if it has not
    /// moved since.
    fn probe(&self, v: usize, at: &Position) -> (f64, Position) {
        let last = &self.looks[v];
        if last.at == *at { (last.level, last.slope) } else { self.solid.probe(at) }
    }

    /// From here on friction holds the cloth where it is now.
    pub fn grip(&mut self, x: &[Position]) {
        if self.touch.friction <= 0.0 {
            return;
        }
        let held = x.iter().enumerate().map(|(v, at)| {
            let (level, slope) = self.solid.probe(at);
            let depth = (self.touch.offset - level / self.steep[v]).max(0.0);
            let out = slope.normalize();
            (*at, out, self.touch.friction * self.areas[v] * self.touch.press(depth).1)
        });
        self.held = held.collect();
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let mut sum = 0.0;
        for (v, at) in x.iter().enumerate() {
            if !self.is_clear(v, at) {
                let depth = self.touch.offset - self.solid.level_at(at) / self.steep[v];
                sum += self.areas[v] * self.touch.press(depth).0;
            }
        }
        for ((from, out, force), at) in self.held.iter().zip(x) {
            if *force > 0.0 {
                sum += force * slide(along(at - from, out).norm(), self.touch.creep).0;
            }
        }
        sum
    }

    /// Adds the gradient and the second derivatives, held to be positive.
    pub fn add(&self, x: &[Position], gradient: &mut [Position], blocks: &mut Blocks) {
        for (v, at) in x.iter().enumerate() {
            if self.is_clear(v, at) {
                continue;
            }
            let (level, slope) = self.probe(v, at);
            let depth = self.touch.offset - level / self.steep[v];
            if depth > 0.0 {
                let (_, pressure, stiffness) = self.touch.press(depth);
                let n = slope / self.steep[v];
                gradient[v] -= n * (self.areas[v] * pressure);
                blocks.add_diagonal(v, &(n * n.transpose() * (self.areas[v] * stiffness)));
            }
        }
        for (v, (from, out, force)) in self.held.iter().enumerate() {
            if *force > 0.0 {
                let moved = along(x[v] - from, out);
                let hold = force * slide(moved.norm(), self.touch.creep).1;
                gradient[v] += moved * hold;
                blocks.add_diagonal(v, &((Matrix3::identity() - out * out.transpose()) * hold));
            }
        }
    }

    /// The force on each vertex, N, as pressed now.
    pub fn pressed(&self, x: &[Position]) -> Vec<f64> {
        let force = |(v, at): (usize, &Position)| {
            let depth = self.touch.offset - self.solid.probe(at).0 / self.steep[v];
            self.areas[v] * self.touch.press(depth).1
        };
        x.iter().enumerate().map(force).collect()
    }
}

/// The part of a way that lies in the surface.
fn along(way: Position, out: &Position) -> Position {
    way - out * way.dot(out)
}

/// The friction's energy for a slide, over the full force, and its slope over the
/// slide: a parabola up to `creep`, a straight line from there.
fn slide(way: f64, creep: f64) -> (f64, f64) {
    if way < creep {
        (0.5 * way * way / creep, 1.0 / creep)
    } else {
        (way - 0.5 * creep, 1.0 / way)
    }
}
