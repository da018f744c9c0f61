//! Top and scoop: the amount comes off the top of the centre seam, blended to
//! nothing before the side seam, and the crotch curve goes down by as much, so
//! that the crotch seam keeps its length.

use crate::FlatMeasure;
use crate::hook::{Hook, redraw};
use crate::take::sort_measures;
use crate::waist::{LEAST_INTAKE, hold_length_by_dart};
use crate::{ChangeError, LaidPinch, Outcome, Residue};
use hangtrue_geometry::Point;
#[cfg(test)]
use hangtrue_geometry::angle_between;
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{Pattern, Piece, Seam, names};
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use serde::{Deserialize, Serialize};

/// Parameters of the method. The waist seam runs from the side to the centre,
/// the crotch seam from the centre to the crotch point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TopAndScoop {
    /// How much the centre goes down along the centre seam, mm; negative lets
    /// out. None takes the largest amount of the pinch.
    pub amount: Option<f64>,
    /// The waist is unchanged up to this sewn distance from the side seam, mm.
    pub zero_from_side: f64,
    /// Whether the waist keeps its sewn length, by what the dart nearest the
    /// centre takes. A waist without a dart in the changed stretch cannot keep
    /// it; the change is then reported instead.
    pub keep_waist: bool,
}

impl TopAndScoop {
    /// The usual parameters in round numbers of the unit: zero is reached an inch, or
    /// 25 mm, from the side.
    pub fn usual(unit: Unit) -> Self {
        let zero_from_side = if unit.denominator().is_some() { INCH } else { 25.0 };
        Self { amount: None, zero_from_side, keep_waist: true }
    }
}

impl Default for TopAndScoop {
    fn default() -> Self {
        Self::usual(Unit::Mm)
    }
}

/// A segment shorter than this at the zero place is left from an earlier cut, mm.
const SLIVER: f64 = 1.0;

/// The stretch of waist that changes must be at least this long, mm.
const LEAST_STRETCH: f64 = 20.0;

/// Applies the method to the piece.
///
/// # Errors
/// [`ChangeError`] when the zero place is off the waist, the crotch curve cannot
/// take up the length, or the outline would break.
pub(crate) fn apply(
    pattern: &Pattern,
    piece_name: &str,
    laid: &LaidPinch,
    method: &TopAndScoop,
) -> Result<Outcome, ChangeError> {
    let (_, pinned) = laid.largest();
    let amount = method.amount.unwrap_or(pinned);
    let mut after = pattern.clone();
    let piece = after.piece_mut(piece_name)?;
    let waist_before = piece.seam(names::WAIST)?.sewn_length();
    let crotch_before = piece.seam(names::CROTCH)?.sewn_length();

    let hook = Hook::of(piece)?.with_top_lowered(amount)?;
    let new_top = hook.chain()?.start();
    let lowered = lower_waist(piece, amount, new_top, method.zero_from_side)?;
    *piece.seam_mut(names::WAIST)? = lowered.seam;
    let waist_held =
        method.keep_waist && hold_waist(piece, lowered.dart, method.zero_from_side, waist_before)?;
    let hook = hook.with_length(crotch_before, piece_name)?;
    let tight = redraw(piece, &hook)?;
    piece.check().map_err(ChangeError::BreaksPattern)?;

    let mut promised: Vec<FlatMeasure> = [names::CROTCH, names::INSEAM, names::HEM, names::SIDE]
        .iter()
        .map(|seam| FlatMeasure::seam(piece_name, seam))
        .collect();
    if waist_held {
        promised.push(FlatMeasure::seam(piece_name, names::WAIST));
    }
    let (kept, changed) = sort_measures(pattern, &after, &promised);
    let mut outcome = Outcome { kept, changed, ..Outcome::plain(after) };
    outcome.notes.push(words![
        "The centre seam keeps its lean and the crotch point its place; the waist is unchanged for ",
        (Length(method.zero_from_side), 0),
        " from the side seam."
    ]);
    if method.keep_waist && !waist_held {
        outcome.notes.push(
            "No dart in the changed stretch could hold the waist to its length; ease or stretch the difference to the waistband.".into(),
        );
    }
    outcome.notes.extend(tight);
    outcome.notes.extend(not_under_the_seat(pattern, piece_name, laid)?);
    let left = pinned - amount;
    if left.abs() > 0.05 {
        outcome.residue.push(Residue {
            words: words!["of the pinch on the ", piece_name, " not taken"],
            amount: left,
            unpinned: false,
        });
    }
    if amount < 0.0 {
        outcome.notes.extend(wider_for_length(&outcome));
    } else {
        outcome.notes.push(
            "The cloth under the seat is lifted, not cut away: some softness below the seat may stay."
                .into(),
        );
    }
    outcome.hold_to_promise()
}

/// A crotch curve that is filled makes the seat wider, where only length was lacking.
fn wider_for_length(outcome: &Outcome) -> Option<Words> {
    let hip = outcome.changed.iter().find(|c| c.measure == FlatMeasure::HipOnPaper)?;
    let wider = hip.change();
    (wider > crate::SEEN).then(|| {
        words![
            "The crotch curve is filled to keep its length, and the hip grows by ",
            Length(wider),
            " with it: where length alone is lacking, slash and lap gives it with less."
        ]
    })
}

/// The method lifts cloth out from under the seat; a pinch elsewhere is told so.
fn not_under_the_seat(
    pattern: &Pattern,
    piece_name: &str,
    laid: &LaidPinch,
) -> Result<Option<Words>, ChangeError> {
    /// A pinch this far below the crotch point is no longer under the seat, mm.
    const UNDER_THE_SEAT: f64 = 150.0;
    let piece = pattern.piece(piece_name)?;
    let middle = laid.path.point_at(laid.path.length() / 2.0);
    let below = (piece.corner(names::CROTCH_POINT)? - middle).dot(piece.grain.direction());
    let far = below > UNDER_THE_SEAT;
    Ok(far.then(|| {
        words![
            "The pinch lies ",
            (Length(below), 0),
            " below the crotch point; this method lifts cloth out from under the seat and may not reach it."
        ]
    }))
}

struct LoweredWaist {
    seam: Seam,
    /// The dart nearest the centre within the changed stretch.
    dart: Option<usize>,
}

/// The waist seam with its centre end at `new_top`, unchanged for `zero` mm from
/// the side. Between, every end slides by the amount faded smoothly to nothing:
/// dart legs slide along themselves, so a dart keeps its angle and the edges
/// that met it fairly still do.
fn lower_waist(
    piece: &Piece,
    amount: f64,
    new_top: Point,
    zero: f64,
) -> Result<LoweredWaist, ChangeError> {
    let seam = piece.seam(names::WAIST)?;
    let length = seam.sewn_length();
    if !(0.0..=length - LEAST_STRETCH).contains(&zero) {
        return Err(ChangeError::OutOfReach {
            what: format!(
                "the place before the side seam where the waist of the {} is unchanged",
                piece.name
            ),
            asked: Length(zero),
            low: Length(0.0),
            high: Length(length - LEAST_STRETCH),
        });
    }
    let fade = |position: f64| {
        let f = ((position - zero) / (length - zero)).clamp(0.0, 1.0);
        f * f * (3.0 - 2.0 * f)
    };
    let mut lowered = seam.clone();
    let mut position = 0.0;
    let mut dart = None;
    for index in 0..seam.parts.len() {
        let part = &seam.parts[index];
        let end = position + part.length();
        if end > zero {
            let slide = |p: Point, at: f64, side: Option<usize>| match side {
                Some(d) => p + (seam.darts[d].apex - p).normalize() * (amount * fade(at)),
                None => p,
            };
            let from_dart = index.checked_sub(1);
            let to_dart = (index < seam.darts.len()).then_some(index);
            let new_end = if to_dart.is_some() { slide(part.end(), end, to_dart) } else { new_top };
            lowered.parts[index] = if position >= zero {
                let new_start = slide(part.start(), position, from_dart);
                part.with_ends_keeping_directions(new_start, new_end)
            } else {
                let what = || ChangeError::geometry("redrawing the waist");
                let (still, moving) = part.split_at(zero - position).map_err(what())?;
                let moving = moving.without_short_start(SLIVER);
                let moved = moving.with_ends_keeping_directions(moving.start(), new_end);
                still.then(&moved).map_err(what())?
            };
            if let Some(d) = from_dart.filter(|_| position > zero) {
                dart = Some(d);
            }
        }
        position = end;
    }
    if lowered.darts.iter().enumerate().any(|(i, _)| lowered.leg_lengths(i).0 < 2.0 * LEAST_INTAKE)
    {
        return Err(ChangeError::OutOfReach {
            what: "lowering the waist over a dart".into(),
            asked: Length(amount),
            low: Length(f64::NEG_INFINITY),
            high: Length(0.0),
        });
    }
    Ok(LoweredWaist { seam: lowered, dart })
}

/// Lets the dart bring the sewn waist back to `length` mm. True when it could.
fn hold_waist(
    piece: &mut Piece,
    dart: Option<usize>,
    still: f64,
    length: f64,
) -> Result<bool, ChangeError> {
    let seam = piece.seam_mut(names::WAIST)?;
    let held = dart.and_then(|dart| hold_length_by_dart(seam, dart, still, length));
    Ok(held.map(|held| *seam = held).is_some())
}

/// The angle between waist and centre seam inside the piece, radians.
#[cfg(test)]
fn centre_angle(piece: &Piece) -> f64 {
    let waist = piece.seam(names::WAIST).unwrap();
    let crotch = piece.seam(names::CROTCH).unwrap();
    let back = -waist.parts[waist.parts.len() - 1].end_direction();
    angle_between(back, crotch.parts[0].start_direction()).abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Pinch, sample};
    use hangtrue_geometry::bends_one_way;
    use hangtrue_pattern::End;
    use hangtrue_pattern::names::*;

    fn run(amount: f64) -> Result<(Pattern, Outcome), ChangeError> {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("seat", BACK, THIGH, amount).lay(&pattern)?;
        let outcome = apply(&pattern, BACK, &laid, &TopAndScoop::default())?;
        Ok((pattern, outcome))
    }

    #[test]
    fn three_eighths_off_the_top_keeps_the_crotch_seam() {
        let (before, outcome) = run(9.525).unwrap();
        let (old, new) = (before.piece(BACK).unwrap(), outcome.pattern.piece(BACK).unwrap());
        let (c0, c1) = (old.corner(WAIST_CENTRE).unwrap(), new.corner(WAIST_CENTRE).unwrap());
        assert!((c0.distance(c1) - 9.525).abs() < 1e-9);
        let (s0, s1) = (old.seam(CROTCH).unwrap(), new.seam(CROTCH).unwrap());
        assert!((s0.sewn_length() - s1.sewn_length()).abs() < 1e-6);
        assert_eq!(old.seam(SIDE).unwrap(), new.seam(SIDE).unwrap());
        assert!(bends_one_way(&s1.parts[0], 1e-6));
        assert!((centre_angle(old) - centre_angle(new)).abs() < 1e-9);
        let zero = TopAndScoop::default().zero_from_side;
        let waist = |p: &Piece, s| p.seam(WAIST).unwrap().place(End::Start, s).point;
        assert!(waist(old, zero).distance(waist(new, zero)) < 1e-6);
        assert!(
            outcome.kept.iter().any(|k| k.measure == FlatMeasure::seam(names::BACK, names::WAIST))
        );
        assert!(outcome.kept.iter().all(|k| k.change().abs() < 1e-6));
        // The hook goes down: the curve lies below the old one half way along.
        let low = |p: &Piece| p.seam(CROTCH).unwrap().parts[0].bounds().y0;
        assert!(low(new) <= low(old) + 1e-9);
        assert!(new.signed_area() < old.signed_area());
    }

    #[test]
    fn letting_out_works_too() {
        let (before, outcome) = run(-6.35).unwrap();
        let (old, new) = (before.piece(BACK).unwrap(), outcome.pattern.piece(BACK).unwrap());
        assert!(new.corner(WAIST_CENTRE).unwrap().y > old.corner(WAIST_CENTRE).unwrap().y);
        assert!(outcome.kept.iter().all(|k| k.change().abs() < 1e-6));
    }

    #[test]
    fn a_zero_place_past_the_waist_is_refused() {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("seat", BACK, THIGH, 9.5).lay(&pattern).unwrap();
        let method = TopAndScoop { zero_from_side: 400.0, ..TopAndScoop::default() };
        let fault = apply(&pattern, BACK, &laid, &method).unwrap_err();
        assert!(matches!(fault, ChangeError::OutOfReach { .. }), "{fault}");
    }
}
