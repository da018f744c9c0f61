//! How the marked lines of a pattern will hang on a body: predicted, not seen.

use crate::body::{self, Body, BodyError, Breadths, Handles};
use crate::cloth::{Material, Place};
use crate::contact::Touch;
use crate::mesh::Grid;
use crate::settle::{Limits, Progress, SettleError, Watch, settle};
use crate::sew::{Laid, SewError, Sewn, sew};
use crate::start::{Start, lay_on};
use crate::toile::{Band, forces, slipped};
use hangtrue_pattern::{Measures, Pattern};

/// What is settled, and how often.
#[derive(Debug, Clone, PartialEq)]
pub struct Options {
    /// Breadths and depths of the body, where taken.
    pub breadths: Breadths,
    /// The cloth.
    pub material: Material,
    /// How it lies against the body.
    pub touch: Touch,
    /// How the waist is held.
    pub band: Band,
    /// The meshes it is settled on; the first is the one shown.
    pub grids: Vec<Grid>,
    /// The starts it is settled from.
    pub starts: Vec<Start>,
    /// The bending, eased down: multiples of the true one.
    pub easing: Vec<f64>,
    /// When it is at rest.
    pub limits: Limits,
}

impl Default for Options {
    fn default() -> Self {
        let grid = |side, shift| Grid { side, shift };
        let start = |off, lifted| Start { off, lifted };
        Self {
            breadths: Breadths::default(),
            material: Material::CALICO,
            touch: Touch::USUAL,
            band: Band::USUAL,
            grids: vec![grid(15.0, (0.0, 0.0)), grid(15.0, (0.4, 0.3))],
            starts: vec![start(10.0, 0.0), start(18.0, 0.0), start(12.0, 8.0)],
            easing: vec![10.0, 1.0],
            limits: Limits::default(),
        }
    }
}

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
    /// Half of what starts and meshes differ by in `droop`, mm.
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
}

/// A prediction.
#[derive(Debug, Clone)]
pub struct Prediction {
    /// The lines that go to the cloth.
    pub lines: Vec<HangingLine>,
    /// The least ± to be claimed for a droop, mm: [`CLAIMED`], or more where starts
    /// and meshes differ by more.
    pub plus_minus: f64,
    /// Whether the waist slipped from its level.
    pub waist_slipped: bool,
    /// The body it hangs on.
    pub body: Body,
    /// The cloth of the first mesh.
    pub sewn: Sewn,
    /// Where its vertices came to rest, from the first start.
    pub places: Vec<Place>,
    /// How each settling ended: mesh, start, and its last step.
    pub settled: Vec<(usize, usize, Progress)>,
}

/// No droop is claimed finer than this, mm: no real toile has been compared yet.
pub const CLAIMED: f64 = 3.0;

/// The stations of a line, from its start to its end.
pub const STATIONS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Why nothing is predicted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PredictError {
    /// The body.
    #[error(transparent)]
    Body(#[from] BodyError),
    /// The sewing.
    #[error(transparent)]
    Sew(#[from] SewError),
    /// The settling.
    #[error(transparent)]
    Settle(#[from] SettleError),
    /// Nothing to settle on or from.
    #[error("give at least one mesh, one start and one step of bending")]
    Nothing,
}

/// Settles a pattern on a body and reads its lines.
///
/// # Errors
/// [`PredictError`].
pub fn predict(
    pattern: &Pattern,
    measures: &Measures,
    handles: &Handles,
    options: &Options,
    watch: &mut Watch,
) -> Result<Prediction, PredictError> {
    if options.grids.is_empty() || options.starts.is_empty() || options.easing.is_empty() {
        return Err(PredictError::Nothing);
    }
    let body = body::build(measures, &options.breadths, handles)?;
    let mut read: Vec<Vec<Vec<f64>>> = Vec::new();
    let mut settled = Vec::new();
    let mut shown: Option<(Sewn, Vec<Place>)> = None;
    let mut waist_slipped = false;
    for (g, grid) in options.grids.iter().enumerate() {
        let sewn = sew(pattern, *grid)?;
        for (s, start) in options.starts.iter().enumerate() {
            // The finer question, whether meshes agree, needs one start of each.
            if g > 0 && s > 0 {
                break;
            }
            let mut x = lay_on(&sewn, &body, *start);
            let mut system = forces(&sewn, &body, options.material, options.touch, options.band);
            let told = settle(&mut system, &mut x, &options.easing, options.limits, watch)?;
            settled.push((g, s, told));
            read.push(heights(pattern, &sewn, &x));
            if shown.is_none() {
                waist_slipped = slipped(&system, &x);
                shown = Some((sewn.clone(), x));
            }
        }
    }
    let (sewn, places) = shown.ok_or(PredictError::Nothing)?;
    let lines = lines(pattern, &read);
    let spread = lines.iter().flat_map(|l| l.stations.iter().map(|s| s.spread)).fold(0.0, f64::max);
    Ok(Prediction {
        lines,
        plus_minus: CLAIMED.max(spread),
        waist_slipped,
        body,
        sewn,
        places,
        settled,
    })
}

/// The marked lines as they run on the settled cloth: `piece: line` and places, for
/// a picture.
pub fn trace_lines(pattern: &Pattern, told: &Prediction) -> Vec<(String, Vec<Place>)> {
    const STEPS: usize = 40;
    let (placed, _) = pattern.place_lines();
    let of = |line: &hangtrue_pattern::PlacedLine| {
        let laid = Laid::of(pattern.piece(&line.piece).ok()?);
        let cloth = told.sewn.pieces.iter().find(|p| p.name == line.piece)?;
        let place = |k: usize| {
            let share = k as f64 / STEPS as f64;
            let p = laid.place(line.chain.point_at(share * line.chain.length()));
            let (t, shares) = cloth.mesh.locate(p)?;
            let corners = cloth.mesh.triangles[t].map(|c| told.places[cloth.vertex[c]]);
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
fn heights(pattern: &Pattern, sewn: &Sewn, x: &[Place]) -> Vec<Vec<f64>> {
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

fn lines(pattern: &Pattern, read: &[Vec<Vec<f64>>]) -> Vec<HangingLine> {
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
                let values = all.iter().map(|d| d[s]);
                let (low, high) = values
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
                let spread = 0.5 * (high - low);
                Station { along: STATIONS[s], height: shown[s], droop: own[s], spread }
            });
            Some(HangingLine {
                piece: line.piece.clone(),
                line: line.name.clone(),
                stations: stations.collect(),
            })
        })
        .collect()
}
