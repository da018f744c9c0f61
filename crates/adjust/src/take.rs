//! Measures taken from a flat pattern, as a maker would with a tape.

use crate::{Compared, FlatMeasure, LegMeasure};
use hangtrue_geometry::{Point, angle_between};
use hangtrue_pattern::{Leg, Pattern, Piece, names};
use serde::Serialize;

/// One measure of a pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Taken {
    /// What it is the measure of.
    pub measure: FlatMeasure,
    /// In the unit of its [quantity](FlatMeasure::quantity): mm, mm² or degrees.
    pub value: f64,
}

/// Every measure of the pattern a maker compares: seam by seam, area, waist,
/// hip, thigh, knee, hem, crotch depth and crotch lengths. Girths are of the
/// whole garment: both pieces, left and right. A parted pattern has those of one
/// leg for each.
pub fn take_measures(pattern: &Pattern) -> Vec<Taken> {
    let mut taken = Vec::new();
    let mut add = |measure: FlatMeasure, value: f64| taken.push(Taken { measure, value });
    for piece in &pattern.pieces {
        for seam in &piece.seams {
            add(FlatMeasure::seam(&piece.name, &seam.name), seam.sewn_length());
        }
        add(FlatMeasure::Area(piece.name.clone()), piece.signed_area().abs());
        if let Some(lean) = centre_lean(piece) {
            add(FlatMeasure::CentreLean(piece.name.clone()), lean);
        }
        if let Some(depth) = crotch_depth(piece) {
            add(FlatMeasure::CrotchDepth(piece.name.clone()), depth);
        }
    }
    // What serves both legs counts twice.
    let (legs, copies): (Vec<Option<Leg>>, f64) =
        if pattern.is_apart() { (Leg::BOTH.map(Some).to_vec(), 1.0) } else { (vec![None], 2.0) };
    let whole = |of: &dyn Fn(Option<Leg>) -> Option<f64>| -> Option<f64> {
        legs.iter().map(|leg| of(*leg)).sum::<Option<f64>>().map(|sum| copies * sum)
    };
    if let Some(waist) = whole(&|leg| total(pattern, leg, names::WAIST)) {
        add(FlatMeasure::Waist, waist);
    }
    let mut of_a_leg = |measure: LegMeasure, of: &dyn Fn(Option<Leg>) -> Option<f64>| {
        for leg in &legs {
            if let Some(value) = of(*leg) {
                add(FlatMeasure::OfLeg { of: measure, leg: *leg }, value);
            }
        }
    };
    of_a_leg(LegMeasure::Hem, &|leg| total(pattern, leg, names::HEM));
    of_a_leg(LegMeasure::CrotchSeam, &|leg| total(pattern, leg, names::CROTCH));
    for (line, measure) in [(names::THIGH, LegMeasure::Thigh), (names::KNEE, LegMeasure::Knee)] {
        of_a_leg(measure, &|leg| width_at_line(pattern, leg, line));
    }
    if let Some(hip) = whole(&|leg| width_at_line(pattern, leg, names::HIP)) {
        add(FlatMeasure::HipOnPaper, hip);
    }
    taken
}

/// Compares the measures of two patterns that have the same measure.
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

/// Those of the compared measures that changed by more than rounding.
pub(crate) fn changed_measures(before: &Pattern, after: &Pattern) -> Vec<Compared> {
    compare_measures(before, after).into_iter().filter(Compared::has_changed).collect()
}

/// Splits compared measures into those promised and those that changed
/// by more than a hair.
pub(crate) fn sort_measures(
    before: &Pattern,
    after: &Pattern,
    promised: &[FlatMeasure],
) -> (Vec<Compared>, Vec<Compared>) {
    let (kept, rest): (Vec<_>, Vec<_>) =
        compare_measures(before, after).into_iter().partition(|c| promised.contains(&c.measure));
    let changed = rest.into_iter().filter(Compared::has_changed).collect();
    (kept, changed)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{UsualDepths, usual_lines};
    use hangtrue_pattern::{Measure, Measures, Plan, draft};

    /// A project from before the line got its name is measured as it was.
    #[test]
    fn the_hip_line_is_measured_under_its_older_names_too() {
        let body: Measures = [
            (Measure::WaistGirth, 780.0),
            (Measure::HipGirth, 1020.0),
            (Measure::WaistHeight, 1040.0),
            (Measure::InsideLegHeight, 780.0),
            (Measure::CrotchLength, 670.0),
        ]
        .into_iter()
        .collect();
        let mut pattern = draft(&body, &Plan::default()).unwrap().pattern;
        pattern.lines = usual_lines(&pattern, UsualDepths::default()).unwrap().into();
        let hip = |pattern: &Pattern| {
            let taken = take_measures(pattern);
            taken.into_iter().find(|t| t.measure == FlatMeasure::HipOnPaper).map(|t| t.value)
        };
        let now = hip(&pattern);
        assert!(now.is_some_and(|w| w > 1000.0), "{now:?}");
        let called = |name: &str| {
            let mut lines: Vec<_> = pattern.lines.iter().cloned().collect();
            for line in lines.iter_mut().filter(|l| l.name == names::HIP) {
                line.name = name.into();
            }
            Pattern { lines: lines.into(), ..pattern.clone() }
        };
        for older in ["full hip on paper", "hip on paper"] {
            assert_eq!(hip(&called(older)), now, "{older}");
        }
        assert_eq!(hip(&called("another")), None);
    }
}
