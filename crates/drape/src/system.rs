//! All forces on a cloth together.

use crate::bending::Bending;
use crate::cloth::{Cloth, Material, Position};
use crate::contact::{Contact, Solid, Touch};
use crate::hold::{Holds, Strap};
use crate::membrane::Membrane;
use crate::sparse::Blocks;

/// A cloth, what it is made of, and all that acts on it.
pub struct System<'a> {
    /// Stretch.
    pub membrane: Membrane,
    /// Bending.
    pub bending: Bending,
    /// The bending stiffness meant in the end, N·mm.
    pub true_bending: f64,
    /// A force on each vertex that never changes, N: its weight to begin with.
    pub loads: Vec<Position>,
    /// Contact with a solid.
    pub contact: Contact<'a>,
    /// A band.
    pub strap: Strap,
    /// Single holds.
    pub holds: Holds,
    /// Which of its three directions each vertex may not move in.
    pub fixed: Vec<[bool; 3]>,
    areas: Vec<f64>,
    weight: f64,
}

impl<'a> System<'a> {
    /// A cloth under its own weight before a solid.
    pub fn new(cloth: &Cloth, material: Material, solid: &'a dyn Solid, touch: Touch) -> Self {
        let areas = cloth.vertex_areas();
        let loads = areas.iter().map(|a| Position::new(0.0, 0.0, -material.weight * a)).collect();
        Self {
            membrane: Membrane::new(cloth, material),
            bending: Bending::new(cloth, material.bending),
            true_bending: material.bending,
            loads,
            contact: Contact::new(solid, touch, areas.clone()),
            strap: Strap::new(Vec::new(), Vec::new(), 0.0),
            holds: Holds::default(),
            fixed: vec![[false; 3]; cloth.vertices],
            weight: material.weight * cloth.whole_area(),
            areas,
        }
    }

    /// The weight of the whole cloth, N.
    pub fn weight(&self) -> f64 {
        self.weight
    }

    /// The area each vertex answers for, mm².
    pub fn areas(&self) -> &[f64] {
        &self.areas
    }

    /// The vertices each element ties together.
    pub fn groups(&self) -> impl Iterator<Item = &[usize]> {
        let links = self.strap.links.iter().map(|l| &l[..]);
        self.membrane.groups().chain(self.bending.groups()).chain(links)
    }

    /// An empty matrix with room for every element, which each then knows.
    pub fn blocks(&mut self) -> Blocks {
        let blocks = Blocks::new(self.fixed.len(), self.groups());
        self.membrane.settle_in(&blocks);
        self.bending.settle_in(&blocks);
        self.strap.settle_in(&blocks);
        blocks
    }

    /// The energy, N·mm.
    pub fn energy(&self, x: &[Position]) -> f64 {
        let loads: f64 = self.loads.iter().zip(x).map(|(f, at)| -f.dot(at)).sum();
        self.membrane.energy(x)
            + self.bending.energy(x)
            + self.contact.energy(x)
            + self.strap.energy(x)
            + self.holds.energy(x)
            + loads
    }

    /// The gradient, N, with `blocks` filled with the second derivatives. Fixed
    /// directions have neither. With `exact` nought the second derivatives are held to
    /// be positive, with one those of the stretch are true.
    pub fn differentiate(&self, x: &[Position], blocks: &mut Blocks, exact: f64) -> Vec<Position> {
        blocks.clear();
        let mut gradient: Vec<Position> = self.loads.iter().map(|f| -f).collect();
        self.membrane.add(x, &mut gradient, blocks, exact);
        self.bending.add(x, &mut gradient, blocks);
        self.contact.add(x, &mut gradient, blocks);
        self.strap.add(x, &mut gradient, blocks);
        self.holds.add(x, &mut gradient, blocks);
        self.hold_fixed(&mut gradient);
        for (v, fixed) in self.fixed.iter().enumerate() {
            for axis in (0..3).filter(|&a| fixed[a]) {
                blocks.stiffen(v, axis, UNMOVED);
            }
        }
        gradient
    }

    /// Takes fixed directions out of a field.
    pub fn hold_fixed(&self, field: &mut [Position]) {
        for (value, fixed) in field.iter_mut().zip(&self.fixed) {
            for axis in (0..3).filter(|&a| fixed[a]) {
                value[axis] = 0.0;
            }
        }
    }
}

/// The stiffness that keeps a fixed direction still in the solver, N/mm.
const UNMOVED: f64 = 1e9;
