//! A piece as a sheet of paper: its outline turned once into triangles for the
//! screen, and into lines of points fine enough for the eye.
//!
//! These points are for drawing only. Nothing is ever measured on them.

use egui::{Color32, Mesh, Pos2, epaint::Vertex};
use hangtrue_geometry::{Affine, BezPath, Chain, PathEl, Point, Rect};
use hangtrue_pattern::markings::darts_of;
use hangtrue_pattern::{Pattern, Piece};
use lyon::math::point;
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};
use std::sync::Arc;

/// A filled shape as triangles, in mm on the paper.
#[derive(Debug, Clone, Default)]
pub struct Filled {
    /// Corners of the triangles, mm.
    pub points: Vec<Point>,
    /// Three to a triangle.
    pub indices: Vec<u32>,
}

/// A piece made ready for drawing, mm on the paper.
#[derive(Debug, Clone)]
pub struct DrawnPiece {
    /// The piece's name.
    pub piece: String,
    /// The paper.
    pub paper: Filled,
    /// The outline with dart mouths bridged, closed.
    pub outline: Vec<Point>,
    /// Each seam: its name and the sewn parts.
    pub seams: Vec<(String, Vec<Vec<Point>>)>,
    /// Legs of the darts: from mouth to apex to mouth.
    pub darts: Vec<[Point; 3]>,
    /// The caps of the darts.
    pub caps: Vec<Vec<Point>>,
    /// The box that holds the piece.
    pub bounds: Rect,
}

/// All pieces of a pattern made ready for drawing.
#[derive(Debug, Clone)]
pub struct Sheets {
    /// One sheet a piece, in order.
    pub sheets: Vec<DrawnPiece>,
}

impl Sheets {
    /// Makes all sheets; `fine` is how far a drawn line may stray from the
    /// curve, mm.
    pub fn of(pattern: &Pattern, fine: f64) -> Self {
        Self { sheets: pattern.pieces.iter().map(|p| DrawnPiece::of(p, fine)).collect() }
    }

    /// The sheet of that piece.
    pub fn get(&self, piece: &str) -> Option<&DrawnPiece> {
        self.sheets.iter().find(|s| s.piece == piece)
    }
}

impl DrawnPiece {
    /// Makes the sheet of a piece.
    pub fn of(piece: &Piece, fine: f64) -> Self {
        let outline_path = piece.outline();
        let seams = piece.seams.iter();
        let parts = |s: &hangtrue_pattern::Seam| s.parts.iter().map(|c| drawn(c, fine)).collect();
        let (mut darts, mut caps) = (Vec::new(), Vec::new());
        for dart in darts_of(piece) {
            darts.push(dart.legs);
            if let Ok(cap) = dart.cap() {
                caps.push(drawn(&cap, fine));
            }
        }
        Self {
            piece: piece.name.clone(),
            paper: fill(&outline_path, fine),
            outline: drawn_path(&outline_path, fine).into_iter().next().unwrap_or_default(),
            seams: seams.map(|s| (s.name.clone(), parts(s))).collect(),
            darts,
            caps,
            bounds: piece.bounds(),
        }
    }
}

/// A chain as points for drawing.
pub fn drawn(chain: &Chain, fine: f64) -> Vec<Point> {
    drawn_path(&chain.to_path(), fine).into_iter().next().unwrap_or_default()
}

/// Every run of a path as points for drawing; a closed run ends where it started.
pub fn drawn_path(path: &BezPath, fine: f64) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(path, fine.max(1e-3), |el| match el {
        PathEl::MoveTo(p) => runs.push(vec![p]),
        PathEl::LineTo(p) => {
            if let Some(run) = runs.last_mut() {
                run.push(p);
            }
        }
        PathEl::ClosePath => {
            if let Some(run) = runs.last_mut()
                && let Some(&first) = run.first()
            {
                run.push(first);
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    runs
}

/// The triangles that fill a path.
pub fn fill(path: &BezPath, fine: f64) -> Filled {
    let mut builder = Path::builder();
    let mut open = false;
    let at = |p: Point| point(p.x as f32, p.y as f32);
    for el in path.elements() {
        match *el {
            PathEl::MoveTo(p) => {
                if open {
                    builder.end(true);
                }
                builder.begin(at(p));
                open = true;
            }
            PathEl::LineTo(p) => {
                builder.line_to(at(p));
            }
            PathEl::QuadTo(a, p) => {
                builder.quadratic_bezier_to(at(a), at(p));
            }
            PathEl::CurveTo(a, b, p) => {
                builder.cubic_bezier_to(at(a), at(b), at(p));
            }
            PathEl::ClosePath => {
                builder.end(true);
                open = false;
            }
        }
    }
    if open {
        builder.end(true);
    }
    let mut buffers: VertexBuffers<Point, u32> = VertexBuffers::new();
    let mut out = BuffersBuilder::new(&mut buffers, |v: FillVertex| {
        Point::new(f64::from(v.position().x), f64::from(v.position().y))
    });
    let options = FillOptions::non_zero().with_tolerance(fine.max(1e-3) as f32);
    // A path the tessellator cannot fill is shown by its outline alone.
    match FillTessellator::new().tessellate_path(&builder.build(), &options, &mut out) {
        Ok(()) => Filled { points: buffers.vertices, indices: buffers.indices },
        Err(_) => Filled::default(),
    }
}

impl Filled {
    /// The triangles on the screen.
    pub fn mesh(&self, to_screen: Affine, colour: Color32) -> Mesh {
        let vertex = |p: &Point| {
            let p = to_screen * *p;
            Vertex {
                pos: Pos2::new(p.x as f32, p.y as f32),
                uv: egui::epaint::WHITE_UV,
                color: colour,
            }
        };
        Mesh {
            indices: self.indices.clone(),
            vertices: self.points.iter().map(vertex).collect(),
            ..Mesh::default()
        }
    }
}

/// Points on the screen.
pub fn on_screen(points: &[Point], to_screen: Affine) -> Vec<Pos2> {
    points.iter().map(|p| crate::kit::view::pos(to_screen * *p)).collect()
}

/// Sheets made once for each pattern and fineness.
#[derive(Debug, Default)]
pub struct SheetStore {
    kept: Vec<(Arc<Pattern>, i32, Arc<Sheets>)>,
}

/// The eye sees no corner where the drawn line strays by less than this, points
/// of the screen.
const FINE: f64 = 0.15;
/// How many patterns are kept ready: the present, the older, and the trials.
const KEPT: usize = 8;

impl SheetStore {
    /// The sheets of a pattern for a scale in points of the screen per mm.
    pub fn get(&mut self, pattern: &Arc<Pattern>, scale: f64) -> Arc<Sheets> {
        let step = scale.max(1e-3).log2().ceil() as i32;
        let same = |k: &(Arc<Pattern>, i32, Arc<Sheets>)| Arc::ptr_eq(&k.0, pattern) && k.1 == step;
        if let Some(at) = self.kept.iter().position(same) {
            let found = self.kept.remove(at);
            let sheets = found.2.clone();
            self.kept.push(found);
            return sheets;
        }
        let sheets = Arc::new(Sheets::of(pattern, FINE / f64::from(step).exp2()));
        if self.kept.len() >= KEPT {
            self.kept.remove(0);
        }
        self.kept.push((pattern.clone(), step, sheets.clone()));
        sheets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The triangles cover the area that the exact outline has (Green's theorem
    /// in the pattern crate), to the fineness of drawing.
    #[test]
    fn the_paper_has_the_area_of_the_piece() {
        let pattern = crate::sample::pattern();
        for piece in &pattern.pieces {
            let sheet = DrawnPiece::of(piece, 0.05);
            let area: f64 = sheet
                .paper
                .indices
                .chunks(3)
                .map(|t| {
                    let [a, b, c] = [0, 1, 2].map(|i| sheet.paper.points[t[i] as usize]);
                    ((b - a).cross(c - a) / 2.0).abs()
                })
                .sum();
            let exact = piece.signed_area().abs();
            assert!((area / exact - 1.0).abs() < 1e-3, "{} {area} {exact}", piece.name);
        }
    }

    #[test]
    fn a_pattern_is_made_ready_once() {
        let pattern = Arc::new(crate::sample::pattern());
        let mut store = SheetStore::default();
        let first = store.get(&pattern, 0.6);
        assert!(Arc::ptr_eq(&first, &store.get(&pattern, 0.61)));
        assert!(!Arc::ptr_eq(&first, &store.get(&pattern, 6.0)));
    }
}
