//! A flat piece cut into triangles: the outline's points as given, an even
//! lattice inside, constrained Delaunay between (the `spade` crate).

use crate::cloth::Flat;
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

/// A triangulated piece. Its first points are those of the outline, in order.
#[derive(Debug, Clone, Default)]
pub struct Mesh {
    /// Points, mm.
    pub points: Vec<Flat>,
    /// Corners of each triangle, counter-clockwise.
    pub triangles: Vec<[usize; 3]>,
}

/// How fine a mesh is, and how its lattice lies.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Grid {
    /// The side of a triangle, mm.
    pub side: f64,
    /// Where the lattice begins, as parts of a side.
    pub shift: (f64, f64),
}

/// Why a piece could not be cut into triangles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoMesh;

/// Along a straight edge that lies askew, points are in line but for rounding; what is
/// thinner than this between three of them, over a side, is no cloth.
const THIN: f64 = 1e-6;
/// Lattice points nearer to the outline than this part of a side are left out.
const CLEAR: f64 = 0.55;

struct Vertex {
    at: Point2<f64>,
    index: usize,
}

impl HasPosition for Vertex {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

/// Cuts the inside of a closed outline into triangles.
///
/// # Errors
/// [`NoMesh`] when the outline crosses itself or is not finite.
pub fn triangulate(outline: &[Flat], grid: Grid) -> Result<Mesh, NoMesh> {
    let mut points = outline.to_vec();
    points.extend(lattice(outline, grid));
    let mut net = ConstrainedDelaunayTriangulation::<Vertex>::new();
    let mut handles = Vec::with_capacity(points.len());
    for (index, p) in points.iter().enumerate() {
        let handle = net.insert(Vertex { at: Point2::new(p.x, p.y), index }).map_err(|_| NoMesh)?;
        handles.push(handle);
    }
    if net.num_vertices() != points.len() {
        return Err(NoMesh);
    }
    for k in 0..outline.len() {
        let (a, b) = (handles[k], handles[(k + 1) % outline.len()]);
        if !net.can_add_constraint(a, b) {
            return Err(NoMesh);
        }
        net.add_constraint(a, b);
    }
    let corners = net.inner_faces().map(|f| f.vertices().map(|v| v.data().index));
    let least = THIN * grid.side * grid.side;
    let within = |t: &[usize; 3]| {
        let [a, b, c] = t.map(|v| points[v]);
        (b - a).perp(&(c - a)) > least && inside(outline, (a + b + c) / 3.0)
    };
    let triangles = corners.filter(within).collect();
    let mut mesh = Mesh { points, triangles };
    mesh.even_out(outline.len());
    Ok(mesh)
}

/// How often points near the outline are moved to the middle of their neighbours.
const EVENED: usize = 8;

/// The points of an even triangular lattice well inside the outline.
fn lattice(outline: &[Flat], grid: Grid) -> Vec<Flat> {
    let (mut low, mut high) = (outline[0], outline[0]);
    for p in outline {
        low = low.inf(p);
        high = high.sup(p);
    }
    let rise = grid.side * 0.75_f64.sqrt();
    let clear = (CLEAR * grid.side).powi(2);
    let mut found = Vec::new();
    let rows = ((high.y - low.y) / rise).ceil() as usize + 1;
    let across = ((high.x - low.x) / grid.side).ceil() as usize + 2;
    for row in 0..rows {
        let y = low.y + (row as f64 + grid.shift.1) * rise;
        let offset = if row % 2 == 0 { 0.0 } else { -0.5 };
        for column in 0..across {
            let x = low.x + (column as f64 + offset + grid.shift.0) * grid.side;
            let p = Flat::new(x, y);
            let far = |k: usize| {
                distance_squared(p, outline[k], outline[(k + 1) % outline.len()]) > clear
            };
            if inside(outline, p) && (0..outline.len()).all(far) {
                found.push(p);
            }
        }
    }
    found
}

/// Whether a point lies inside a closed outline (crossings of a ray).
pub fn inside(outline: &[Flat], p: Flat) -> bool {
    let mut within = false;
    for k in 0..outline.len() {
        let (a, b) = (outline[k], outline[(k + 1) % outline.len()]);
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            within = !within;
        }
    }
    within
}

fn distance_squared(p: Flat, a: Flat, b: Flat) -> f64 {
    let way = b - a;
    let t = ((p - a).dot(&way) / way.norm_squared()).clamp(0.0, 1.0);
    (p - a - way * t).norm_squared()
}

impl Mesh {
    /// Moves the points near the outline between their neighbours, so that the
    /// triangles between lattice and outline come out more even.
    fn even_out(&mut self, rim: usize) {
        let mut near = vec![Vec::new(); self.points.len()];
        for t in &self.triangles {
            for k in 0..3 {
                near[t[k]].extend([t[(k + 1) % 3], t[(k + 2) % 3]]);
            }
        }
        let at_rim = |v: usize| v < rim;
        let first: Vec<bool> = near.iter().map(|n| n.iter().any(|&w| at_rim(w))).collect();
        let moved: Vec<usize> = (rim..self.points.len())
            .filter(|&v| first[v] || near[v].iter().any(|&w| first[w]))
            .collect();
        for _ in 0..EVENED {
            let to: Vec<Flat> = moved
                .iter()
                .map(|&v| {
                    near[v].iter().map(|&w| self.points[w]).sum::<Flat>() / near[v].len() as f64
                })
                .collect();
            moved.iter().zip(to).for_each(|(&v, p)| self.points[v] = p);
        }
    }

    /// A point's shares of the three corners of a triangle.
    pub fn shares(&self, triangle: usize, p: Flat) -> [f64; 3] {
        let [a, b, c] = self.triangles[triangle].map(|v| self.points[v]);
        let whole = (b - a).perp(&(c - a));
        [(b - p).perp(&(c - p)), (c - p).perp(&(a - p)), (a - p).perp(&(b - p))].map(|s| s / whole)
    }

    /// The triangle a point lies in and its shares of the three corners; the
    /// nearest triangle when it lies just outside.
    pub fn locate(&self, p: Flat) -> Option<(usize, [f64; 3])> {
        let mut best: Option<(f64, usize, [f64; 3])> = None;
        for index in 0..self.triangles.len() {
            let shares = self.shares(index, p);
            let least = shares.iter().copied().fold(f64::INFINITY, f64::min);
            if best.as_ref().is_none_or(|b| least > b.0) {
                best = Some((least, index, shares));
            }
        }
        best.map(|(_, index, shares)| (index, shares))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_edge_that_lies_askew_makes_no_slivers() {
        let side = 15.0;
        for turn in [0.000_059, 0.1, 0.7] {
            let lay = |x: f64, y: f64| {
                let (sine, cosine) = f64::sin_cos(turn);
                Flat::new(x * cosine - y * sine, x * sine + y * cosine - 750.0)
            };
            let steps = |k: usize| side * (k % 20) as f64;
            let outline: Vec<Flat> = (0..80)
                .map(|k| match k / 20 {
                    0 => lay(steps(k), 0.0),
                    1 => lay(20.0 * side, steps(k)),
                    2 => lay(20.0 * side - steps(k), 20.0 * side),
                    _ => lay(0.0, 20.0 * side - steps(k)),
                })
                .collect();
            let mesh = triangulate(&outline, Grid { side, shift: (0.0, 0.0) }).unwrap();
            let areas = mesh.triangles.iter().map(|t| {
                let [a, b, c] = t.map(|v| mesh.points[v]);
                0.5 * (b - a).perp(&(c - a))
            });
            assert!(areas.clone().all(|a| a > 10.0), "{turn}");
            let whole = (20.0 * side).powi(2);
            assert!((areas.sum::<f64>() - whole).abs() < 1e-3, "{turn}");
        }
    }

    #[test]
    fn a_square_is_covered_once() {
        let side = 100.0;
        let outline: Vec<Flat> = (0..40)
            .map(|k| {
                let t = f64::from(k % 10) * side / 10.0;
                match k / 10 {
                    0 => Flat::new(t, 0.0),
                    1 => Flat::new(side, t),
                    2 => Flat::new(side - t, side),
                    _ => Flat::new(0.0, side - t),
                }
            })
            .collect();
        let mesh = triangulate(&outline, Grid { side: 10.0, shift: (0.0, 0.0) }).unwrap();
        let area: f64 = mesh
            .triangles
            .iter()
            .map(|t| {
                let [a, b, c] = t.map(|v| mesh.points[v]);
                0.5 * (b - a).perp(&(c - a))
            })
            .sum();
        assert!((area - side * side).abs() < 1e-6, "{area}");
        let (at, shares) = mesh.locate(Flat::new(33.3, 41.7)).unwrap();
        let found: Flat = (0..3).map(|k| mesh.points[mesh.triangles[at][k]] * shares[k]).sum();
        assert!((found - Flat::new(33.3, 41.7)).norm() < 1e-9);
    }
}
