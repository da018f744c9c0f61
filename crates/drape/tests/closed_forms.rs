//! The cloth against closed forms and outside figures.
#![allow(clippy::unwrap_used)]

use crate::common::{rest, roll, sheet};
use hangtrue_drape::{Bending, Flat, Material, Nothing, Position, Solid, System, Touch};
use std::f64::consts::{PI, TAU};

const NO_FRICTION: Touch = Touch { friction: 0.0, ..Touch::USUAL };

#[test]
fn a_hanging_strip_stretches_as_its_weight_says() {
    let (width, long) = (60.0, 1000.0);
    let (cloth, points) = sheet(width, long, 20.0);
    // Heavy, so that the stretch is large against what is left over.
    let calico = Material { weight: 20.0 * Material::CALICO.weight, ..Material::CALICO };
    let mut system = System::new(&cloth, calico, &Nothing, NO_FRICTION);
    let mut x: Vec<Position> = points.iter().map(|p| Position::new(p.x, 0.0, p.y)).collect();
    for (v, p) in points.iter().enumerate() {
        system.fixed[v] = [p.y > long - 1e-6; 3];
    }
    rest(&mut system, &mut x);
    let lowest = points.iter().zip(&x).filter(|(p, _)| p.y < 1e-6).map(|(_, x)| x.z);
    let mean = lowest.clone().sum::<f64>() / lowest.count() as f64;
    // ½wL²/k; the second order of St Venant–Kirchhoff is under 1 % here.
    let closed = 0.5 * calico.weight * long * long / calico.warp;
    assert!((-mean - closed).abs() < 0.015 * closed, "{} against {closed}", -mean);
}

/// The bending energy of a sheet laid on a cylinder of radius `r`, its axis turned
/// by `turn`, over the exact ½BA/r².
fn cylinder(side: f64, r: f64, turn: f64) -> f64 {
    let (cloth, points) = sheet(240.0, 300.0, side);
    let (sine, cosine) = turn.sin_cos();
    let place = |p: &Flat| {
        let (s, t) = (p.x * cosine + p.y * sine, p.y * cosine - p.x * sine);
        Position::new(r * (s / r).sin(), r * (s / r).cos(), t)
    };
    let x: Vec<Position> = points.iter().map(place).collect();
    let bending = Bending::new(&cloth, Material::CALICO.bending);
    let exact = 0.5 * Material::CALICO.bending * cloth.whole_area() / (r * r);
    bending.energy(&x) / exact
}

#[test]
fn a_cylinder_has_its_bending_energy() {
    let sides = [20.0, 10.0, 5.0, 2.5];
    let mut off = [0.0; 4];
    for turn in [0.0, 0.3, 0.7, PI / 2.0, 2.0] {
        let parts = sides.map(|side| cylinder(side, 120.0, turn));
        eprintln!("cylinder turned {turn}: {parts:?}");
        for k in 0..4 {
            off[k] += (parts[k] - 1.0).abs() / 5.0;
        }
        assert!((parts[2] - 1.0).abs() < 0.02, "{parts:?}");
    }
    // What is left comes from the rim, and goes down with the side.
    eprintln!("cylinder, mean off: {off:?}");
    assert!(off[0] > off[1] && off[1] > off[2] && off[2] > off[3] && off[3] < 0.005, "{off:?}");
}

/// A round post along z.
struct Post(f64);

impl Solid for Post {
    fn steepest(&self) -> f64 {
        1.0
    }

    fn probe(&self, at: &Position) -> (f64, Position) {
        let r = at.x.hypot(at.y).max(1e-9);
        (r - self.0, Position::new(at.x / r, at.y / r, 0.0))
    }
}

#[test]
fn a_hoop_on_a_post_has_its_radius() {
    let (r, tight) = (100.0, 1.02);
    let width = TAU * r / tight;
    let (mut cloth, points) = sheet(width, 60.0, 5.0);
    let vertex = roll(&mut cloth, &points, width);
    let post = Post(r);
    let light = Material { weight: 1e-9, bending: 0.0, ..Material::CALICO };
    let mut system = System::new(&cloth, light, &post, NO_FRICTION);
    let mut x = vec![Position::zeros(); cloth.vertices];
    for (p, &v) in points.iter().zip(&vertex) {
        let angle = TAU * p.x / width;
        x[v] = Position::new(r * 1.01 * angle.cos(), r * 1.01 * angle.sin(), p.y);
        system.fixed[v][2] = true;
    }
    rest(&mut system, &mut x);
    // St Venant–Kirchhoff: pull λ·k·½(λ²−1) round a radius ρ = λr₀ presses on each
    // flat mm² with pull/r₀; the penalty answers with stiffness × depth.
    let (mut low, mut high) = (r - 5.0, r + 2.0);
    let pull = |radius: f64| {
        let stretch = radius * tight / r;
        light.weft * stretch * 0.5 * (stretch * stretch - 1.0) * tight / r
    };
    let touch = Touch::USUAL;
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let presses = touch.press(r + touch.offset - middle).1;
        if pull(middle) < presses { low = middle } else { high = middle }
    }
    let mean = x.iter().map(|p| p.x.hypot(p.y)).sum::<f64>() / x.len() as f64;
    assert!((mean / low - 1.0).abs() < 5e-4, "{mean} against {low}");
}

#[test]
fn a_cantilever_bends_as_the_elastica() {
    // θ'' = −γ(1−s)cos θ, θ(0) = 0, θ'(1) = 0, γ = wL³/B; drop of the end over L:
    // scipy.integrate.solve_bvp (1.17.1), tests/oracle/elastica.py.
    for (gamma, drop) in ELASTICA {
        let calico = Material::CALICO;
        let long = (gamma * calico.bending / calico.weight).cbrt();
        let side = long / 40.0;
        let row = side * 0.75_f64.sqrt();
        // Wide enough that its own stiffness keeps it from curling across.
        let (cloth, points) = sheet(60.0 * side, long + 1.5 * row, side);
        let mut system = System::new(&cloth, calico, &Nothing, NO_FRICTION);
        let mut x: Vec<Position> = points.iter().map(|p| Position::new(p.x, p.y, 0.0)).collect();
        for (v, p) in points.iter().enumerate() {
            // Clamped over three rows. The bend at the last belongs to half a row on
            // either side, so what is free begins half a row before it.
            system.fixed[v] = [p.y < 2.0 * row + 1e-6; 3];
        }
        rest(&mut system, &mut x);
        let end = points.iter().zip(&x).filter(|(p, _)| p.y > long + 1.5 * row - 1e-6);
        let mean = end.clone().map(|(_, x)| -x.z).sum::<f64>() / end.count() as f64 / long;
        eprintln!("cantilever γ {gamma}: {mean} against {drop}");
        assert!((mean / drop - 1.0).abs() < 0.02, "γ {gamma}: {mean} against {drop}");
    }
}

/// γ and the drop of the end over the length.
const ELASTICA: [(f64, f64); 3] = [(2.0, 0.238_506_6), (8.0, 0.640_630_7), (30.0, 0.873_092_4)];

#[test]
fn a_hanging_chain_of_cloth_is_a_catenary() {
    let (long, span) = (600.0, 450.0);
    let stiff = Material { warp: 60.0, bending: 1e-5, ..Material::CALICO };
    let (cloth, points) = sheet(40.0, long, 10.0);
    let mut system = System::new(&cloth, stiff, &Nothing, NO_FRICTION);
    let mut x: Vec<Position> = points
        .iter()
        .map(|p| {
            let t = p.y / long;
            Position::new(p.x, span * t, -300.0 * (PI * t).sin())
        })
        .collect();
    for (v, p) in points.iter().enumerate() {
        system.fixed[v] = [p.y < 1e-6 || p.y > long - 1e-6; 3];
    }
    rest(&mut system, &mut x);
    // sinh(u)/u = L/span, u = span/2a; sag = a(cosh u − 1).
    let (mut low, mut high) = (1e-3, 10.0);
    for _ in 0..80 {
        let u: f64 = 0.5 * (low + high);
        if u.sinh() / u < long / span { low = u } else { high = u }
    }
    let a = span / (2.0 * low);
    let sag = a * (low.cosh() - 1.0);
    let lowest = x.iter().map(|p| -p.z).fold(0.0, f64::max);
    eprintln!("catenary: {lowest} against {sag}");
    assert!((lowest / sag - 1.0).abs() < 2e-3, "{lowest} against {sag}");
}

/// A cone round z, point down at the origin, `slope` its radius over its height.
struct Cone {
    slope: f64,
}

impl Solid for Cone {
    fn steepest(&self) -> f64 {
        1.0
    }

    fn probe(&self, at: &Position) -> (f64, Position) {
        let r = at.x.hypot(at.y).max(1e-9);
        let cosine = 1.0 / self.slope.hypot(1.0);
        let way = Position::new(at.x / r, at.y / r, -self.slope) * cosine;
        ((r - self.slope * at.z) * cosine, way)
    }
}

#[test]
fn a_straight_line_on_a_cone_sags_as_the_closed_form() {
    // A flat sector of angle β, from 900 to 1300 mm from its point, sewn edge to edge.
    let (beta, near, far) = (0.35_f64, 900.0, 1300.0);
    let sine = beta / TAU;
    let cosine = (1.0 - sine * sine).sqrt();
    let side = 7.5;
    let (mut cloth, points) = sheet(beta * 0.5 * (near + far), far - near, side);
    let width = beta * 0.5 * (near + far);
    let bent = |p: &Flat| (beta * (p.x / width - 0.5), near + p.y);
    let lay = |p: &Flat| {
        let (angle, r) = bent(p);
        Flat::new(r * angle.sin(), r * angle.cos())
    };
    let flat: Vec<Flat> = points.iter().map(lay).collect();
    cloth.flat = cloth.triangles.iter().map(|t| t.map(|v| flat[v])).collect();
    let corners = cloth.triangles.clone();
    let vertex = roll(&mut cloth, &points, width);
    let cone = Cone { slope: sine / cosine };
    // Stiff in shear: soft cloth sags further where a seam runs off the grain (1 mm
    // here with calico's 50 N/m), which the closed form does not know.
    let stiff = Material { shear: 1.0, ..Material::CALICO };
    let mut system = System::new(&cloth, stiff, &cone, NO_FRICTION);
    let mut x = vec![Position::zeros(); cloth.vertices];
    for (p, &v) in points.iter().zip(&vertex) {
        let (angle, r) = bent(p);
        let turn = TAU * angle / beta;
        // Starts loose and a little crooked.
        let off = 6.0 + 2.0 * (3.0 * turn).sin();
        let ring = r * sine + off;
        x[v] = Position::new(ring * turn.sin(), ring * turn.cos(), r * cosine);
        if p.y > far - near - 1e-6 {
            let ring = r * sine + Touch::USUAL.offset * cosine;
            let z = r * cosine - Touch::USUAL.offset * sine;
            x[v] = Position::new(ring * turn.sin(), ring * turn.cos(), z);
            system.fixed[v] = [true; 3];
        }
    }
    rest(&mut system, &mut x);
    let height = |p: Flat| {
        let found = corners.iter().zip(&cloth.triangles).find_map(|(flat_corners, t)| {
            let [a, b, c] = flat_corners.map(|v| flat[v]);
            let whole = (b - a).perp(&(c - a));
            let s = [(b - p).perp(&(c - p)), (c - p).perp(&(a - p)), (a - p).perp(&(b - p))]
                .map(|s| s / whole);
            s.iter().all(|v| *v > -1e-9).then(|| (0..3).map(|k| s[k] * x[t[k]].z).sum::<f64>())
        });
        found.unwrap()
    };
    let d = 1000.0;
    let half = d * (beta / 2.0).tan();
    let middle = height(Flat::new(0.0, d));
    let end = height(Flat::new(half * 0.9999, d));
    let closed = cosine * half * (beta / 4.0).tan();
    eprintln!("cone: {} against {closed}", end - middle);
    assert!((end - middle - closed).abs() < 0.5, "{} against {closed}", end - middle);
}
