//! Settles the blocks of survey bodies and sets the thigh lines beside their home shape
//! in closed form: three starts and a finer mesh, cloth stiff in shear, no friction; and
//! how the cloth's level turns across the line against its two seams.
//! `cargo run --release -p hangtrue-drape --example homes 20 0`: so many bodies, from which
//! of the sample on. Rows of `docs/hang.md`.
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_drape::body::Handles;
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Flat, Options, PredictError, Settled, Start, read, settle_all};
use hangtrue_pattern::{End, Measure, Measures, Pattern, names};
use std::f64::consts::FRAC_PI_2;

fn main() {
    let number =
        |k: usize, or: usize| std::env::args().nth(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    let (count, first) = (number(1, 20), number(2, 0));
    let all = survey::survey();
    for (name, measures, breadths) in
        all.iter().skip(first).step_by((all.len() - first) / count).take(count)
    {
        let Some(pattern) = survey::marked_block(measures) else {
            println!("{name}: no draft");
            continue;
        };
        let usual = Options {
            breadths: *breadths,
            grids: vec![Grid { side: 15.0, shift: (0.0, 0.0) }],
            ..Options::default()
        };
        match body(&pattern, measures, &usual) {
            Ok(words) => println!("{name} {words}"),
            Err(why) => println!("{name}: {why}"),
        }
    }
}

fn body(pattern: &Pattern, measures: &Measures, usual: &Options) -> Result<String, PredictError> {
    let settle = |options: &Options| {
        settle_all(pattern, measures, &Handles::default(), options, &mut |_| true)
    };
    let one = Options { starts: vec![Start { off: 10.0, lifted: 0.0 }], ..usual.clone() };
    let settled = settle(usual)?;
    let mut fine = one.clone();
    fine.grids[0].side = 10.0;
    let mut stiff = one.clone();
    stiff.material.shear = 1.0;
    let mut slick = one.clone();
    slick.touch.friction = 0.0;
    let others = [fine, stiff, slick].map(|o| settle(&o));
    let mut words = String::new();
    for piece in [names::BACK, names::FRONT] {
        for line in [names::THIGH, names::KNEE] {
            let own = middle(pattern, &settled, piece, line);
            let spread = read(pattern, &settled)
                .lines
                .iter()
                .find(|l| l.piece == piece && l.line == line)
                .map_or(0.0, |l| l.stations[2].spread);
            let other = others.iter().map(|o| match o {
                Ok(o) => format!("{:.1}", middle(pattern, o, piece, line)),
                Err(_) => "-".into(),
            });
            let other: Vec<String> = other.collect();
            let closed = closed_form(pattern, piece, line);
            words += &format!(
                "\n   | {piece} {line} | {own:.1} | {spread:.1} | {} | {closed:.1} |",
                other.join(" | ")
            );
            if line == names::THIGH {
                let (seams, level) = turning(pattern, &settled, piece, line);
                words += &format!(" seams {seams:.1?}° level {level:.1?}°");
            }
        }
    }
    let body = &settled.body;
    let back = measures.get_or_derived(Measure::CrotchLengthBack).unwrap_or(f64::NAN);
    Ok(format!(
        "waist slipped {}, fork lowered {:.0}, hip raised {:.0}, back crotch part off {:.0}{words}",
        settled.first.slipped,
        body.lowered,
        body.hip_raised,
        body.crotch.back - back
    ))
}

/// The droop in the middle of a line, mm.
fn middle(pattern: &Pattern, settled: &Settled, piece: &str, line: &str) -> f64 {
    let told = read(pattern, settled);
    let found = told.lines.iter().find(|l| l.piece == piece && l.line == line);
    found.map_or(f64::NAN, |l| l.stations[2].droop)
}

/// The angles of the seams at a line's two ends against the grain, radians: above nought
/// where a seam runs to the right on its way down.
fn seam_angles(pattern: &Pattern, piece: &str, line: &str) -> [f64; 2] {
    let placed = pattern.place_line(piece, line).unwrap();
    let piece = pattern.piece(piece).unwrap();
    let (square, up) = (piece.grain.square(), piece.grain.direction());
    [0, 1].map(|k| {
        let end = &placed.ends[k];
        let at = piece.seam(&end.seam).unwrap().place(End::Start, end.position).direction;
        let (x, y) = (at.dot(square), at.dot(up));
        let sign = if y > 0.0 { -1.0 } else { 1.0 };
        (sign * x).atan2(-sign * y)
    })
}

/// The home shape, mm: W/2·tan(β/4) with W the line's width and β how much the seams
/// converge.
fn closed_form(pattern: &Pattern, piece: &str, line: &str) -> f64 {
    let long = pattern.place_line(piece, line).unwrap().chain.length();
    let angles = seam_angles(pattern, piece, line);
    0.5 * long * (0.25 * (angles[1] - angles[0]).abs()).tan()
}

/// Where along a line the cloth's level is asked.
const ASKED: [f64; 7] = [0.03, 0.17, 0.33, 0.5, 0.67, 0.83, 0.97];

/// The angles of the two seams, and of the steepest way down the settled cloth at places
/// along the line, all against the grain, degrees.
fn turning(pattern: &Pattern, settled: &Settled, piece: &str, line: &str) -> ([f64; 2], [f64; 7]) {
    let placed = pattern.place_line(piece, line).unwrap();
    let flat_piece = pattern.piece(piece).unwrap();
    let (square, up) = (flat_piece.grain.square(), flat_piece.grain.direction());
    let rest = &settled.first;
    let cloth = rest.sewn.pieces.iter().find(|p| p.name == piece).unwrap();
    let level = ASKED.map(|share| {
        let p = placed.chain.point_at(share * placed.chain.length()).to_vec2();
        let at = Flat::new(p.dot(square), p.dot(up));
        steepest(cloth, &rest.places, at).to_degrees()
    });
    (seam_angles(pattern, piece, line).map(f64::to_degrees), level)
}

/// Triangles whose middles lie this near are asked, mm.
const NEAR: f64 = 25.0;

/// The steepest way down at a place of a piece against the grain, radians: heights near
/// it are laid on a plane by least squares.
fn steepest(
    cloth: &hangtrue_drape::SewnPiece,
    places: &[hangtrue_drape::Position],
    at: Flat,
) -> f64 {
    let near = |k: &usize| (cloth.mesh.points[*k] - at).norm() < NEAR;
    let found: Vec<usize> = (0..cloth.mesh.points.len()).filter(near).collect();
    let height = |k: usize| places[cloth.vertex[k]].z;
    let count = found.len() as f64;
    let mean = found.iter().map(|&k| cloth.mesh.points[k]).sum::<Flat>() / count;
    let mean_height = found.iter().map(|&k| height(k)).sum::<f64>() / count;
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for &k in &found {
        let d = cloth.mesh.points[k] - mean;
        let z = height(k) - mean_height;
        (xx, xy, yy) = (xx + d.x * d.x, xy + d.x * d.y, yy + d.y * d.y);
        (xz, yz) = (xz + d.x * z, yz + d.y * z);
    }
    let whole = xx * yy - xy * xy;
    let (gx, gy) = ((xz * yy - yz * xy) / whole, (yz * xx - xz * xy) / whole);
    // Down is against the slope; nought is down the grain.
    let angle = (-gx).atan2(gy);
    angle.clamp(-FRAC_PI_2, FRAC_PI_2)
}
