//! Measures taken from a flat pattern, as a maker would with a tape.

use crate::Compared;
use hangtrue_geometry::{Point, angle_between};
use hangtrue_pattern::{Leg, Pattern, Piece, names};
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
/// whole garment: both pieces, left and right. A parted pattern has those of one
/// leg for each.
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
    // What serves both legs counts twice.
    let (legs, copies): (Vec<Option<Leg>>, f64) =
        if pattern.is_apart() { (Leg::BOTH.map(Some).to_vec(), 1.0) } else { (vec![None], 2.0) };
    let whole = |of: &dyn Fn(Option<Leg>) -> Option<f64>| -> Option<f64> {
        legs.iter().map(|leg| of(*leg)).sum::<Option<f64>>().map(|sum| copies * sum)
    };
    if let Some(waist) = whole(&|leg| total(pattern, leg, names::WAIST)) {
        add("waist, whole".into(), waist);
    }
    let mut of_a_leg = |words: &str, of: &dyn Fn(Option<Leg>) -> Option<f64>| {
        for leg in &legs {
            if let Some(value) = of(*leg) {
                add(leg.map_or_else(|| words.to_owned(), |leg| of_one_leg(words, leg)), value);
            }
        }
    };
    of_a_leg("hem, one leg", &|leg| total(pattern, leg, names::HEM));
    of_a_leg(CROTCH_SEAM, &|leg| total(pattern, leg, names::CROTCH));
    for (line, words) in
        [(names::THIGH, "thigh at its line, one leg"), (names::KNEE, "knee at its line, one leg")]
    {
        of_a_leg(words, &|leg| width_at_line(pattern, leg, line));
    }
    if let Some(hip) = whole(&|leg| width_at_line(pattern, leg, names::HIP_PAPER)) {
        add("hip on the paper line, whole".into(), hip);
    }
    taken
}

/// A measure of one leg, though its name does not say so.
const CROTCH_SEAM: &str = "crotch seam, front and back";

/// The name of a measure of one leg when each leg has its own.
fn of_one_leg(words: &str, leg: Leg) -> String {
    match words.strip_suffix("one leg") {
        Some(start) => format!("{start}{} leg", leg.word()),
        None => format!("{words}, {} leg", leg.word()),
    }
}

/// The name in the parted pattern of a measure taken on one leg alone.
pub(crate) fn for_leg(measure: &str, apart: &Pattern, leg: Leg) -> String {
    const OF: &str = " of the ";
    if measure.ends_with("one leg") || measure == CROTCH_SEAM {
        return of_one_leg(measure, leg);
    }
    let Some(at) = measure.rfind(OF) else { return measure.to_owned() };
    let (start, rest) = measure.split_at(at + OF.len());
    let (piece, unit) = rest.split_at(rest.find(" (").unwrap_or(rest.len()));
    match apart.piece_for(leg, piece) {
        Some(name) => format!("{start}{name}{unit}"),
        None => measure.to_owned(),
    }
}

/// Compares the measures of two patterns that have a measure of the same name.
/// When only one of them is parted, the other is parted for the comparison.
pub fn compare_measures(before: &Pattern, after: &Pattern) -> Vec<Compared> {
    let (before, after) = (before.apart_like(after), after.apart_like(before));
    let old = take_measures(&before);
    let mut compared = Vec::with_capacity(old.len());
    for now in take_measures(&after) {
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

fn total(pattern: &Pattern, leg: Option<Leg>, seam: &str) -> Option<f64> {
    let lengths: Option<Vec<f64>> =
        pieces_of(pattern, leg).map(|p| p.seam(seam).ok().map(|s| s.sewn_length())).collect();
    lengths.filter(|l| !l.is_empty()).map(|l| l.iter().sum())
}

/// The pieces of that leg, or all.
fn pieces_of(pattern: &Pattern, leg: Option<Leg>) -> impl Iterator<Item = &Piece> {
    pattern.pieces.iter().map(|p| &**p).filter(move |p| leg.is_none() || p.leg() == leg)
}

fn width_at_line(pattern: &Pattern, leg: Option<Leg>, line: &str) -> Option<f64> {
    let widths: Option<Vec<f64>> = pieces_of(pattern, leg)
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
