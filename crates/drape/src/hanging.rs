//! How lines lie on a toile at rest: their heights, and how far they hang below the
//! line between their own two ends.

use crate::cloth::Position;
use crate::sew::{GrainFrame, Sewn};
use hangtrue_pattern::{Pattern, PlacedLine, names};

/// A place on a line.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Station {
    /// How far along the line from its inner end, 0 to 1.
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
    /// Its stations, from the inner end to the side.
    pub stations: Vec<Station>,
    /// The ± to be claimed for its droops, mm: [`CLAIMED`], or more where starts and
    /// meshes differ by more.
    pub plus_minus: f64,
}

/// No droop is claimed finer than this, mm: no real toile has been compared yet.
pub const CLAIMED: f64 = 3.0;

/// The stations of a line, from its inner end to the side.
pub const STATIONS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// The marked lines as they run on the settled cloth: `piece: line` and places, for
/// a picture.
pub fn trace_lines(
    pattern: &Pattern,
    sewn: &Sewn,
    rest: &[Position],
) -> Vec<(String, Vec<Position>)> {
    const STEPS: usize = 40;
    let shares: Vec<f64> = (0..=STEPS).map(|k| k as f64 / STEPS as f64).collect();
    let of = |line: &PlacedLine| {
        let places = places_along(pattern, line, &shares, sewn, rest)?;
        Some((format!("{}: {}", line.piece, line.name), places))
    };
    cloth_lines(pattern).iter().filter_map(of).collect()
}

/// The lines that go to the cloth, each from its inner end to the side.
pub(crate) fn cloth_lines(pattern: &Pattern) -> Vec<PlacedLine> {
    let (mut placed, _) = pattern.place_lines();
    placed.retain(|line| pattern.goes_to_cloth(line));
    placed.iter_mut().for_each(from_inner_end);
    placed
}

/// Turns a line that starts at the side seam about.
fn from_inner_end(line: &mut PlacedLine) {
    let at_side = |k: Option<&hangtrue_pattern::LineEnd>| k.is_some_and(|e| e.seam == names::SIDE);
    if line.ends.len() > 1 && at_side(line.ends.first()) && !at_side(line.ends.last()) {
        line.chain = line.chain.reversed();
        line.ends.reverse();
    }
}

/// Where these shares of the way along a line lie on the cloth.
pub(crate) fn places_along(
    pattern: &Pattern,
    line: &PlacedLine,
    shares: &[f64],
    sewn: &Sewn,
    rest: &[Position],
) -> Option<Vec<Position>> {
    let laid = GrainFrame::of(pattern.piece(&line.piece).ok()?);
    let cloth = sewn.pieces.iter().find(|p| p.name == line.piece)?;
    let long = line.chain.length();
    let place = |share: &f64| {
        let found = cloth.mesh.locate(laid.place(line.chain.point_at(share * long)))?;
        Some(cloth.at(found, rest))
    };
    shares.iter().map(place).collect()
}

/// The heights of the stations of every line that goes to the cloth.
pub(crate) fn heights(pattern: &Pattern, sewn: &Sewn, x: &[Position]) -> Vec<Vec<f64>> {
    let of = |line: &PlacedLine| -> Option<Vec<f64>> {
        let places = places_along(pattern, line, &STATIONS, sewn, x)?;
        Some(places.iter().map(|place| place.z).collect())
    };
    cloth_lines(pattern).iter().filter_map(of).collect()
}

/// A line on one toile at rest: how high its stations lie.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LineHeights {
    /// The piece.
    pub piece: String,
    /// The line.
    pub line: String,
    /// The heights of [`STATIONS`] above the floor, mm, from the inner end to the side.
    pub heights: Vec<f64>,
}

/// How high every line that goes to the cloth lies on one toile at rest. A line that
/// leaves the cloth is left out.
pub fn line_heights(pattern: &Pattern, sewn: &Sewn, rest: &[Position]) -> Vec<LineHeights> {
    let of = |line: PlacedLine| {
        let places = places_along(pattern, &line, &STATIONS, sewn, rest)?;
        let heights = places.iter().map(|place| place.z).collect();
        Some(LineHeights { piece: line.piece, line: line.name, heights })
    };
    cloth_lines(pattern).into_iter().filter_map(of).collect()
}

pub(crate) fn droops(heights: &[f64]) -> Vec<f64> {
    let (first, last) = (heights[0], heights[heights.len() - 1]);
    heights.iter().zip(STATIONS).map(|(h, s)| first + (last - first) * s - h).collect()
}

pub(crate) fn lines(pattern: &Pattern, read: &[Vec<Vec<f64>>]) -> Vec<HangingLine> {
    cloth_lines(pattern)
        .into_iter()
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
            Some(HangingLine { piece: line.piece, line: line.name, stations, plus_minus })
        })
        .collect()
}
