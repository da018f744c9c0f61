//! Front pleat: width is put in at the front of the waist, from nothing at the knee, and
//! laid in a pleat.

use super::{AboutStyle, Look};
use crate::corrections::bench::{Bench, tie};
use crate::corrections::shape::Fade;
use crate::waist::fair_over_dart;
use crate::{ChangeError, FlatMeasure};
use hangtrue_geometry::{Line, Point, Vec2};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, PLEAT, SIDE, WAIST};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Dart, Fold};
use serde::{Deserialize, Serialize};

/// Front pleat: width is put in at the front of the waist, from nothing at the knee, and
/// laid in a pleat. A dart that is there becomes part of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontPleat {
    /// Width put in at the waist of each front, mm.
    pub amount: f64,
}

/// The waist beside a pleat is at least this long, mm.
const LEAST_BESIDE: f64 = 14.0;

impl Look for FrontPleat {
    const ABOUT: AboutStyle = AboutStyle {
        name: "front pleat",
        what: "puts a pleat in the front, from the waist to nothing at the knee",
        amount: "width put in at the waist of each front; a dart there is laid into the pleat with it",
        effect: "Moves the side of the front out, from nothing at the knee to the amount at the waist, and lays what that gives in a pleat on the crease, or where the dart was. The waist as it is sewn stays.",
        range: (10.0, 60.0),
        usual: (30.0, 1.25),
        without_amount: false,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let levels = bench.levels(FRONT)?;
        let was = bench.piece(FRONT)?.clone();
        let slope = self.amount / (levels.waist - levels.knee);
        let knots = [
            (levels.hem, 0.0, 0.0),
            (levels.knee, 0.0, 0.0),
            (levels.hip, slope * (levels.hip - levels.knee), slope),
            (levels.waist, self.amount, slope),
        ];
        bench.widen(FRONT, SIDE, &Fade::sloped(&knots)?)?;
        bench.hold_side_at_waist(FRONT)?;
        let moved = bench.piece(FRONT)?.seam(SIDE)?.end() - was.seam(SIDE)?.end();
        let mut waist = was.seam(WAIST)?.clone();
        // The part of the waist towards the side goes with the side; it starts there.
        let at = match waist.darts.len().checked_sub(1) {
            Some(last) => last,
            None => {
                let crease = Line::new(was.grain.from, was.grain.to);
                let met = waist.parts[0].crossings_with_line(crease).into_iter().next();
                let place = met.map_or(0.5 * waist.parts[0].length(), |c| c.here);
                let most = waist.parts[0].length() - LEAST_BESIDE;
                let place = place.clamp(LEAST_BESIDE.min(most), most);
                let halves = waist.parts[0].split_at(place);
                let (one, other) = halves.map_err(ChangeError::geometry("placing a pleat"))?;
                waist.parts = vec![one, other];
                waist.darts.push(Dart {
                    name: PLEAT.to_owned(),
                    apex: Point::ORIGIN,
                    fold: Fold::ToEnd,
                });
                0
            }
        };
        let out = hangtrue_geometry::Affine::translate(moved);
        for part in &mut waist.parts[..=at] {
            *part = part.moved(out);
        }
        for dart in &mut waist.darts[..at] {
            dart.apex = out * dart.apex;
        }
        let (a, b) = (waist.parts[at].end(), waist.parts[at + 1].start());
        waist.darts[at].name = PLEAT.to_owned();
        waist.darts[at].apex = below(a, b, levels.knee);
        // The waist runs in one line when the pleat is laid.
        fair_over_dart(&mut waist, at);
        let piece = bench.piece_mut(FRONT)?;
        *piece.seam_mut(WAIST)? = waist;
        tie(piece)?;
        bench.hold_waist(FRONT)?;
        bench.promise(FRONT, &[SIDE, CROTCH, INSEAM, HEM]);
        bench.promise(BACK, &[WAIST, SIDE, CROTCH, INSEAM, HEM]);
        bench.promise_measure(FlatMeasure::KNEE);
        let hip = self.amount * (levels.hip - levels.knee) / (levels.waist - levels.knee);
        bench.note(words![
            "Of each pleat ",
            Length(hip),
            " is at the hip, where it opens when the wearer sits. Only the top of a pleat is sewn down; it is marked by its two edges at the waist."
        ]);
        Ok(())
    }
}

/// The place at a level that is equally far from two others.
fn below(a: Point, b: Point, level: f64) -> Point {
    let (middle, along) = (a.midpoint(b), b - a);
    // On the line through the middle, square to what joins them.
    let square = Vec2::new(-along.y, along.x);
    let share = if square.y.abs() < 1e-9 { 0.0 } else { (level - middle.y) / square.y };
    middle + square * share
}
