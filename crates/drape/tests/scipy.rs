//! A small cloth brought to rest here and by scipy, from an energy written twice.
#![allow(clippy::unwrap_used)]

use crate::common::sheet;
use hangtrue_drape::{
    Limits, Material, Nothing, Position, SLACKENING, Solid, System, Touch, settle,
};
use hangtrue_tests::ask;
use serde::Deserialize;
use serde_json::json;

/// A ball.
struct Ball {
    middle: Position,
    radius: f64,
}

impl Solid for Ball {
    fn probe(&self, at: &Position) -> (f64, Position) {
        let way = at - self.middle;
        (way.norm() - self.radius, way.normalize())
    }

    fn steepest(&self) -> f64 {
        1.0
    }
}

#[derive(Deserialize)]
struct Answer {
    /// The energy at the start.
    start: f64,
    /// At scipy's rest.
    least: f64,
    /// What force is left there, N.
    slope: f64,
    /// At our rest.
    of_theirs: f64,
}

/// A strip of four by four triangles' sides, its short ends brought nearer together,
/// so that it sags; it comes to rest here and there.
fn compare(ball: Option<Ball>) {
    let side = 15.0;
    let (cloth, points) = sheet(4.0 * side, 4.0 * side, side);
    let material = Material::CALICO;
    let touch = Touch { friction: 0.0, ..Touch::USUAL };
    let nothing = Nothing;
    let solid: &dyn Solid = ball.as_ref().map_or(&nothing as &dyn Solid, |b| b);
    let mut system = System::new(&cloth, material, solid, touch);
    let held: Vec<bool> = points.iter().map(|p| p.y < 1e-6 || p.y > 4.0 * side - 1e-6).collect();
    system.fixed = held.iter().map(|h| [*h; 3]).collect();
    let lay = |p: &hangtrue_drape::Flat| {
        let t = p.y / (4.0 * side);
        // A little askew, so that nothing is decided by evenness.
        Position::new(p.x, 0.9 * p.y, -(10.0 + 0.02 * p.x) * 4.0 * t * (1.0 - t))
    };
    let start: Vec<Position> = points.iter().map(lay).collect();
    system.contact.look(&start);
    let begun = system.energy(&start);
    let mut rest = start.clone();
    let limits = Limits { residual: 1e-7, step: 1e-6, ..Limits::default() };
    let told = settle(&mut system, &mut rest, &[1.0], limits, &mut |_| true).unwrap();
    let list = |x: &[Position]| x.iter().map(|p| [p.x, p.y, p.z]).collect::<Vec<_>>();
    let question = json!({
        "material": material,
        "slackening": SLACKENING,
        "touch": touch,
        "triangles": cloth.triangles,
        "flat": cloth.flat.iter().map(|t| t.map(|p| [p.x, p.y])).collect::<Vec<_>>(),
        "held": held,
        "start": list(&start),
        "rest": list(&rest),
        "ball": ball.as_ref().map(|b| [b.middle.x, b.middle.y, b.middle.z, b.radius]),
    });
    let scipy: Answer = ask("cloth.py", &question).unwrap();
    eprintln!(
        "ball {}: start {begun:.9} and {:.9}; rest {:.12}, scipy {:.12} (force left {:.1e} N), scipy of ours {:.12}",
        ball.is_some(),
        scipy.start,
        told.energy,
        scipy.least,
        scipy.slope,
        scipy.of_theirs,
    );
    let near = |a: f64, b: f64, part: f64| (a - b).abs() <= part * b.abs();
    assert!(near(begun, scipy.start, 1e-10), "{begun} {}", scipy.start);
    assert!(near(told.energy, scipy.of_theirs, 1e-10), "{} {}", told.energy, scipy.of_theirs);
    assert!(near(told.energy, scipy.least, 1e-6), "{} {}", told.energy, scipy.least);
    // What is told apart to a millionth must be worth telling apart.
    assert!((begun - told.energy).abs() > 1e-2 * told.energy.abs());
    if let Some(ball) = &ball {
        let touched = rest.iter().filter(|p| ball.probe(p).0 < touch.offset).count();
        assert!(touched >= 2, "{touched} touch the ball");
    }
}

#[test]
fn a_small_cloth_ends_at_the_energy_scipy_finds() {
    compare(None);
}

#[test]
fn a_small_cloth_on_a_ball_ends_at_the_energy_scipy_finds() {
    compare(Some(Ball { middle: Position::new(28.0, 25.0, -35.0), radius: 30.0 }));
}
