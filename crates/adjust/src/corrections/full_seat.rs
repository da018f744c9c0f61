//! Full seat: length and room for a seat that stands out.

use super::bench::Bench;
use super::centre_back_waist::centre_back_out;
use super::shape::Fade;
use super::{About, Chapter, Recipe};
use crate::ChangeError;
use crate::hook::Hook;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Full seat: length and room for a seat that stands out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullSeat {
    /// Length put in at the centre back (half as much at the back crotch point), mm.
    pub amount: f64,
}

impl Recipe for FullSeat {
    const ABOUT: About = About {
        name: "full seat",
        place: Chapter::Seat,
        what: "adds length over the centre back and in the back crotch for a rounded seat, leans the centre back more and deepens the darts",
        amount: "length put in at the centre back (half as much at the back crotch point)",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Opens the back as a wedge across the seat would, to nothing at the side: the centre back rises and leans more, the top of the side comes out by as much and a quarter of the amount more, which the darts take; waist and side keep their lengths. The back crotch point moves out.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        seat_by(bench, self.amount)?;
        Ok(())
    }
}

/// How much wider the darts of the back become together, for each mm of length (our choice,
/// from memory: what stands out farther is a greater difference to the waist).
const DARTS_TAKE: f64 = 0.25;

/// A step of the work, by an amount.
type Step = fn(&mut Bench<'_>, f64) -> Result<(), ChangeError>;

/// Raises the centre back by `amount` mm, leans it more and gives the darts more, and moves
/// the back crotch point out by half of it; a flat seat is the opposite. The lean is that of a
/// wedge of so much length, opened at the centre back and closed at the side: what the top of
/// the centre back goes in, the top of the side comes out, and at the hip line as much as the
/// lean takes there, so that hip and waist stay. The opposite amount goes the same way back,
/// step by step from the last to the first.
pub(super) fn seat_by(bench: &mut Bench<'_>, amount: f64) -> Result<(), ChangeError> {
    let mut steps: [Step; 4] = [
        |bench, by| centre_back_out(bench, -by),
        side_follows,
        |bench, by| bench.lower_waist(BACK, 0.0, -by),
        |bench, by| bench.extend_crotch_point(BACK, 0.5 * by),
    ];
    if amount < 0.0 {
        steps.reverse();
    }
    for step in steps {
        step(bench, amount)?;
    }
    bench.hold_waist(BACK)?;
    bench.promise(BACK, &[SIDE, INSEAM, HEM]);
    bench.promise(FRONT, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
    Ok(())
}

/// Lets the side out by what a lean of `by` mm at the top of the centre back takes of the hip,
/// and at the waist by as much as that and what the darts are to take more.
fn side_follows(bench: &mut Bench<'_>, by: f64) -> Result<(), ChangeError> {
    let levels = bench.levels(BACK)?;
    let back = bench.piece(BACK)?;
    let hook = Hook::of(back)?;
    let darts = if back.seam(WAIST)?.darts.is_empty() { 0.0 } else { DARTS_TAKE };
    // The share of the centre line's height at which the hip line meets it.
    let share = ((levels.hip - hook.knee().y) / (hook.top().y - hook.knee().y)).clamp(0.0, 1.0);
    let fade = Fade::flat(&[
        (levels.crotch, 0.0),
        (levels.hip, share * by),
        (levels.whole, (1.0 + darts) * by),
    ])?;
    bench.widen(BACK, SIDE, &fade)?;
    bench.hold_side_at_waist(BACK)
}
