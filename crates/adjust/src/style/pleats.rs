//! Width put in at the front of the waist, from nothing at the knee, and laid in pleats.

use crate::corrections::bench::{Bench, tie};
use crate::corrections::shape::Fade;
use crate::waist::fair_over_dart;
use crate::{ChangeError, FlatMeasure};
use hangtrue_geometry::{Affine, Chain, Line, Point, Vec2};
use hangtrue_pattern::names::{
    BACK, CROTCH, FRONT, HEM, INSEAM, PLEAT, SECOND_PLEAT, SIDE, WAIST, is_pleat,
};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Dart, Fold, Seam};

/// The waist beside a pleat is at least this long, mm.
const LEAST_BESIDE: f64 = 14.0;
/// A pleat that no dart is laid into is at least this deep, mm.
const LEAST_PLEAT: f64 = 8.0;
/// What the pleats are called, from the crease to the side.
const CALLED: [&str; 2] = [PLEAT, SECOND_PLEAT];

/// Puts the width in and lays it in pleats, which share it so, from the crease to the side.
pub(super) fn laid_in_pleats(
    bench: &mut Bench<'_>,
    style: &str,
    (amount, shares): (f64, &[f64]),
) -> Result<(), ChangeError> {
    let levels = bench.levels(FRONT)?;
    let was = bench.piece(FRONT)?.clone();
    let mut waist = was.seam(WAIST)?.clone();
    if let Some(pleat) = waist.darts.iter().find(|dart| is_pleat(&dart.name)) {
        return Err(ChangeError::NameTaken { name: pleat.name.clone() });
    }
    let darted = waist.darts.len().min(shares.len());
    let least = shares[darted..].iter().fold(0.0, |most: f64, share| most.max(LEAST_PLEAT / share));
    if amount < least {
        return Err(ChangeError::OutOfReach {
            what: format!(
                "{style}, where the front has {darted} darts to lay in it: what is put in"
            ),
            asked: Length(amount),
            low: Length(least),
            high: Length(f64::INFINITY),
        });
    }
    let slope = amount / (levels.waist - levels.knee);
    let knots = [
        (levels.hem, 0.0, 0.0),
        (levels.knee, 0.0, 0.0),
        (levels.hip, slope * (levels.hip - levels.knee), slope),
        (levels.waist, amount, slope),
    ];
    bench.widen(FRONT, SIDE, &Fade::sloped(&knots)?)?;
    bench.hold_side_at_waist(FRONT)?;
    let moved = bench.piece(FRONT)?.seam(SIDE)?.end() - was.seam(SIDE)?.end();
    // From the crease to the side; the waist starts at the side.
    let crease = Line::new(was.grain.from, was.grain.to);
    let mut at = waist.darts.len();
    for index in 0..shares.len() {
        at = match at.checked_sub(1) {
            Some(dart) => dart,
            None => placed(&mut waist, (index == 0).then_some(crease))?,
        };
    }
    for (index, share) in shares.iter().enumerate() {
        let pleat = at + shares.len() - 1 - index;
        let out = Affine::translate(moved * *share);
        for part in &mut waist.parts[..=pleat] {
            *part = part.moved(out);
        }
        for dart in &mut waist.darts[..pleat] {
            dart.apex = out * dart.apex;
        }
        waist.darts[pleat].name = CALLED[index].to_owned();
    }
    for pleat in at..at + shares.len() {
        let (a, b) = (waist.parts[pleat].end(), waist.parts[pleat + 1].start());
        waist.darts[pleat].apex = below(a, b, levels.knee);
        // The waist runs in one line when the pleat is laid.
        fair_over_dart(&mut waist, pleat);
    }
    let piece = bench.piece_mut(FRONT)?;
    *piece.seam_mut(WAIST)? = waist;
    tie(piece)?;
    bench.hold_waist(FRONT)?;
    bench.promise(FRONT, &[SIDE, CROTCH, INSEAM, HEM]);
    bench.promise(BACK, &[WAIST, SIDE, CROTCH, INSEAM, HEM]);
    bench.promise_measure(FlatMeasure::KNEE);
    if amount > 0.0 {
        let hip = amount * (levels.hip - levels.knee) / (levels.waist - levels.knee);
        let (of, opens) = if shares.len() == 1 {
            ("Of each pleat ", "where it opens")
        } else {
            ("Of the pleats of each front ", "where they open")
        };
        bench.note(words![of, Length(hip), " is at the hip, ", opens, " when the wearer sits."]);
    }
    bench.note("Only the top of a pleat is sewn down; it is marked by its two edges at the waist.");
    Ok(())
}

/// A place for a pleat in the first part of the waist, which ends at the pleat before it: on
/// the crease, or half way. Gives its index, the first.
fn placed(waist: &mut Seam, crease: Option<Line>) -> Result<usize, ChangeError> {
    let part: &Chain = &waist.parts[0];
    let met = crease.and_then(|crease| part.crossings_with_line(crease).into_iter().next());
    let place = met.map_or(0.5 * part.length(), |c| c.here);
    let most = part.length() - LEAST_BESIDE;
    let place = place.clamp(LEAST_BESIDE.min(most), most);
    let (one, other) = part.split_at(place).map_err(ChangeError::geometry("placing a pleat"))?;
    waist.parts.splice(0..=0, [one, other]);
    let dart = Dart { name: String::new(), apex: Point::ORIGIN, fold: Fold::ToEnd };
    waist.darts.insert(0, dart);
    Ok(0)
}

/// The place at a level that is equally far from two others.
fn below(a: Point, b: Point, level: f64) -> Point {
    let (middle, along) = (a.midpoint(b), b - a);
    // On the line through the middle, square to what joins them.
    let square = Vec2::new(-along.y, along.x);
    let share = if square.y.abs() < 1e-9 { 0.0 } else { (level - middle.y) / square.y };
    middle + square * share
}
