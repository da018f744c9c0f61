//! How lines lie on a toile at rest: their heights, and how far they hang below the
//! line between their own two ends.

use crate::cloth::Place;
use crate::sew::{Laid, Sewn};
use hangtrue_pattern::Pattern;

/// A place on a line.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Station {
    /// How far along the line from its start, 0 to 1.
    pub along: f64,
    /// Its height above the floor, mm.
    pub height: f64,
    /// How far it hangs below the line between the line's two ends, mm; above
    /// nought is lower.
    pub droop: f64,
    /// The most that another start or mesh differs from `droop`, mm.
    pub spread: f64,
}

/// How a line hangs.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct HangingLine {
    /// The piece.
    pub piece: String,
    /// The line.
    pub line: String,
    /// Its stations in order along the line.
    pub stations: Vec<Station>,
    /// The ± to be claimed for its droops, mm: [`CLAIMED`], or more where starts and
    /// meshes differ by more.
    pub plus_minus: f64,
}

/// No droop is claimed finer than this, mm: no real toile has been compared yet.
pub const CLAIMED: f64 = 3.0;

/// The stations of a line, from its start to its end.
pub const STATIONS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// The marked lines as they run on the settled cloth: `piece: line` and places, for
/// a picture.
pub fn trace_lines(pattern: &Pattern, sewn: &Sewn, rest: &[Place]) -> Vec<(String, Vec<Place>)> {
    const STEPS: usize = 40;
    let (placed, _) = pattern.place_lines();
    let of = |line: &hangtrue_pattern::PlacedLine| {
        let laid = Laid::of(pattern.piece(&line.piece).ok()?);
        let cloth = sewn.pieces.iter().find(|p| p.name == line.piece)?;
        let place = |k: usize| {
            let share = k as f64 / STEPS as f64;
            let p = laid.place(line.chain.point_at(share * line.chain.length()));
            let (t, shares) = cloth.mesh.locate(p)?;
            let corners = cloth.mesh.triangles[t].map(|c| rest[cloth.vertex[c]]);
            Some(corners[0] * shares[0] + corners[1] * shares[1] + corners[2] * shares[2])
        };
        let places = (0..=STEPS).map(place).collect::<Option<Vec<Place>>>()?;
        Some((format!("{}: {}", line.piece, line.name), places))
    };
    let to_cloth = |l: &&hangtrue_pattern::PlacedLine| {
        pattern.line(&l.piece, &l.name).is_ok_and(|l| l.purpose.to_cloth())
    };
    placed.iter().filter(to_cloth).filter_map(of).collect()
}

/// The heights of the stations of every line that goes to the cloth.
pub(crate) fn heights(pattern: &Pattern, sewn: &Sewn, x: &[Place]) -> Vec<Vec<f64>> {
    let (placed, _) = pattern.place_lines();
    let of = |line: &hangtrue_pattern::PlacedLine| -> Option<Vec<f64>> {
        let piece = pattern.piece(&line.piece).ok()?;
        let laid = Laid::of(piece);
        let cloth = sewn.pieces.iter().find(|p| p.name == line.piece)?;
        let long = line.chain.length();
        let height = |share: &f64| {
            let p = laid.place(line.chain.point_at(share * long));
            let (t, shares) = cloth.mesh.locate(p)?;
            let corners = cloth.mesh.triangles[t].map(|c| x[cloth.vertex[c]].z);
            Some((0..3).map(|k| corners[k] * shares[k]).sum())
        };
        STATIONS.iter().map(height).collect()
    };
    let to_cloth = |l: &&hangtrue_pattern::PlacedLine| {
        pattern.line(&l.piece, &l.name).is_ok_and(|l| l.purpose.to_cloth())
    };
    placed.iter().filter(to_cloth).filter_map(of).collect()
}

fn droops(heights: &[f64]) -> Vec<f64> {
    let (first, last) = (heights[0], heights[heights.len() - 1]);
    heights.iter().zip(STATIONS).map(|(h, s)| first + (last - first) * s - h).collect()
}

pub(crate) fn lines(pattern: &Pattern, read: &[Vec<Vec<f64>>]) -> Vec<HangingLine> {
    let (placed, _) = pattern.place_lines();
    let to_cloth = placed
        .iter()
        .filter(|l| pattern.line(&l.piece, &l.name).is_ok_and(|l| l.purpose.to_cloth()));
    to_cloth
        .enumerate()
        .filter_map(|(k, line)| {
            let shown = read.first()?.get(k)?;
            let all: Vec<Vec<f64>> =
                read.iter().filter_map(|r| r.get(k)).map(|h| droops(h)).collect();
            let own = droops(shown);
            let stations = (0..STATIONS.len()).map(|s| {
                let off = |d: &Vec<f64>| (d[s] - own[s]).abs();
                let spread = all.iter().map(off).fold(0.0, f64::max);
                Station { along: STATIONS[s], height: shown[s], droop: own[s], spread }
            });
            let stations: Vec<Station> = stations.collect();
            let plus_minus = stations.iter().map(|s| s.spread).fold(CLAIMED, f64::max);
            let (piece, line) = (line.piece.clone(), line.name.clone());
            Some(HangingLine { piece, line, stations, plus_minus })
        })
        .collect()
}
