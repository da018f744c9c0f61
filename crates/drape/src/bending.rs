//! The bending of cloth that hardly stretches. Across an edge the slope of the cloth
//! jumps; the jumps at the three edges of a triangle make its curvature
//! `H = (1/2A) Σ l J n nᵀ` (Gauss's theorem, the slope on an edge being the mean of
//! both sides), `l` an edge's length, `n` its normal in the flat, `J` the jump as a
//! vector in space, and the energy is `½B A |H|²`. A jump is linear in the places:
//! `l J` is cotangents of the flat triangles times corners, of length 2 l sin(θ/2)
//! when nothing stretches (M. Bergou and others, A Quadratic Bending Model for
//! Inextensible Surfaces, 2006; from memory), so the energy is a quadratic whose
//! second derivatives never change. On even triangles it is exact for any quadratic
//! shape, laid in any direction, without crosswise curling.

use crate::cloth::{Cloth, Flat, Position};
use crate::sparse::{Blocks, Slot};
use std::collections::BTreeMap;

/// A quadratic of a few places: `½ Σ m_ab x_a·x_b`.
struct Element {
    corners: Vec<usize>,
    /// Lower half: (0,0), (1,0), (1,1), …
    matrix: Vec<f64>,
    slots: Vec<Slot>,
}

/// The bending of a whole cloth.
pub struct Bending {
    elements: Vec<Element>,
    /// Bending stiffness, N·mm.
    pub stiffness: f64,
}

/// One side of an edge: cotangents at its ends, the corner opposite, the area.
struct Wing {
    triangle: usize,
    cot: [f64; 2],
    opposite: usize,
    area: f64,
}

/// An edge that bends: corners and their weights in the jump.
struct Hinge {
    corners: [usize; 4],
    weights: [f64; 4],
    /// The flat areas of both triangles together, mm².
    areas: f64,
}

impl Bending {
    /// The bending of a cloth; edges where three or more triangles meet are none.
    pub fn new(cloth: &Cloth, stiffness: f64) -> Self {
        let mut wings: BTreeMap<[usize; 2], Vec<Wing>> = BTreeMap::new();
        for (index, corners) in cloth.triangles.iter().enumerate() {
            for k in 0..3 {
                let at = [k, (k + 1) % 3, (k + 2) % 3];
                let [mut p, mut q, r] = at.map(|i| cloth.flat[index][i]);
                let (edge, turned) = ends(corners[at[0]], corners[at[1]]);
                if turned {
                    std::mem::swap(&mut p, &mut q);
                }
                let cot = [cotangent(p, q, r), cotangent(q, p, r)];
                let area = cloth.area(index);
                let wing = Wing { triangle: index, cot, opposite: corners[at[2]], area };
                wings.entry(edge).or_default().push(wing);
            }
        }
        let hinges: BTreeMap<[usize; 2], Hinge> =
            wings.iter().filter_map(|(edge, w)| Some((*edge, hinge(*edge, w)?))).collect();
        let elements = (0..cloth.triangles.len()).filter_map(|t| element(cloth, t, &hinges));
        Self { elements: elements.collect(), stiffness }
    }

    /// The vertices each element ties together.
    pub fn groups(&self) -> impl Iterator<Item = &[usize]> {
        self.elements.iter().map(|e| &e.corners[..])
    }

    /// Learns where its blocks lie in the matrix.
    pub fn settle_in(&mut self, blocks: &Blocks) {
        self.elements.iter_mut().for_each(|e| e.slots = blocks.slots(&e.corners));
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let of = |e: &Element| {
            // From one corner: what is common to all drops out, and with it rounding.
            let from = x[e.corners[0]];
            let mut sum = 0.0;
            for (a, &v) in e.corners.iter().enumerate() {
                let at = x[v] - from;
                for b in 0..a {
                    sum += e.matrix[a * (a + 1) / 2 + b] * at.dot(&(x[e.corners[b]] - from));
                }
                sum += 0.5 * e.matrix[a * (a + 1) / 2 + a] * at.norm_squared();
            }
            sum
        };
        self.stiffness * self.elements.iter().map(of).sum::<f64>()
    }

    /// Adds the gradient and the second derivatives.
    pub fn add(&self, x: &[Position], gradient: &mut [Position], blocks: &mut Blocks) {
        for e in &self.elements {
            let from = x[e.corners[0]];
            for (a, &v) in e.corners.iter().enumerate() {
                let at = (x[v] - from) * self.stiffness;
                for b in 0..=a {
                    let m = e.matrix[a * (a + 1) / 2 + b];
                    let w = e.corners[b];
                    gradient[w] += at * m;
                    if b < a {
                        gradient[v] += (x[w] - from) * (m * self.stiffness);
                    }
                    blocks.add_unit(e.slots[a * (a + 1) / 2 + b], m * self.stiffness);
                }
            }
        }
    }
}

fn ends(a: usize, b: usize) -> ([usize; 2], bool) {
    if a > b { ([b, a], true) } else { ([a, b], false) }
}

fn hinge(edge: [usize; 2], wings: &[Wing]) -> Option<Hinge> {
    let [a, b] = wings else { return None };
    if a.opposite == b.opposite || a.triangle == b.triangle {
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
        areas: a.area + b.area,
    })
}

/// The bending of one triangle, from the jumps at its edges.
fn element(cloth: &Cloth, t: usize, hinges: &BTreeMap<[usize; 2], Hinge>) -> Option<Element> {
    let area = cloth.area(t);
    let corners = cloth.triangles[t];
    let mut own: Vec<(&Hinge, Flat)> = Vec::new();
    for k in 0..3 {
        let (edge, _) = ends(corners[k], corners[(k + 1) % 3]);
        let way = (cloth.flat[t][(k + 1) % 3] - cloth.flat[t][k]).normalize();
        if let Some(hinge) = hinges.get(&edge) {
            own.push((hinge, Flat::new(way.y, -way.x)));
        }
    }
    let mut found: Vec<usize> = own.iter().flat_map(|(h, _)| h.corners).collect();
    found.sort_unstable();
    found.dedup();
    let mut matrix = vec![0.0; found.len() * (found.len() + 1) / 2];
    let mut add = |g: &Hinge, h: &Hinge, scale: f64| {
        for (i, v) in g.corners.iter().enumerate() {
            for (j, w) in h.corners.iter().enumerate() {
                let (a, b) = (found.binary_search(v).ok()?, found.binary_search(w).ok()?);
                if b <= a {
                    matrix[a * (a + 1) / 2 + b] += scale * g.weights[i] * h.weights[j];
                }
            }
        }
        Some(())
    };
    if own.len() == 3 {
        for (g, n) in &own {
            for (h, m) in &own {
                add(g, h, n.dot(m).powi(2) / (4.0 * area))?;
            }
        }
    } else {
        // At the rim an edge is wanting: each jump by itself, over the distance of
        // the two triangles' middles, answers for its part of the triangle.
        let part = 3.0 * area / own.len() as f64;
        for (g, _) in &own {
            add(g, g, part / g.areas.powi(2))?;
        }
    }
    (!own.is_empty()).then(|| Element { corners: found, matrix, slots: Vec::new() })
}

/// The cotangent of the angle at `at` between `p` and `q`.
fn cotangent(at: Flat, p: Flat, q: Flat) -> f64 {
    let (a, b) = (p - at, q - at);
    a.dot(&b) / a.perp(&b).abs()
}
