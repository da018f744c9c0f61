//! What is drawn: the body, the cloth on it with its seams, the marked lines, and the
//! level they are read against.

use super::canvas::{Canvas, Colour, Corner, Tone, light};
use super::skin;
use super::view::{Frame, Viewpoint};
use crate::body::Body;
use crate::cloth::Position;
use crate::contact::Solid;
use crate::hanging::trace_lines;
use crate::predict::{Prediction, Settled};
use crate::sew::{Sewn, SewnPiece};
use hangtrue_pattern::{Leg, Pattern};

/// Cloth, body, seams, marked lines, level: calico, a muted skin, and the inks of the
/// table.
const CLOTH: Tone = Tone { shade: [104, 94, 80], lit: [253, 247, 233] };
const SKIN: Tone = Tone { shade: [98, 74, 62], lit: [222, 190, 168] };
const SEAM: Colour = [128, 112, 90];
const LINE: Colour = [168, 50, 45];
const LEVEL: Colour = [44, 74, 124];

/// Lines lie on the cloth: what is nearer by no more than this does not hide them, mm.
const ON_CLOTH: f64 = 5.0;
/// The level hangs beside the cloth: what is nearer by no more than this does not hide
/// it, mm.
const BESIDE_CLOTH: f64 = 40.0;
/// Cloth touches the skin at the corners of its mesh and cuts in between: the skin is
/// drawn this much further off, so that none comes through, mm.
const SUNK: f64 = 14.0;
/// How much of the body is seen through cloth that lets it be seen.
const THIN: f64 = 0.42;
/// Pixels are drawn so many times finer each way before they are put together.
pub const FINE: usize = 2;

/// A place of a marked line that is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkedPlace {
    /// How far along the line, 0 to 1.
    pub along: f64,
    /// Where it lies.
    pub place: Position,
    /// How far below the line between its two ends it hangs, mm.
    pub droop: f64,
}

/// A marked line on the cloth.
#[derive(Debug, Clone)]
pub struct MarkedRun {
    /// The line.
    pub line: String,
    /// The piece.
    pub piece: String,
    /// Whether it lies on a back.
    pub back: bool,
    /// The wearer's leg.
    pub leg: Leg,
    /// Whether it is the other leg's, mirrored.
    pub mirrored: bool,
    /// Where it runs.
    pub run: Vec<Position>,
    /// The places that are read.
    pub places: Vec<MarkedPlace>,
    /// The ± of its droops, mm.
    pub plus_minus: f64,
}

/// All that is drawn.
#[derive(Debug, Clone, Default)]
pub struct Scene {
    body: Surface,
    cloth: Surface,
    seams: Vec<Vec<Position>>,
    /// The marked lines, those of the other leg too.
    pub lines: Vec<MarkedRun>,
    /// Lowest and highest corner of the body, mm.
    pub reach: (Position, Position),
}

/// Triangles with a direction at each point.
#[derive(Debug, Clone, Default)]
struct Surface {
    points: Vec<Position>,
    normals: Vec<Position>,
    triangles: Vec<[usize; 3]>,
}

impl Surface {
    /// The skin, faced as its level rises.
    fn of_skin(body: &Body) -> Self {
        let mut even = body.clone();
        even.shape.lean = Default::default();
        let (points, triangles) = skin::right_half(&even);
        let face = |p: &Position| {
            let (level, slope) = even.shape.probe(p);
            // The plane between the legs, inside the body, is faced to nobody.
            let on_skin = level.abs() < 1.0;
            slope.try_normalize(1e-12).filter(|_| on_skin).unwrap_or(-Position::x())
        };
        let mut normals: Vec<Position> = points.iter().map(face).collect();
        if let Some(top) = normals.last_mut() {
            *top = Position::z();
        }
        Self { points, normals, triangles }
    }

    fn of(points: Vec<Position>, triangles: Vec<[usize; 3]>) -> Self {
        let mut normals = vec![Position::zeros(); points.len()];
        for t in &triangles {
            let [a, b, c] = t.map(|v| points[v]);
            let area = (b - a).cross(&(c - a));
            t.iter().for_each(|&v| normals[v] += area);
        }
        let normals = normals.into_iter().map(|n| n.try_normalize(1e-12).unwrap_or(Position::z()));
        Self { normals: normals.collect(), points, triangles }
    }

    /// Both the surface and its mirror image in the plane between the legs; points that
    /// lie in that plane are faced alike from both sides.
    fn with_mirror(mut self) -> Self {
        for (p, n) in self.points.iter().zip(&mut self.normals) {
            if p.x.abs() < 1e-6 {
                n.x = 0.0;
                *n = n.try_normalize(1e-12).unwrap_or(Position::z());
            }
        }
        let count = self.points.len();
        self.points.extend_from_within(..);
        self.points[count..].iter_mut().for_each(|p| *p = mirrored(*p));
        self.normals.extend_from_within(..);
        self.normals[count..].iter_mut().for_each(|n| *n = mirrored(*n));
        let other: Vec<[usize; 3]> =
            self.triangles.iter().map(|t| [t[0], t[2], t[1]].map(|v| v + count)).collect();
        self.triangles.extend(other);
        self
    }

    /// The even body as it leans.
    fn leaned(mut self, body: &Body) -> Self {
        self.points.iter_mut().for_each(|p| *p = body.shape.leaned(*p));
        self
    }

    /// Draws it, so many mm further from the eye than it lies.
    fn draw(&self, canvas: &mut Canvas, frame: &Frame, tone: &Tone, (dense, sunk): (f64, f64)) {
        let axes = frame.view.axes();
        let corners: Vec<Corner> = self
            .points
            .iter()
            .zip(&self.normals)
            .map(|(p, n)| {
                let [x, y, near] = frame.project(p);
                Corner { at: [x, y, near - sunk], light: light(n, &axes) }
            })
            .collect();
        for t in &self.triangles {
            canvas.triangle(t.map(|v| corners[v]), tone, dense);
        }
    }
}

fn mirrored(p: Position) -> Position {
    Position::new(-p.x, p.y, p.z)
}

impl Scene {
    /// The body alone.
    pub fn of_body(body: &Body) -> Self {
        let body = Surface::of_skin(body).with_mirror().leaned(body);
        let reach =
            body.points.iter().fold((Position::zeros(), Position::zeros()), |(low, high), p| {
                (low.inf(p), high.sup(p))
            });
        Self { body, reach, ..Self::default() }
    }

    /// The toile at rest on its body, with the lines that were read.
    pub fn of(pattern: &Pattern, settled: &Settled, told: &Prediction) -> Self {
        let (sewn, rest) = (&settled.first.sewn, &settled.first.places);
        let mut scene = Self::of_body(&settled.body);
        let cloth = Surface::of(rest.clone(), sewn.cloth.triangles.clone());
        let halved = sewn.centre.is_some();
        scene.cloth = if halved { cloth.with_mirror() } else { cloth };
        scene.seams = seams(sewn, rest);
        scene.lines = lines(pattern, sewn, rest, told);
        if halved {
            let other: Vec<Vec<Position>> =
                scene.seams.iter().map(|s| s.iter().copied().map(mirrored).collect()).collect();
            scene.seams.extend(other);
            let other: Vec<MarkedRun> = scene.lines.iter().map(other_leg).collect();
            scene.lines.extend(other);
        }
        scene.reach =
            scene.cloth.points.iter().fold(scene.reach, |(low, high), p| (low.inf(p), high.sup(p)));
        scene
    }

    /// A frame that shows all of it from there, in the middle of so many pixels, with
    /// `beside` pixels left free to the left and to the right.
    pub fn frame(&self, view: Viewpoint, (width, height): (f64, f64), beside: f64) -> Frame {
        let (low, high) = self.reach;
        // As wide from every side, so that turning it changes no size.
        let across = 2.0 * low.xy().norm().max(high.xy().norm());
        let scale = ((height * 0.94) / (high.z - low.z).max(1.0))
            .min((width - 2.0 * beside).max(10.0) / across.max(1.0));
        let at = Position::new(0.0, 0.5 * (low.y + high.y), 0.5 * (low.z + high.z));
        Frame { view, scale, middle: (0.5 * width, 0.5 * height), at }
    }

    /// Draws it into so many pixels, each made of `fine` times `fine` ([`FINE`]; 1 while it
    /// is being turned); `thin` lets the body be seen through the cloth.
    pub fn draw(
        &self,
        frame: &Frame,
        (width, height): (usize, usize),
        fine: usize,
        thin: bool,
    ) -> Canvas {
        let fine = fine.max(1);
        let mut canvas = Canvas::new(width * fine, height * fine);
        let frame = frame.finer(fine as f64);
        let wide = (frame.scale * 2.6).clamp(2.0 * fine as f64, 4.0 * fine as f64);
        let sunk = if self.cloth.triangles.is_empty() { 0.0 } else { SUNK };
        self.body.draw(&mut canvas, &frame, &SKIN, (1.0, sunk));
        let dense = if thin { THIN } else { 1.0 };
        self.cloth.draw(&mut canvas, &frame, &CLOTH, (dense, 0.0));
        let project = |places: &[Position]| -> Vec<[f64; 3]> {
            places.iter().map(|p| frame.project(p)).collect()
        };
        for seam in &self.seams {
            canvas.run(&project(seam), (SEAM, 0.45 * wide), ON_CLOTH, None);
        }
        for line in &self.lines {
            let level = project(&level_of(line));
            canvas.run(&level, (LEVEL, 0.6 * wide), BESIDE_CLOTH, Some(4.0 * wide));
        }
        for line in &self.lines {
            canvas.run(&project(&line.run), (LINE, wide), ON_CLOTH, None);
        }
        if fine == 1 { canvas } else { canvas.coarser(fine) }
    }
}

/// The level of a line: straight between the heights of its two ends, above and below
/// where it runs.
fn level_of(line: &MarkedRun) -> Vec<Position> {
    let (Some(first), Some(last)) = (line.run.first(), line.run.last()) else {
        return Vec::new();
    };
    let count = (line.run.len() - 1).max(1) as f64;
    let at = |(k, p): (usize, &Position)| {
        Position::new(p.x, p.y, first.z + (last.z - first.z) * k as f64 / count)
    };
    line.run.iter().enumerate().map(at).collect()
}

fn other_leg(line: &MarkedRun) -> MarkedRun {
    let place = |p: &MarkedPlace| MarkedPlace { place: mirrored(p.place), ..*p };
    MarkedRun {
        leg: Leg::Left,
        mirrored: true,
        run: line.run.iter().copied().map(mirrored).collect(),
        places: line.places.iter().map(place).collect(),
        ..line.clone()
    }
}

/// The seams as they lie, and the open edges.
fn seams(sewn: &Sewn, rest: &[Position]) -> Vec<Vec<Position>> {
    let of = |piece: &SewnPiece| -> Vec<Vec<Position>> {
        let at = |(p, _): &(usize, f64)| rest[piece.vertex[*p]];
        piece.seams.iter().map(|s| s.1.iter().map(at).collect()).collect()
    };
    sewn.pieces.iter().flat_map(of).collect()
}

fn lines(pattern: &Pattern, sewn: &Sewn, rest: &[Position], told: &Prediction) -> Vec<MarkedRun> {
    let mut found = Vec::new();
    for (name, run) in trace_lines(pattern, sewn, rest) {
        let read = told.lines.iter().find(|l| name == format!("{}: {}", l.piece, l.line));
        let Some(read) = read else { continue };
        let Some(piece) = sewn.pieces.iter().find(|p| p.name == read.piece) else { continue };
        let last = run.len().saturating_sub(1);
        let place = |s: &crate::hanging::Station| {
            let place = run[((s.along * last as f64).round() as usize).min(last)];
            MarkedPlace { along: s.along, place, droop: s.droop }
        };
        found.push(MarkedRun {
            line: read.line.clone(),
            piece: read.piece.clone(),
            back: piece.back,
            leg: piece.leg,
            mirrored: false,
            places: read.stations.iter().map(place).collect(),
            plus_minus: read.plus_minus,
            run,
        });
    }
    found
}
