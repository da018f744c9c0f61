//! What the cloth lies against, and the friction there.

use crate::cloth::Place;
use crate::sparse::Blocks;
use nalgebra::Matrix3;

/// Something solid.
pub trait Solid: Sync {
    /// A level function of the place, mm, nought on the surface, above nought
    /// outside, and its gradient. Near the surface it need only be near the
    /// distance; it is divided by its steepness.
    fn probe(&self, at: &Place) -> (f64, Place);

    /// The level alone.
    fn level_at(&self, at: &Place) -> f64 {
        self.probe(at).0
    }

    /// The distance from the surface to first order, mm, and the way out.
    fn distance(&self, at: &Place) -> (f64, Place) {
        let (level, slope) = self.probe(at);
        let steep = slope.norm().max(1e-6);
        (level / steep, slope / steep)
    }
}

/// Nothing solid at all.
pub struct Nothing;

impl Solid for Nothing {
    fn probe(&self, _: &Place) -> (f64, Place) {
        (1e9, Place::z())
    }
}

/// How cloth lies against a solid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// How far from the surface the middle of the cloth is held, mm.
    pub offset: f64,
    /// Pressure for each mm nearer, N/mm³: a penalty, not a measured figure.
    pub stiffness: f64,
    /// Friction over pressure.
    pub friction: f64,
    /// Sliding this far makes the whole of the friction felt, mm.
    pub creep: f64,
}

impl Touch {
    /// Ours, but for the friction: 0.3 for cotton on cotton is memory.
    pub const USUAL: Self = Self { offset: 1.0, stiffness: 5e-3, friction: 0.3, creep: 1.0 };
}

/// The contact of every vertex with a solid.
pub struct Contact<'a> {
    solid: &'a dyn Solid,
    touch: Touch,
    areas: Vec<f64>,
    /// How steep the level function is at each vertex. Held during a step, so that
    /// energy and gradient belong together.
    steep: Vec<f64>,
    /// Where each vertex was when friction was last set, the way out there, and the
    /// force it was pressed with.
    held: Vec<(Place, Place, f64)>,
}

impl<'a> Contact<'a> {
    /// The contact of vertices that answer for `areas`, mm².
    pub fn new(solid: &'a dyn Solid, touch: Touch, areas: Vec<f64>) -> Self {
        let steep = vec![1.0; areas.len()];
        Self { solid, touch, areas, steep, held: Vec::new() }
    }

    /// Takes the steepness anew.
    pub fn look(&mut self, x: &[Place]) {
        for (steep, at) in self.steep.iter_mut().zip(x) {
            *steep = self.solid.probe(at).1.norm().max(0.2);
        }
    }

    /// From here on friction holds the cloth where it is now.
    pub fn grip(&mut self, x: &[Place]) {
        if self.touch.friction <= 0.0 {
            return;
        }
        let held = x.iter().enumerate().map(|(v, at)| {
            let (level, slope) = self.solid.probe(at);
            let depth = (self.touch.offset - level / self.steep[v]).max(0.0);
            let out = slope.normalize();
            (*at, out, self.touch.friction * self.touch.stiffness * self.areas[v] * depth)
        });
        self.held = held.collect();
    }

    /// Friction lets go.
    pub fn release(&mut self) {
        self.held.clear();
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Place]) -> f64 {
        let mut sum = 0.0;
        for (v, at) in x.iter().enumerate() {
            let depth = self.touch.offset - self.solid.level_at(at) / self.steep[v];
            if depth > 0.0 {
                sum += 0.5 * self.touch.stiffness * self.areas[v] * depth * depth;
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
    pub fn add(&self, x: &[Place], gradient: &mut [Place], blocks: &mut Blocks) {
        for (v, at) in x.iter().enumerate() {
            let (level, slope) = self.solid.probe(at);
            let depth = self.touch.offset - level / self.steep[v];
            if depth > 0.0 {
                let k = self.touch.stiffness * self.areas[v];
                let n = slope / self.steep[v];
                gradient[v] -= n * (k * depth);
                blocks.add_diagonal(v, &(n * n.transpose() * k));
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
    pub fn pressed(&self, x: &[Place]) -> Vec<f64> {
        let force = |(v, at): (usize, &Place)| {
            let depth = self.touch.offset - self.solid.probe(at).0 / self.steep[v];
            self.touch.stiffness * self.areas[v] * depth.max(0.0)
        };
        x.iter().enumerate().map(force).collect()
    }
}

/// The part of a way that lies in the surface.
fn along(way: Place, out: &Place) -> Place {
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
