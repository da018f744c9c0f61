//! What holds single vertices: a band at the waist, a plane cloth may not cross.

use crate::cloth::Position;
use crate::sparse::{Blocks, Slot};
use nalgebra::Matrix3;

/// A band sewn to an edge: it draws the edge to its own length.
pub struct Strap {
    /// The two vertices of each stretch of it.
    pub links: Vec<[usize; 2]>,
    /// The length of each at rest, mm.
    pub rest: Vec<f64>,
    /// Force for a stretch to double its length, N.
    pub stiffness: f64,
    slots: Vec<Vec<Slot>>,
}

impl Strap {
    /// A band along links of those lengths.
    pub fn new(links: Vec<[usize; 2]>, rest: Vec<f64>, stiffness: f64) -> Self {
        Self { links, rest, stiffness, slots: Vec::new() }
    }

    /// Learns where its blocks lie in the matrix.
    pub fn settle_in(&mut self, blocks: &Blocks) {
        self.slots = self.links.iter().map(|l| blocks.slots(l)).collect();
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let of = |(link, rest): (&[usize; 2], &f64)| {
            let stretch = (x[link[1]] - x[link[0]]).norm() - rest;
            0.5 * self.stiffness / rest * stretch * stretch
        };
        self.links.iter().zip(&self.rest).map(of).sum()
    }

    /// Adds the gradient and the second derivatives, held to be positive.
    pub fn add(&self, x: &[Position], gradient: &mut [Position], blocks: &mut Blocks) {
        for ((link, rest), slots) in self.links.iter().zip(&self.rest).zip(&self.slots) {
            let way = x[link[1]] - x[link[0]];
            let long = way.norm().max(1e-9);
            let (n, k) = (way / long, self.stiffness / rest);
            let pull = k * (long - rest);
            gradient[link[1]] += n * pull;
            gradient[link[0]] -= n * pull;
            let straight = n * n.transpose();
            let block = straight * k + (Matrix3::identity() - straight) * (pull / long).max(0.0);
            blocks.add(slots[0], &block);
            blocks.add(slots[1], &-block);
            blocks.add(slots[2], &block);
        }
    }
}

/// A vertex held at a height by friction that gives way at a force.
#[derive(Debug, Clone, Copy)]
pub struct Height {
    /// The vertex.
    pub vertex: usize,
    /// The height in the middle of the body, mm.
    pub at: f64,
    /// How much lower it lies for each mm to the right.
    pub lean: f64,
    /// The force at which it slips, N.
    pub slips: f64,
    /// How far it gives before it slips, mm.
    pub gives: f64,
}

impl Height {
    /// How far a place lies over it, mm.
    fn over(&self, x: &[Position]) -> f64 {
        x[self.vertex].z + self.lean * x[self.vertex].x - self.at
    }

    /// Energy, gradient and second derivative (held positive), by how far it lies over.
    fn pull(&self, way: f64) -> (f64, f64, f64) {
        let k = self.slips / self.gives;
        if way.abs() < self.gives {
            (0.5 * k * way * way, k * way, k)
        } else {
            let energy = self.slips * (way.abs() - 0.5 * self.gives);
            (energy, self.slips * way.signum(), self.slips / way.abs())
        }
    }

    /// Whether it has slipped.
    pub fn slipped(&self, x: &[Position]) -> bool {
        self.over(x).abs() >= self.gives
    }
}

/// A vertex that stays on one side of the plane between the legs.
#[derive(Debug, Clone, Copy)]
pub struct Side {
    /// The vertex.
    pub vertex: usize,
    /// +1 when it stays to the wearer's right, −1 to the left.
    pub sign: f64,
    /// How near the plane it may come, mm.
    pub offset: f64,
    /// Force for each mm nearer, N/mm.
    pub stiffness: f64,
}

/// All single holds.
#[derive(Default)]
pub struct Holds {
    /// Heights held.
    pub heights: Vec<Height>,
    /// Sides kept.
    pub sides: Vec<Side>,
}

impl Holds {
    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let heights: f64 = self.heights.iter().map(|h| h.pull(h.over(x)).0).sum();
        let side = |s: &Side| {
            let depth = (s.offset - s.sign * x[s.vertex].x).max(0.0);
            0.5 * s.stiffness * depth * depth
        };
        heights + self.sides.iter().map(side).sum::<f64>()
    }

    /// Adds the gradient and the second derivatives.
    pub fn add(&self, x: &[Position], gradient: &mut [Position], blocks: &mut Blocks) {
        for h in &self.heights {
            let (_, first, second) = h.pull(h.over(x));
            let way = Position::new(h.lean, 0.0, 1.0);
            gradient[h.vertex] += way * first;
            blocks.add_diagonal(h.vertex, &(way * way.transpose() * second));
        }
        for s in &self.sides {
            let depth = s.offset - s.sign * x[s.vertex].x;
            if depth > 0.0 {
                gradient[s.vertex].x -= s.sign * s.stiffness * depth;
                blocks.stiffen(s.vertex, 0, s.stiffness);
            }
        }
    }
}
