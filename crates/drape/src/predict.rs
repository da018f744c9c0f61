//! How the marked lines of a pattern will hang on a body: predicted, not seen.

use crate::body::{self, Body, BodyError, Breadths, Handles};
use crate::carry::carry;
use crate::cloth::{Material, Position};
use crate::contact::Touch;
use crate::hanging::{CLAIMED, HangingLine, heights, lines};
use crate::mesh::Grid;
use crate::settle::{Limits, Progress, SettleError, Watch, settle};
use crate::sew::{SewError, Sewn, sew};
use crate::start::{Start, lay_on};
use crate::toile::{Band, forces, slipped};
use hangtrue_pattern::{Measures, Pattern};

/// What is settled, and how often.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
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

/// A toile at rest, on one mesh from one start.
#[derive(Debug, Clone)]
pub struct Rest {
    /// Which mesh and which start of the options.
    pub of: (usize, usize),
    /// The cloth.
    pub sewn: Sewn,
    /// Where its vertices came to rest.
    pub places: Vec<Position>,
    /// Whether the waist slipped from its level.
    pub slipped: bool,
    /// How the settling ended.
    pub ended: Progress,
}

/// A pattern settled on a body, from all starts asked for.
#[derive(Debug, Clone)]
pub struct Settled {
    /// The body.
    pub body: Body,
    /// At rest: the first is the one shown.
    pub first: Rest,
    /// From the other starts and on the other meshes.
    pub others: Vec<Rest>,
}

/// A prediction.
#[derive(Debug, Clone)]
pub struct Prediction {
    /// The lines that go to the cloth.
    pub lines: Vec<HangingLine>,
    /// The greatest ± of a line, mm.
    pub plus_minus: f64,
    /// Whether it began from an earlier rest, so that only one start was tried.
    pub began_earlier: bool,
}

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
    /// The content cannot be written down.
    #[error(
        "the pattern holds a number that cannot be written down; how it hangs cannot be worked out"
    )]
    NoContent,
    /// One pattern for both legs of a body whose sides differ.
    #[error(
        "one side of this body lies lower, so its legs hang unlike, and this pattern serves both with the same pieces: part left and right first"
    )]
    NeedsLegs,
    /// Nothing to settle on or from.
    #[error("give at least one mesh, one start and one step of bending")]
    Nothing,
}

/// Settles a pattern on a body, from every start and on every mesh.
///
/// # Errors
/// [`PredictError`].
pub fn settle_all(
    pattern: &Pattern,
    measures: &Measures,
    handles: &Handles,
    options: &Options,
    watch: &mut Watch,
) -> Result<Settled, PredictError> {
    check_legs(pattern, handles)?;
    let body = body::build(measures, &options.breadths, handles)?;
    let mut rests = Vec::new();
    for (g, grid) in options.grids.iter().enumerate() {
        let sewn = sew(pattern, *grid)?;
        // The finer question, whether meshes agree, needs one start of each.
        let starts = if g == 0 { options.starts.len() } else { 1 };
        for (s, start) in options.starts.iter().take(starts).enumerate() {
            let places = lay_on(&sewn, &body, *start);
            let easing = &options.easing;
            rests.push(rest((g, s), sewn.clone(), places, &body, easing, options, watch)?);
        }
    }
    let mut rests = rests.into_iter();
    let first = rests.next().ok_or(PredictError::Nothing)?;
    Ok(Settled { body, first, others: rests.collect() })
}

/// Settles a changed pattern on a body, once, from where it rested before the change.
/// A piece that was not there before is begun anew with all others.
///
/// # Errors
/// [`PredictError`].
pub fn settle_on(
    pattern: &Pattern,
    measures: &Measures,
    handles: &Handles,
    options: &Options,
    earlier: &Rest,
    watch: &mut Watch,
) -> Result<Settled, PredictError> {
    check_legs(pattern, handles)?;
    let body = body::build(measures, &options.breadths, handles)?;
    let (grid, start) =
        options.grids.first().zip(options.starts.first()).ok_or(PredictError::Nothing)?;
    let sewn = sew(pattern, *grid)?;
    let carried = carry(&sewn, &earlier.sewn, &earlier.places);
    let last = options.easing.len().saturating_sub(1);
    let easing = if carried.is_some() { &options.easing[last..] } else { &options.easing[..] };
    let places = carried.unwrap_or_else(|| lay_on(&sewn, &body, *start));
    let first = rest((0, 0), sewn, places, &body, easing, options, watch)?;
    Ok(Settled { body, first, others: Vec::new() })
}

/// A pattern that serves both legs is settled for one of them, so both must be alike.
fn check_legs(pattern: &Pattern, handles: &Handles) -> Result<(), PredictError> {
    if handles.lower_side == 0.0 || pattern.is_apart() {
        return Ok(());
    }
    Err(PredictError::NeedsLegs)
}

fn rest(
    of: (usize, usize),
    sewn: Sewn,
    mut places: Vec<Position>,
    body: &Body,
    easing: &[f64],
    options: &Options,
    watch: &mut Watch,
) -> Result<Rest, PredictError> {
    if easing.is_empty() {
        return Err(PredictError::Nothing);
    }
    let mut system = forces(&sewn, body, options.material, options.touch, options.band);
    let ended = settle(&mut system, &mut places, easing, options.limits, watch)?;
    let slipped = slipped(&system, &places);
    Ok(Rest { of, sewn, places, slipped, ended })
}

/// Reads the lines of a pattern on its toile at rest.
pub fn read(pattern: &Pattern, settled: &Settled) -> Prediction {
    let of = |rest: &Rest| heights(pattern, &rest.sewn, &rest.places);
    let mut all = vec![of(&settled.first)];
    all.extend(settled.others.iter().map(of));
    let lines = lines(pattern, &all);
    let plus_minus = lines.iter().map(|l| l.plus_minus).fold(CLAIMED, f64::max);
    Prediction { lines, plus_minus, began_earlier: false }
}

/// The least ± of a droop that was settled from an earlier rest, mm. A fold may have
/// stayed that a fresh start would not make: over 24 changes of six blocks and four of
/// the demo's, the most that both were apart was 6.2 mm (`docs/hang.md`).
pub const CLAIMED_ON: f64 = 6.5;

/// Reads the lines of a changed pattern whose toile began from an earlier rest: a line
/// claims no less a ± than it claimed then, nor than [`CLAIMED_ON`].
pub fn read_on(pattern: &Pattern, settled: &Settled, earlier: &Prediction) -> Prediction {
    let mut told = read(pattern, settled);
    for line in &mut told.lines {
        let before = earlier.lines.iter().find(|l| l.piece == line.piece && l.line == line.line);
        line.plus_minus = before.map_or(earlier.plus_minus, |b| b.plus_minus).max(CLAIMED_ON);
    }
    let plus_minus = told.lines.iter().map(|l| l.plus_minus).fold(CLAIMED, f64::max);
    Prediction { plus_minus, began_earlier: true, ..told }
}
