//! A sewn cloth: triangles in space that remember how they lay flat.

use nalgebra::{Vector2, Vector3};

/// A place in space, mm. x to the wearer's right, y to the front, z up.
pub type Position = Vector3<f64>;

/// A place on flat cloth, mm: x along the weft, y along the warp (the grain).
pub type Flat = Vector2<f64>;

/// What the cloth is made of.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Material {
    /// Resistance to stretch along the warp (the grain), N/mm.
    pub warp: f64,
    /// Resistance to stretch along the weft, N/mm.
    pub weft: f64,
    /// Resistance to shear, N/mm.
    pub shear: f64,
    /// Bending stiffness, N·mm (1 µN·m is 0.001 N·mm).
    pub bending: f64,
    /// Weight, N/mm².
    pub weight: f64,
    /// The share of its stiffness a direction keeps when it is pressed together:
    /// folds finer than the mesh give way, they do not carry.
    pub pressed: f64,
}

/// Standard gravity, mm/s² over 1000: turns kg into N (CGPM 1901, 9.80665 m/s²).
pub const GRAVITY: f64 = 9.80665;

impl Material {
    /// Plain woven calico: 1500 and 1000 N/m along warp and weft, 50 N/m in shear,
    /// 10 µN·m in bending, 160 g/m². All from memory, none looked up; the part kept
    /// under pressure is ours.
    pub const CALICO: Self = Self {
        warp: 1.5,
        weft: 1.0,
        shear: 0.05,
        bending: 0.01,
        weight: 160.0e-9 * GRAVITY,
        pressed: 0.02,
    };
}

/// A sewn cloth. Vertices that are sewn to each other are one.
#[derive(Debug, Clone, Default)]
pub struct Cloth {
    /// How many vertices there are.
    pub vertices: usize,
    /// The corners of each triangle.
    pub triangles: Vec<[usize; 3]>,
    /// Where the corners of each triangle lay flat.
    pub flat: Vec<[Flat; 3]>,
}

impl Cloth {
    /// The flat area of a triangle, mm².
    pub fn area(&self, triangle: usize) -> f64 {
        let [a, b, c] = self.flat[triangle];
        0.5 * (b - a).perp(&(c - a)).abs()
    }

    /// The cloth's area that each vertex answers for, mm²: a third of its triangles.
    pub fn vertex_areas(&self) -> Vec<f64> {
        let mut areas = vec![0.0; self.vertices];
        for (index, corners) in self.triangles.iter().enumerate() {
            let third = self.area(index) / 3.0;
            corners.iter().for_each(|&v| areas[v] += third);
        }
        areas
    }

    /// The whole area, mm².
    pub fn whole_area(&self) -> f64 {
        (0..self.triangles.len()).map(|t| self.area(t)).sum()
    }
}
