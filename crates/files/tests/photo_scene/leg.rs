//! An invented trouser leg of card, photographed on a mat or beside a sheet.

use super::*;
use hangtrue_files::photo::Place;
use hangtrue_geometry::PathSeg;
use kurbo::{CubicBez, Line};

/// The card, corner to corner, mm: hem, side, waist, crotch, inseam. All invented.
pub fn card() -> Vec<Chain> {
    let p = |x: f64, y: f64| Point::new(x, y);
    let cubic = |a: Point, b: Point, c: Point, d: Point| {
        Chain::new(vec![PathSeg::Cubic(CubicBez::new(a, b, c, d))]).unwrap()
    };
    let line = |a: Point, b: Point| Chain::new(vec![PathSeg::Line(Line::new(a, b))]).unwrap();
    let (hem_in, hem_out) = (p(170.0, 40.0), p(385.0, 40.0));
    let (waist_side, waist_centre) = (p(420.0, 1010.0), p(190.0, 1045.0));
    let crotch = p(40.0, 735.0);
    vec![
        line(hem_in, hem_out),
        cubic(hem_out, p(395.0, 380.0), p(475.0, 720.0), waist_side),
        cubic(waist_side, p(350.0, 1012.0), p(270.0, 1024.0), waist_centre),
        cubic(waist_centre, p(165.0, 880.0), p(150.0, 770.0), crotch),
        cubic(crotch, p(110.0, 560.0), p(165.0, 300.0), hem_in),
    ]
}

/// A photo and where the marks are seen in it, pixels.
pub struct Taken {
    pub picture: Picture,
    pub hole: Pinhole,
}

impl Taken {
    pub fn seen(&self, place: Point) -> Place {
        let p = self.hole.sees(place).unwrap();
        (p.x, p.y)
    }
}

/// From line to line of the mat, mm.
pub const PITCH: f64 = 50.0;
/// The sheet's corners on the table, mm: A4, its lower left first.
pub const SHEET: [(f64, f64); 4] = [(500.0, 380.0), (710.0, 380.0), (710.0, 677.0), (500.0, 677.0)];

fn stand(size: (usize, usize), tilt: f64) -> Stand {
    Stand {
        size,
        tilt,
        about: 0.6,
        roll: 0.03,
        focal: size.1 as f64,
        axis: Vec2::new(2.0, -1.0),
        k1: -0.01,
        k2: 0.0,
    }
}

fn taking() -> super::Taking {
    super::Taking { blur: 0.7, noise: 1.2, light: Vec2::new(0.12, -0.1), dusk: 0.12 }
}

fn outline() -> Vec<Point> {
    card().iter().flat_map(|c| steps(c, 2.0)).collect()
}

fn corners(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(Point::from).to_vec()
}

/// Kraft card on a green mat with lines every 50 mm.
pub fn on_mat(size: (usize, usize), tilt: f64) -> Taken {
    on_mat_with(size, tilt, taking())
}

/// The same without noise, for pictures that are kept.
pub fn on_mat_quiet(size: (usize, usize), tilt: f64) -> Taken {
    on_mat_with(size, tilt, super::Taking { noise: 0.0, ..taking() })
}

fn on_mat_with(size: (usize, usize), tilt: f64, taking: super::Taking) -> Taken {
    let lines = grid_lines(-1..=11, -1..=23, PITCH, 1.2);
    let scene = Scene {
        ground: [0.02, 0.10, 0.07],
        layers: vec![(lines, [0.16, 0.26, 0.2]), (vec![outline()], [0.55, 0.38, 0.22])],
    };
    let hole = Pinhole::seeing(stand(size, tilt), &corners(-40.0, -40.0, 540.0, 1140.0));
    Taken { picture: scene.taken(&hole, taking, &mut Chance::of(5)), hole }
}

/// Dark card on a wooden table, an A4 sheet to its right.
pub fn beside_sheet(size: (usize, usize), tilt: f64) -> Taken {
    let sheet = sides(&SHEET.map(Point::from), 10.0);
    let scene = Scene {
        ground: [0.42, 0.30, 0.19],
        layers: vec![(vec![sheet], [0.85, 0.85, 0.83]), (vec![outline()], [0.06, 0.055, 0.05])],
    };
    let hole = Pinhole::seeing(stand(size, tilt), &corners(-30.0, -40.0, 760.0, 1130.0));
    Taken { picture: scene.taken(&hole, taking(), &mut Chance::of(6)), hole }
}

/// Marks round the card that the halves below both show or one of them does.
pub const TARGETS: [(f64, f64); 8] = [
    (0.0, 0.0),
    (480.0, 0.0),
    (0.0, 420.0),
    (500.0, 420.0),
    (0.0, 640.0),
    (520.0, 640.0),
    (20.0, 1090.0),
    (500.0, 1090.0),
];

/// Dark card among printed marks.
fn among_marks(size: (usize, usize), room: &[Point], tilt: f64, seed: u64) -> Taken {
    let marks = TARGETS.iter().flat_map(|t| target(Point::from(*t), 20.0)).collect();
    let scene = Scene {
        ground: [0.62, 0.60, 0.55],
        layers: vec![(marks, [0.03; 3]), (vec![outline()], [0.16, 0.14, 0.12])],
    };
    let hole = Pinhole::seeing(stand(size, tilt), room);
    Taken { picture: scene.taken(&hole, taking(), &mut Chance::of(seed)), hole }
}

/// All of the card among printed marks.
pub fn whole(size: (usize, usize), tilt: f64) -> Taken {
    among_marks(size, &corners(-50.0, -50.0, 570.0, 1140.0), tilt, 9)
}

/// The lower or the upper half of it.
pub fn half(size: (usize, usize), upper: bool) -> Taken {
    let (low, high) = if upper { (370.0, 1140.0) } else { (-50.0, 690.0) };
    among_marks(size, &corners(-50.0, low, 570.0, high), 0.15, if upper { 7 } else { 8 })
}
