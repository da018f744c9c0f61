//! Measures taken from a flat pattern, as a maker would with a tape.

use crate::Compared;
use hangtrue_geometry::{Point, angle_between};
use hangtrue_pattern::{Pattern, Piece, names};
use serde::Serialize;

/// One measure of a pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Taken {
    /// Name in the trade's words.
    pub measure: String,
    /// mm; mm² where the name says area, degrees where it says lean.
    pub value: f64,
}

/// Every measure of the pattern a maker compares: seam by seam, area, waist,
/// hip, thigh, knee, hem, crotch depth and crotch lengths. Girths are of the
/// whole garment: both pieces, left and right.
pub fn take_measures(pattern: &Pattern) -> Vec<Taken> {
    let mut taken = Vec::new();
    let mut add = |measure: String, value: f64| taken.push(Taken { measure, value });
    for piece in &pattern.pieces {
        for seam in &piece.seams {
            add(format!("{} of the {}", seam.name, piece.name), seam.sewn_length());
        }
        add(format!("area of the {} (mm²)", piece.name), piece.signed_area().abs());
        if let Some(lean) = centre_lean(piece) {
            add(format!("centre seam lean of the {} (degrees)", piece.name), lean);
        }
        if let Some(depth) = crotch_depth(piece) {
            add(format!("crotch depth of the {}", piece.name), depth);
        }
    }
    if let Some(waist) = total(pattern, names::WAIST) {
        add("waist, whole".into(), 2.0 * waist);
    }
    if let Some(hem) = total(pattern, names::HEM) {
        add("hem, one leg".into(), hem);
    }
    if let Some(crotch) = total(pattern, names::CROTCH) {
        add("crotch seam, front and back".into(), crotch);
    }
    for (line, words, copies) in [
        (names::HIP_PAPER, "hip on the paper line, whole", 2.0),
        (names::THIGH, "thigh at its line, one leg", 1.0),
        (names::KNEE, "knee at its line, one leg", 1.0),
    ] {
        if let Some(width) = width_at_line(pattern, line) {
            add(words.into(), copies * width);
        }
    }
    taken
}

/// Compares the measures of two patterns that have a measure of the same name.
pub fn compare_measures(before: &Pattern, after: &Pattern) -> Vec<Compared> {
    let old = take_measures(before);
    let mut compared = Vec::with_capacity(old.len());
    for now in take_measures(after) {
        if let Some(was) = old.iter().find(|t| t.measure == now.measure) {
            compared.push(Compared { measure: now.measure, before: was.value, after: now.value });
        }
    }
    compared
}

/// Splits compared measures into those promised (by name) and those that changed
/// by more than a hair.
pub(crate) fn sort_measures(
    before: &Pattern,
    after: &Pattern,
    promised: &[String],
) -> (Vec<Compared>, Vec<Compared>) {
    /// A change below this is rounding, not a change, mm.
    const HAIR: f64 = 1e-3;
    let (kept, rest): (Vec<_>, Vec<_>) =
        compare_measures(before, after).into_iter().partition(|c| promised.contains(&c.measure));
    let changed = rest.into_iter().filter(|c| c.change().abs() > HAIR).collect();
    (kept, changed)
}

/// The name of a seam's length among the taken measures.
pub(crate) fn seam_measure(piece: &str, seam: &str) -> String {
    format!("{seam} of the {piece}")
}

fn total(pattern: &Pattern, seam: &str) -> Option<f64> {
    let lengths: Option<Vec<f64>> =
        pattern.pieces.iter().map(|p| p.seam(seam).ok().map(|s| s.sewn_length())).collect();
    lengths.filter(|l| !l.is_empty()).map(|l| l.iter().sum())
}

fn width_at_line(pattern: &Pattern, line: &str) -> Option<f64> {
    let widths: Option<Vec<f64>> = pattern
        .pieces
        .iter()
        .map(|p| pattern.place_chain(&p.name, line).ok().map(|c| c.length()))
        .collect();
    widths.filter(|w| !w.is_empty()).map(|w| w.iter().sum())
}

/// The lean of the centre seam from the grain at the waist, degrees; positive
/// when it leans away from the centre going down, as a back usually does.
fn centre_lean(piece: &Piece) -> Option<f64> {
    let crotch = piece.seam(names::CROTCH).ok()?;
    let down = crotch.parts.first()?.start_direction();
    let turn = angle_between(-piece.grain.direction(), down).to_degrees();
    Some(turn * -piece.orientation())
}

/// From the waist at the side seam down to the crotch point, along the grain, mm.
fn crotch_depth(piece: &Piece) -> Option<f64> {
    let top: Point = piece.corner(names::WAIST_SIDE).ok()?;
    let low = piece.corner(names::CROTCH_POINT).ok()?;
    Some((top - low).dot(piece.grain.direction()))
}
