//! The stretch of woven cloth in its own plane: St Venant–Kirchhoff with warp,
//! weft and shear apart, softened where a thread direction is pressed together.
//!
//! With `x_u`, `x_v` the pulls of a triangle's unit lengths along weft and warp,
//! `E = ½(FᵀF − I)`, the energy for each mm² of flat cloth is
//! `p_weft(E_uu) + p_warp(E_vv) + ½ shear (2E_uv)²`, `p(E) = ½kE²` under pull.
//! Crosswise contraction (Poisson) is left out: none was given for calico.

use crate::cloth::{Cloth, Material, Position};
use crate::sparse::{Blocks, Slot};
use nalgebra::{Matrix2, Matrix3, Vector2};

/// Over this strain on either side of nought a thread goes from pulled to slack; it keeps the second
/// derivative steady. Ours.
pub const SLACKENING: f64 = 4e-4;

struct Element {
    corners: [usize; 3],
    /// How each corner moves the pulls along weft and warp, 1/mm.
    slopes: [Vector2<f64>; 3],
    area: f64,
    slots: Vec<Slot>,
}

/// The stretch of a whole cloth.
pub struct Membrane {
    elements: Vec<Element>,
    material: Material,
}

/// Energy, first and second derivative of one thread direction at a strain.
fn thread(k: f64, pressed: f64, strain: f64) -> (f64, f64, f64) {
    let soft = k * pressed;
    let gain = k - soft;
    // What is gained under pull: the second derivative runs from 0 to 1 as
    // ease(t) = 3t² − 2t³ over a range about nought; at nought nothing is pulled.
    let (zero, one, two) = eased(strain);
    let (base, lean, _) = eased(0.0);
    (
        0.5 * soft * strain * strain + gain * (zero - base - lean * strain),
        soft * strain + gain * (one - lean),
        soft + gain * two,
    )
}

/// Twice, once and not integrated: the ease from slack to pulled.
fn eased(strain: f64) -> (f64, f64, f64) {
    let range = 2.0 * SLACKENING;
    let t = (strain + SLACKENING) / range;
    if t <= 0.0 {
        (0.0, 0.0, 0.0)
    } else if t < 1.0 {
        let one = t * t * t * (1.0 - 0.5 * t);
        let two = t * t * t * t * (0.25 - 0.1 * t);
        (two * range * range, one * range, t * t * (3.0 - 2.0 * t))
    } else {
        let over = strain - SLACKENING;
        let (two, one) = (0.15 * range * range, 0.5 * range);
        (two + one * over + 0.5 * over * over, one + over, 1.0)
    }
}

/// The pulls along weft and warp, and across, of one triangle.
struct Strained {
    u: Position,
    v: Position,
    weft: (f64, f64, f64),
    warp: (f64, f64, f64),
    slant: f64,
}

impl Membrane {
    /// The stretch of a cloth.
    pub fn new(cloth: &Cloth, material: Material) -> Self {
        let element = |index: usize| {
            let [a, b, c] = cloth.flat[index];
            let double = (b - a).perp(&(c - a));
            let slope =
                |p: Vector2<f64>, q: Vector2<f64>| Vector2::new(p.y - q.y, q.x - p.x) / double;
            Element {
                corners: cloth.triangles[index],
                slopes: [slope(b, c), slope(c, a), slope(a, b)],
                area: 0.5 * double.abs(),
                slots: Vec::new(),
            }
        };
        Self { elements: (0..cloth.triangles.len()).map(element).collect(), material }
    }

    /// The vertices each element ties together.
    pub fn groups(&self) -> impl Iterator<Item = &[usize]> {
        self.elements.iter().map(|e| &e.corners[..])
    }

    /// Learns where its blocks lie in the matrix.
    pub fn settle_in(&mut self, blocks: &Blocks) {
        self.elements.iter_mut().for_each(|e| e.slots = blocks.slots(&e.corners));
    }

    fn strained(&self, e: &Element, x: &[Position]) -> Strained {
        let [a, b, c] = e.corners.map(|v| x[v]);
        let [sa, sb, sc] = e.slopes;
        let u = a * sa.x + b * sb.x + c * sc.x;
        let v = a * sa.y + b * sb.y + c * sc.y;
        let m = &self.material;
        Strained {
            weft: thread(m.weft, m.pressed, 0.5 * (u.norm_squared() - 1.0)),
            warp: thread(m.warp, m.pressed, 0.5 * (v.norm_squared() - 1.0)),
            slant: u.dot(&v),
            u,
            v,
        }
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let of = |e: &Element| {
            let s = self.strained(e, x);
            e.area * (s.weft.0 + s.warp.0 + 0.5 * self.material.shear * s.slant * s.slant)
        };
        self.elements.iter().map(of).sum()
    }

    /// The pull along weft and warp of each triangle, N/mm.
    pub fn pulls(&self, x: &[Position]) -> Vec<[f64; 2]> {
        let of = |e| {
            let s = self.strained(e, x);
            [s.weft.1, s.warp.1]
        };
        self.elements.iter().map(of).collect()
    }

    /// Adds the gradient and the second derivatives. Of what pressing takes off them
    /// `exact` is taken off: with nought they are held to be positive, with one they
    /// are true.
    pub fn add(&self, x: &[Position], gradient: &mut [Position], blocks: &mut Blocks, exact: f64) {
        let shear = self.material.shear;
        for e in &self.elements {
            let s = self.strained(e, x);
            let across = shear * s.slant;
            let stress = Matrix2::new(s.weft.1, across, across, s.warp.1);
            let pulls = positive(stress);
            let turning = pulls + (stress - pulls) * exact;
            for a in 0..3 {
                let g = e.slopes[a];
                let push = stress * g;
                gradient[e.corners[a]] += (s.u * push.x + s.v * push.y) * e.area;
                let (du, dv) = (s.u * g.x, s.v * g.y);
                let dw = s.u * g.y + s.v * g.x;
                for b in 0..=a {
                    let h = e.slopes[b];
                    let (eu, ev) = (s.u * h.x, s.v * h.y);
                    let ew = s.u * h.y + s.v * h.x;
                    let mut block: Matrix3<f64> = du * eu.transpose() * s.weft.2
                        + dv * ev.transpose() * s.warp.2
                        + dw * ew.transpose() * shear;
                    let plain = g.dot(&(turning * h));
                    block[(0, 0)] += plain;
                    block[(1, 1)] += plain;
                    block[(2, 2)] += plain;
                    blocks.add(e.slots[a * (a + 1) / 2 + b], &(block * e.area));
                }
            }
        }
    }
}

/// The part of a stress that pulls.
fn positive(stress: Matrix2<f64>) -> Matrix2<f64> {
    let (a, b, c) = (stress[(0, 0)], stress[(1, 1)], stress[(0, 1)]);
    let (mean, reach) = (0.5 * (a + b), (0.5 * (a - b)).hypot(c));
    let (high, low) = (mean + reach, mean - reach);
    if low >= 0.0 {
        stress
    } else if high <= 0.0 {
        Matrix2::zeros()
    } else {
        // What is left of it when only the pulled direction is kept.
        (stress - Matrix2::from_diagonal_element(low)) * (high / (high - low))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pulling_part_of_a_stress_is_that_of_its_pulled_directions() {
        for (a, b, c) in [(1.0, -0.4, 0.3), (-0.2, 0.7, 0.0), (0.1, 0.2, 0.6), (-1.0, -2.0, 0.5)] {
            let stress: Matrix2<f64> = Matrix2::new(a, c, c, b);
            let eigen = nalgebra::SymmetricEigen::new(stress);
            let kept = Matrix2::from_diagonal(&eigen.eigenvalues.map(|v: f64| v.max(0.0)));
            let wanted = eigen.eigenvectors * kept * eigen.eigenvectors.transpose();
            assert!((positive(stress) - wanted).norm() < 1e-12, "{stress}");
        }
    }

    #[test]
    fn a_thread_runs_smoothly_from_pulled_to_slack() {
        let step = 1e-8;
        for strain in [-0.01, -5e-4, -3e-4, -1e-5, 0.0, 1e-5, 3e-4, 5e-4, 0.003] {
            let (low, here, high) = (
                thread(1.5, 0.02, strain - step),
                thread(1.5, 0.02, strain),
                thread(1.5, 0.02, strain + step),
            );
            let first = (high.0 - low.0) / (2.0 * step);
            assert!((first - here.1).abs() < 1e-8, "{strain}: {first} {}", here.1);
            let second = (high.1 - low.1) / (2.0 * step);
            assert!((second - here.2).abs() < 1e-2, "{strain}: {second} {}", here.2);
        }
        assert!((thread(1.5, 0.02, 0.1).2 - 1.5).abs() < 1e-12);
        assert!((thread(1.5, 0.02, -0.1).2 - 0.03).abs() < 1e-12);
    }
}
