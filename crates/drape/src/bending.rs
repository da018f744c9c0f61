//! The bending of cloth that hardly stretches: for each edge between two
//! triangles `B l²/(A₀+A₁) (1 − cos θ)`, θ the angle between them, l the edge's
//! length, A their areas. Written with cotangents of the flat triangles it is a
//! quadratic of the places, so its second derivatives never change (the form of
//! M. Bergou and others, A Quadratic Bending Model for Inextensible Surfaces,
//! 2006; from memory). The factor is ours: on even triangles of height h a curvature
//! κ across an edge turns it by κh(cos² − ⅓sin²), whose squares over three
//! directions 60° apart add to the same whichever way they are turned, so that a
//! cylinder laid in any direction gets exactly ½Bκ² an area.

use crate::cloth::{Cloth, Flat, Place};
use crate::sparse::{Blocks, Slot};
use std::collections::BTreeMap;

struct Hinge {
    /// Ends of the edge, then the corners opposite.
    corners: [usize; 4],
    weights: [f64; 4],
    /// 1/(A₀+A₁), 1/mm²; more at the rim.
    scale: f64,
    slots: Vec<Slot>,
}

/// The bending of a whole cloth.
pub struct Bending {
    hinges: Vec<Hinge>,
    /// Bending stiffness, N·mm.
    pub stiffness: f64,
}

/// One side of an edge: cotangents at its ends, the corner opposite, the area and
/// the part of it this edge answers for.
struct Wing {
    triangle: usize,
    cot: [f64; 2],
    opposite: usize,
    area: f64,
}

impl Bending {
    /// The bending of a cloth; edges where three or more triangles meet are none.
    pub fn new(cloth: &Cloth, stiffness: f64) -> Self {
        let mut wings: BTreeMap<[usize; 2], Vec<Wing>> = BTreeMap::new();
        for (index, corners) in cloth.triangles.iter().enumerate() {
            for k in 0..3 {
                let at = [k, (k + 1) % 3, (k + 2) % 3];
                let [mut p, mut q, r] = at.map(|i| cloth.flat[index][i]);
                let mut edge = [corners[at[0]], corners[at[1]]];
                if edge[0] > edge[1] {
                    edge.swap(0, 1);
                    std::mem::swap(&mut p, &mut q);
                }
                let cot = [cotangent(p, q, r), cotangent(q, p, r)];
                let opposite = corners[at[2]];
                let wing = Wing { triangle: index, cot, opposite, area: cloth.area(index) };
                wings.entry(edge).or_default().push(wing);
            }
        }
        // A triangle at the rim has fewer edges that bend: they answer for all of it.
        let mut bends = vec![0.0; cloth.triangles.len()];
        for wings in wings.values().filter(|w| w.len() == 2) {
            wings.iter().for_each(|w| bends[w.triangle] += 1.0);
        }
        let hinges = wings.iter().filter_map(|(edge, w)| hinge(*edge, w, &bends)).collect();
        Self { hinges, stiffness }
    }

    /// The vertices each element ties together.
    pub fn groups(&self) -> impl Iterator<Item = &[usize]> {
        self.hinges.iter().map(|h| &h.corners[..])
    }

    /// Learns where its blocks lie in the matrix.
    pub fn settle_in(&mut self, blocks: &Blocks) {
        self.hinges.iter_mut().for_each(|h| h.slots = blocks.slots(&h.corners));
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Place]) -> f64 {
        let of = |h: &Hinge| 0.5 * h.scale * h.bow(x).norm_squared();
        self.stiffness * self.hinges.iter().map(of).sum::<f64>()
    }

    /// Adds the gradient and the second derivatives.
    pub fn add(&self, x: &[Place], gradient: &mut [Place], blocks: &mut Blocks) {
        for h in &self.hinges {
            let scale = self.stiffness * h.scale;
            let bow = h.bow(x) * scale;
            for a in 0..4 {
                gradient[h.corners[a]] += bow * h.weights[a];
                for b in 0..=a {
                    let value = scale * h.weights[a] * h.weights[b];
                    blocks.add_unit(h.slots[a * (a + 1) / 2 + b], value);
                }
            }
        }
    }
}

impl Hinge {
    /// A vector of length 2 l sin(θ/2).
    fn bow(&self, x: &[Place]) -> Place {
        let mut bow = Place::zeros();
        for k in 0..4 {
            bow += x[self.corners[k]] * self.weights[k];
        }
        bow
    }
}

fn hinge(edge: [usize; 2], wings: &[Wing], bends: &[f64]) -> Option<Hinge> {
    let [a, b] = wings else { return None };
    let part = |w: &Wing| 3.0 * w.area / bends[w.triangle];
    if a.opposite == b.opposite {
        return None;
    }
    Some(Hinge {
        corners: [edge[0], edge[1], a.opposite, b.opposite],
        weights: [
            a.cot[1] + b.cot[1],
            a.cot[0] + b.cot[0],
            -(a.cot[0] + a.cot[1]),
            -(b.cot[0] + b.cot[1]),
        ],
        scale: (part(a) + part(b)) / (a.area + b.area).powi(2),
        slots: Vec::new(),
    })
}

/// The cotangent of the angle at `at` between `p` and `q`.
fn cotangent(at: Flat, p: Flat, q: Flat) -> f64 {
    let (a, b) = (p - at, q - at);
    a.dot(&b) / a.perp(&b).abs()
}
