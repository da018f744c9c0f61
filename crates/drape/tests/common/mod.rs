//! Sheets of cloth for the checks.
#![allow(dead_code, clippy::unwrap_used)]

pub mod survey;

use hangtrue_drape::mesh::{Grid, triangulate};
use hangtrue_drape::{Cloth, Flat, Limits, Position, Progress, System, settle};

/// A flat sheet from (0, 0) to (width, height).
pub fn sheet(width: f64, height: f64, side: f64) -> (Cloth, Vec<Flat>) {
    let across = (width / side).round().max(1.0) as usize;
    let up = (height / side).round().max(1.0) as usize;
    let mut outline = Vec::new();
    let part = |k: usize, n: usize| k as f64 / n as f64;
    outline.extend((0..across).map(|k| Flat::new(width * part(k, across), 0.0)));
    outline.extend((0..up).map(|k| Flat::new(width, height * part(k, up))));
    outline.extend((0..across).map(|k| Flat::new(width * (1.0 - part(k, across)), height)));
    outline.extend((0..up).map(|k| Flat::new(0.0, height * (1.0 - part(k, up)))));
    let mesh = triangulate(&outline, Grid { side, shift: (0.0, 0.0) }).unwrap();
    let flat = mesh.triangles.iter().map(|t| t.map(|v| mesh.points[v])).collect();
    let cloth = Cloth { vertices: mesh.points.len(), triangles: mesh.triangles.clone(), flat };
    (cloth, mesh.points)
}

/// Joins each point at x = width to that at x = 0, so that the sheet becomes a
/// tube; gives each point's vertex.
pub fn roll(cloth: &mut Cloth, points: &[Flat], width: f64) -> Vec<usize> {
    let mut vertex = vec![usize::MAX; points.len()];
    let mut next = 0;
    for (k, p) in points.iter().enumerate() {
        let twin = (p.x > width - 1e-6)
            .then(|| points.iter().position(|q| q.x < 1e-6 && (q.y - p.y).abs() < 1e-6).unwrap());
        if twin.is_none() {
            vertex[k] = next;
            next += 1;
        }
    }
    for (k, p) in points.iter().enumerate() {
        if vertex[k] == usize::MAX {
            let twin = points.iter().position(|q| q.x < 1e-6 && (q.y - p.y).abs() < 1e-6).unwrap();
            vertex[k] = vertex[twin];
        }
    }
    cloth.triangles.iter_mut().for_each(|t| *t = t.map(|v| vertex[v]));
    cloth.vertices = next;
    vertex
}

/// Settles and tells how.
pub fn rest(system: &mut System, x: &mut [Position]) -> Progress {
    let limits = Limits { steps: 3000, ..Limits::default() };
    let told = settle(system, x, &[1.0], limits, &mut |p| {
        if std::env::var_os("HANG_WATCH").is_some() {
            eprintln!("{p:?}");
        }
        true
    })
    .unwrap();
    eprintln!("settled: {told:?}");
    told
}
