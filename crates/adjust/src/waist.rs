//! Darts of a waist: opening and narrowing them while the edge stays fair.

use hangtrue_geometry::{Chain, angle_between, bracketed_root, turn_about, turned};
use hangtrue_pattern::Seam;

/// A dart may be narrowed to this intake and no further, mm.
pub(crate) const LEAST_INTAKE: f64 = 0.5;

/// A dart may grow by this much and no further, mm.
pub(crate) const MOST_DART_GROWTH: f64 = 15.0;

/// Widens or narrows dart `index`, about its apex and evenly on both legs, until
/// the seam is sewn to `length` mm; the first `still` mm are not touched. None
/// when the dart cannot do it.
pub(crate) fn hold_length_by_dart(
    seam: &Seam,
    index: usize,
    still: f64,
    length: f64,
) -> Option<Seam> {
    let leg = seam.leg_lengths(index).0;
    let angle = seam.dart_angle(index);
    let low = (LEAST_INTAKE / leg - angle).min(0.0);
    let high = MOST_DART_GROWTH / leg;
    let miss = |by: f64| with_dart_opened(seam, index, still, by).sewn_length() - length;
    let by = bracketed_root(miss, low, high, 1e-14).ok()?;
    Some(with_dart_opened(seam, index, still, by))
}

/// The seam with dart `index` opened by `by` radians more (less when negative),
/// half on each leg; the edges beside it turn with their leg ends so that they
/// still meet the legs as they did. The first `still` mm of the seam are not
/// touched.
pub(crate) fn with_dart_opened(seam: &Seam, index: usize, still: f64, by: f64) -> Seam {
    let apex = seam.darts[index].apex;
    let opens = if seam.closing_turn(index) < 0.0 { 1.0 } else { -1.0 };
    let turn = |part: &Chain, at_end: bool, angle: f64| {
        let m = turn_about(apex, angle);
        let (a, b) = (part.start(), part.end());
        let (leave, arrive) = (part.start_direction(), part.end_direction());
        if at_end {
            part.with_ends(a, m * b).aimed(leave, turned(arrive, angle))
        } else {
            part.with_ends(m * a, b).aimed(turned(leave, angle), arrive)
        }
    };
    let mut opened = seam.clone();
    let before: f64 = seam.parts[..index].iter().map(Chain::length).sum();
    opened.parts[index] = match seam.parts[index].split_at(still - before) {
        Ok((held, free)) => {
            let free = free.without_short_start(1.0);
            let turned = turn(&free, true, -opens * by / 2.0);
            held.then(&turned).unwrap_or_else(|_| seam.parts[index].clone())
        }
        Err(_) => turn(&seam.parts[index], true, -opens * by / 2.0),
    };
    opened.parts[index + 1] = turn(&seam.parts[index + 1], false, opens * by / 2.0);
    opened
}

/// Turns the ends of the two edges at dart `index`, each by half of what is
/// wrong, so that they make one smooth line when the dart is closed.
pub(crate) fn fair_over_dart(seam: &mut Seam, index: usize) {
    let closing = seam.closing_turn(index);
    let arrive = seam.parts[index].end_direction();
    let leave = seam.parts[index + 1].start_direction();
    let wrong = angle_between(arrive, turned(leave, closing));
    let first = &seam.parts[index];
    seam.parts[index] = first.aimed(first.start_direction(), turned(arrive, wrong / 2.0));
    let second = &seam.parts[index + 1];
    seam.parts[index + 1] = second.aimed(turned(leave, -wrong / 2.0), second.end_direction());
}

/// How far the edge turns at dart `index` when the dart is closed, radians: 0
/// when it is fair.
pub(crate) fn turn_over_dart(seam: &Seam, index: usize) -> f64 {
    let leave = turned(seam.parts[index + 1].start_direction(), seam.closing_turn(index));
    angle_between(seam.parts[index].end_direction(), leave)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::names::*;

    #[test]
    fn a_dart_holds_the_waist_to_a_length() {
        let pattern = sample::pattern();
        let seam = pattern.piece(BACK).unwrap().seam(WAIST).unwrap();
        for by in [-4.0, 3.0] {
            let held = hold_length_by_dart(seam, 0, 0.0, seam.sewn_length() + by).unwrap();
            assert!((held.sewn_length() - seam.sewn_length() - by).abs() < 1e-6);
            assert!((held.leg_lengths(0).0 - seam.leg_lengths(0).0).abs() < 1e-9);
            assert!((held.intake(0) < seam.intake(0)) == (by > 0.0));
            assert!(turn_over_dart(&held, 0).abs() < 1e-9);
        }
        assert!(hold_length_by_dart(seam, 0, 0.0, seam.sewn_length() + 100.0).is_none());
    }

    #[test]
    fn fairing_takes_the_corner_out() {
        let pattern = sample::pattern();
        let mut seam = pattern.piece(BACK).unwrap().seam(WAIST).unwrap().clone();
        let bent = seam.parts[0].end_direction();
        seam.parts[0] = seam.parts[0].aimed(seam.parts[0].start_direction(), turned(bent, 0.1));
        assert!(turn_over_dart(&seam, 0).abs() > 0.09);
        fair_over_dart(&mut seam, 0);
        assert!(turn_over_dart(&seam, 0).abs() < 1e-9);
    }
}
