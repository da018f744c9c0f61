//! A real toile, measured, against the prediction: place by place, each with its ±.

use crate::hanging::{CLAIMED, cloth_lines, places_along};
use crate::predict::{CLAIMED_ON, Prediction, Rest, Settled};
use hangtrue_adjust::reading::{Droop, HangLine, PieceView};
use hangtrue_pattern::{Leg, Pattern, PlacedLine};

/// A droop read this near to the side seam, as a share of the line, is the one the others
/// are set against.
const AT_SIDE: f64 = 0.12;

/// One place, measured and predicted.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ComparedPlace {
    /// The line.
    pub line: HangLine,
    /// On back or front.
    pub view: PieceView,
    /// The wearer's leg.
    pub leg: Leg,
    /// How far from the inner end to the side, 0 to 1.
    pub at: f64,
    /// How far below its place at the side seam the line was measured to hang, mm.
    pub measured: f64,
    /// ± of that, mm.
    pub measured_error: f64,
    /// How far below its place at the side seam it is predicted to hang, mm.
    pub predicted: f64,
    /// ± of that, mm.
    pub predicted_error: f64,
}

impl ComparedPlace {
    /// How much lower it hangs than predicted, mm.
    pub fn lower(&self) -> f64 {
        self.measured - self.predicted
    }

    /// ± of that, mm: the root of both squares.
    pub fn error(&self) -> f64 {
        self.measured_error.hypot(self.predicted_error)
    }

    /// Whether both say the same within what they claim.
    pub fn agrees(&self) -> bool {
        self.lower().abs() <= self.error()
    }
}

/// What was measured and cannot be compared, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct LeftOut {
    /// The line.
    pub line: HangLine,
    /// On back or front.
    pub view: PieceView,
    /// The wearer's leg.
    pub leg: Leg,
    /// Why.
    pub why: &'static str,
}

/// A measured toile against its prediction.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Compared {
    /// The places that can be compared.
    pub places: Vec<ComparedPlace>,
    /// What cannot.
    pub left_out: Vec<LeftOut>,
}

impl Compared {
    /// How many places agree within what both claim.
    pub fn agree(&self) -> usize {
        self.places.iter().filter(|p| p.agrees()).count()
    }

    /// The mean of how much lower the toile hangs than predicted, and the root of the
    /// mean square, mm; none without a place.
    pub fn off(&self) -> Option<(f64, f64)> {
        let count = self.places.len() as f64;
        let lower = || self.places.iter().map(ComparedPlace::lower);
        (count > 0.0).then(|| {
            (lower().sum::<f64>() / count, (lower().map(|l| l * l).sum::<f64>() / count).sqrt())
        })
    }
}

/// Sets measured droops beside the prediction. Droops are against level, so both are
/// taken from the place at the side seam: where that was not measured, nothing is
/// compared.
pub fn compare(
    pattern: &Pattern,
    settled: &Settled,
    told: &Prediction,
    measured: &[Droop],
) -> Compared {
    let lines = cloth_lines(pattern);
    let mut compared = Compared::default();
    let mut groups: Vec<(HangLine, PieceView, Leg)> = Vec::new();
    for droop in measured {
        let group = (droop.line, droop.view, droop.leg);
        if !groups.contains(&group) {
            groups.push(group);
        }
    }
    for (line, view, leg) in groups {
        let own: Vec<&Droop> =
            measured.iter().filter(|d| (d.line, d.view, d.leg) == (line, view, leg)).collect();
        match group(pattern, &lines, settled, told, &own) {
            Ok(places) => compared.places.extend(places),
            Err(why) => compared.left_out.push(LeftOut { line, view, leg, why }),
        }
    }
    compared
}

fn group(
    pattern: &Pattern,
    lines: &[PlacedLine],
    settled: &Settled,
    told: &Prediction,
    own: &[&Droop],
) -> Result<Vec<ComparedPlace>, &'static str> {
    let first = own.first().ok_or("nothing was measured")?;
    let base = first.view.piece();
    let piece = pattern.piece_for(first.leg, base).unwrap_or(base);
    let line = lines
        .iter()
        .find(|l| l.piece == piece && l.name == first.line.name())
        .ok_or("no such line goes to the cloth, so none is predicted")?;
    let nearest = |d: &&&Droop| 1.0 - d.at;
    let side = own
        .iter()
        .filter(|d| nearest(d) <= AT_SIDE)
        .max_by(|a, b| a.at.total_cmp(&b.at))
        .ok_or("its place at the side seam was not measured")?;
    let least = if told.began_earlier { CLAIMED_ON } else { CLAIMED };
    let heights = |rest: &Rest, at: f64| -> Option<f64> {
        let places = places_along(pattern, line, &[side.at, at], &rest.sewn, &rest.places)?;
        Some(places[0].z - places[1].z)
    };
    let mut found = Vec::new();
    for droop in own.iter().filter(|d| d.at < side.at) {
        let predicted = heights(&settled.first, droop.at).ok_or("it leaves the cloth")?;
        let others = settled.others.iter().filter_map(|rest| heights(rest, droop.at));
        let spread = others.map(|h| (h - predicted).abs()).fold(least, f64::max);
        found.push(ComparedPlace {
            line: droop.line,
            view: droop.view,
            leg: droop.leg,
            at: droop.at,
            measured: droop.mm - side.mm,
            measured_error: droop.error.hypot(side.error),
            predicted,
            predicted_error: spread,
        });
    }
    if found.is_empty() { Err("only its place at the side seam was measured") } else { Ok(found) }
}
