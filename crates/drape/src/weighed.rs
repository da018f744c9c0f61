//! What a change would do to the marked lines on a body, before it is made: predicted,
//! not seen.
//!
//! Two settlings of the same toile may differ by more than a change moves a line, so the
//! toile before and after is settled from the same starts on the same meshes, each pair is
//! taken for itself, and only what differs between the two is told.

use crate::body::Handles;
use crate::hanging::{LineHeights, STATIONS, droops, line_heights};
use crate::predict::{Options, PredictError, Rest, Settled, settle_all};
use crate::settle::Watch;
use hangtrue_pattern::{Measures, Pattern};

/// What a change does at a place of a line.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct WeighedPlace {
    /// How far along the line from its inner end, 0 to 1.
    pub along: f64,
    /// How far it hangs below the line between the line's two ends before, mm.
    pub before: f64,
    /// How much lower against those ends it hangs afterwards, mm; below nought is higher.
    pub droops_more: f64,
    /// How much lower over the floor it lies afterwards, mm.
    pub falls: f64,
    /// The most that a start or mesh differs from `droops_more`, mm.
    pub spread: f64,
}

/// What a change does to a line.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct WeighedLine {
    /// The piece.
    pub piece: String,
    /// The line.
    pub line: String,
    /// Its places, from the inner end to the side.
    pub places: Vec<WeighedPlace>,
    /// The ± to be claimed for what the change does, mm: [`CLAIMED_WEIGHED`], or more
    /// where starts and meshes differ by more.
    pub plus_minus: f64,
}

impl WeighedLine {
    /// The place where the droop changes most.
    pub fn most(&self) -> Option<&WeighedPlace> {
        self.places.iter().max_by(|a, b| a.droops_more.abs().total_cmp(&b.droops_more.abs()))
    }

    /// Whether anything is told of it: a change no larger than its ± is none that can be
    /// told.
    pub fn tells(&self) -> bool {
        self.most().is_some_and(|place| place.droops_more.abs() > self.plus_minus)
    }
}

/// A change weighed on a body.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Weighed {
    /// The lines that both toiles have.
    pub lines: Vec<WeighedLine>,
    /// Whether the waist slips before and after: such a toile should not be read.
    pub waist_slips: [bool; 2],
    /// So many pairs were settled.
    pub pairs: usize,
}

/// No change of a droop is claimed finer than this, mm: the same block on the same body on
/// a shifted mesh, nothing changed, differed by up to 4.0 mm from one start (five survey
/// bodies, 25 mm mesh; `docs/hang.md`).
pub const CLAIMED_WEIGHED: f64 = 4.0;

/// Settles a changed pattern on the body of an earlier settling, from its starts and on its
/// meshes, and takes the differences.
///
/// # Errors
/// [`PredictError`].
pub fn weigh(
    pattern: &Pattern,
    before: &Settled,
    changed: &Pattern,
    measures: &Measures,
    handles: &Handles,
    options: &Options,
    watch: &mut Watch,
) -> Result<Weighed, PredictError> {
    let after = settle_all(changed, measures, handles, options, watch)?;
    Ok(differences((pattern, before), (changed, &after)))
}

/// What differs between two settled toiles, start by start.
pub fn differences(before: (&Pattern, &Settled), after: (&Pattern, &Settled)) -> Weighed {
    let rests = |settled: &Settled| -> Vec<Rest> {
        std::iter::once(&settled.first).chain(&settled.others).cloned().collect()
    };
    let (old, new) = (rests(before.1), rests(after.1));
    let pairs: Vec<[Vec<LineHeights>; 2]> = old
        .iter()
        .filter_map(|o| Some((o, new.iter().find(|n| n.of == o.of)?)))
        .map(|(o, n)| {
            [line_heights(before.0, &o.sewn, &o.places), line_heights(after.0, &n.sewn, &n.places)]
        })
        .collect();
    let lines = pairs.first().map_or(&[][..], |p| &p[0][..]);
    let lines = lines.iter().filter_map(|line| weighed_line(line, &pairs)).collect();
    let slips = |rests: &[Rest]| rests.first().is_some_and(|r| r.slipped);
    Weighed { lines, waist_slips: [slips(&old), slips(&new)], pairs: pairs.len() }
}

/// A line over all pairs; none where a toile does not have it.
fn weighed_line(line: &LineHeights, pairs: &[[Vec<LineHeights>; 2]]) -> Option<WeighedLine> {
    let same = |l: &&LineHeights| l.piece == line.piece && l.line == line.line;
    let mut drooped: Vec<[Vec<f64>; 2]> = Vec::new();
    let mut heights: Vec<[&[f64]; 2]> = Vec::new();
    for pair in pairs {
        let (old, new) = (pair[0].iter().find(same)?, pair[1].iter().find(same)?);
        drooped.push([droops(&old.heights), droops(&new.heights)]);
        heights.push([&old.heights, &new.heights]);
    }
    let count = pairs.len().max(1) as f64;
    let mean = |values: &mut dyn Iterator<Item = f64>| values.sum::<f64>() / count;
    let place = |(s, along): (usize, f64)| {
        let more = || drooped.iter().map(|d| d[1][s] - d[0][s]);
        let droops_more = mean(&mut more());
        WeighedPlace {
            along,
            before: mean(&mut drooped.iter().map(|d| d[0][s])),
            droops_more,
            falls: mean(&mut heights.iter().map(|h| h[0][s] - h[1][s])),
            spread: more().map(|m| (m - droops_more).abs()).fold(0.0, f64::max),
        }
    };
    let places: Vec<WeighedPlace> = STATIONS.into_iter().enumerate().map(place).collect();
    let plus_minus = places.iter().map(|p| p.spread).fold(CLAIMED_WEIGHED, f64::max);
    Some(WeighedLine { piece: line.piece.clone(), line: line.line.clone(), places, plus_minus })
}
