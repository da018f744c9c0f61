//! A change of one leg of a parted pattern, and of both.
//!
//! Each leg is looked at as if it served both, under the names it had before the
//! parting ([`Pattern::one_leg`]), so every change can be made on one leg without
//! knowing that there are two. The other leg stays as it is, to the last digit.

use crate::take::sort_measures;
use crate::{Change, ChangeError, FlatMeasure, Outcome};
use hangtrue_pattern::words;
use hangtrue_pattern::{Leg, Pattern};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// A change made on one leg alone. It names pieces and joins as they were before
/// the parting: the back, the side seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OneLeg {
    /// The leg.
    pub leg: Leg,
    /// The change.
    pub change: Box<Change>,
}

impl OneLeg {
    /// Applies the change to its leg.
    ///
    /// # Errors
    /// [`ChangeError::NotApart`] when the pieces serve both legs,
    /// [`ChangeError::NotForOneLeg`] for a change of the whole pattern, and what
    /// the change itself refuses.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        if !pattern.is_apart() {
            return Err(ChangeError::NotApart { wanted: format!("the {} leg", self.leg.word()) });
        }
        let whole = matches!(
            *self.change,
            Change::PartLegs(_)
                | Change::JoinLegs(_)
                | Change::OneLeg(_)
                | Change::BringIn(_)
                | Change::CloseRound(_)
        );
        if whole {
            return Err(ChangeError::NotForOneLeg);
        }
        on_legs(pattern, &[self.leg], |one| self.change.apply(one))
    }
}

/// What a change names of the pattern it is made on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Named<'a> {
    /// A piece.
    Piece(&'a str),
    /// A join.
    Join(&'a str),
}

impl Named<'_> {
    /// Whether it is not there, but was before the legs were parted.
    fn is_of_both_legs(self, pattern: &Pattern) -> bool {
        match self {
            Self::Piece(name) => pattern.piece(name).is_err() && pattern.was_parted_from(name),
            Self::Join(name) => {
                let mut joins = pattern.joins.iter();
                joins.clone().all(|j| j.name != name)
                    && joins.any(|j| pattern.join_before_parting(j) == Some(name))
            }
        }
    }
}

/// Makes a change on the pattern as it stands; when it names a piece or a join as
/// it was before the parting, on the left leg and then on the right.
///
/// # Errors
/// What the change refuses on either leg; nothing is changed then.
pub(crate) fn on_named_legs(
    pattern: &Pattern,
    named: &[Named<'_>],
    change: impl Fn(&Pattern) -> Result<Outcome, ChangeError>,
) -> Result<Outcome, ChangeError> {
    if named.iter().any(|n| n.is_of_both_legs(pattern)) {
        on_legs(pattern, &Leg::BOTH, change)
    } else {
        change(pattern)
    }
}

/// The pattern a piece is looked at in: the pattern itself, or, when the piece is
/// named as it was before the parting, each leg by itself.
pub fn legs_named<'a>(pattern: &'a Pattern, piece: &str) -> Vec<(Option<Leg>, Cow<'a, Pattern>)> {
    if pattern.piece(piece).is_err() && pattern.was_parted_from(piece) {
        return Leg::BOTH.map(|leg| (Some(leg), Cow::Owned(pattern.one_leg(leg)))).to_vec();
    }
    vec![(None, Cow::Borrowed(pattern))]
}

/// Makes a change on each of the legs and lays it back.
pub(crate) fn on_legs(
    pattern: &Pattern,
    legs: &[Leg],
    change: impl Fn(&Pattern) -> Result<Outcome, ChangeError>,
) -> Result<Outcome, ChangeError> {
    let mut after = pattern.clone();
    let mut outcome = Outcome::plain(Pattern::default());
    let mut promised: Vec<FlatMeasure> = Vec::new();
    for &leg in legs {
        let done = change(&after.one_leg(leg))?;
        after = after.with_leg(leg, &done.pattern);
        promised.extend(done.kept.into_iter().map(|k| k.measure.on_leg(&after, leg)));
        outcome.residue.extend(done.residue.into_iter().map(|mut residue| {
            residue.words = residue.words.and(format!(", {} leg", leg.word()));
            residue
        }));
        for note in done.notes {
            // What is said of both legs is said once.
            let note = if legs.len() == 1 {
                words![format!("On the {} leg: ", leg.word()), note]
            } else {
                note
            };
            if !outcome.notes.contains(&note) {
                outcome.notes.push(note);
            }
        }
    }
    let (kept, changed) = sort_measures(pattern, &after, &promised);
    Ok(Outcome { pattern: after, kept, changed, ..outcome })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Method, Pinch, PinchChange, TrueLength, sample, walk_all};
    use hangtrue_pattern::names::*;
    use hangtrue_pattern::units::Unit;

    fn seat(piece: &str, amount: f64, method: Method) -> Change {
        let pinch = Pinch::in_the_middle("seat", piece, THIGH, amount);
        Change::Pinch(PinchChange { pinch, method })
    }

    /// Lines may come in another order.
    fn sorted(mut pattern: Pattern) -> Pattern {
        pattern.lines.sort_by(|a, b| (&a.piece, &a.name).cmp(&(&b.piece, &b.name)));
        pattern
    }

    #[test]
    fn parting_and_changing_both_legs_is_changing_and_parting() {
        let whole = sample::pattern();
        let apart = whole.apart().unwrap();
        for method in Method::all(Unit::Mm) {
            let change = seat(BACK, 6.0, method);
            let both = change.apply(&apart).unwrap();
            let first = change.apply(&whole).unwrap().pattern.apart().unwrap();
            assert_eq!(sorted(both.pattern), sorted(first));
            assert!(both.kept.iter().any(|k| k.measure == FlatMeasure::seam("back left", CROTCH)));
        }
        let change = TrueLength {
            join: "side seam".into(),
            side: crate::Side::Second,
            at_matched_end: false,
        };
        let both = Change::TrueLength(change.clone()).apply(&apart).unwrap().pattern;
        let first = Change::TrueLength(change).apply(&whole).unwrap().pattern.apart().unwrap();
        assert_eq!(sorted(both), sorted(first));
    }

    #[test]
    fn a_change_of_one_leg_leaves_the_other_exact_and_says_so() {
        let apart = sample::pattern().apart().unwrap();
        for leg in Leg::BOTH {
            for method in Method::all(Unit::Mm) {
                let change = Box::new(seat(BACK, 6.0, method));
                let outcome = Change::OneLeg(OneLeg { leg, change }).apply(&apart).unwrap();
                let after = outcome.pattern;
                let mut still = apart.one_leg(leg.other());
                still.remember_lines();
                assert_eq!(after.one_leg(leg.other()), still);
                assert_ne!(after.one_leg(leg).pieces, apart.one_leg(leg).pieces);
                let other = format!("back {}", leg.other().word());
                assert!(outcome.changed.iter().all(|c| c.measure.piece() != Some(other.as_str())));
                after.check().unwrap();
            }
        }
    }

    #[test]
    fn naming_the_piece_of_a_leg_is_a_change_of_that_leg() {
        let apart = sample::pattern().apart().unwrap();
        let method = || Method::TopAndScoop(Default::default());
        let named = seat("back left", 6.0, method()).apply(&apart).unwrap().pattern;
        let change = Box::new(seat(BACK, 6.0, method()));
        let by_leg =
            Change::OneLeg(OneLeg { leg: Leg::Left, change }).apply(&apart).unwrap().pattern;
        for (a, b) in named.pieces.iter().zip(&by_leg.pieces) {
            for (s, t) in a.seams.iter().zip(&b.seams) {
                assert!((s.sewn_length() - t.sewn_length()).abs() < 1e-6);
                assert!(s.start().distance(t.start()) < 1e-6);
            }
        }
        // The centre back still matches: the crotch seam keeps its length.
        let walked = walk_all(&named).unwrap();
        assert!(walked.iter().find(|w| w.join == "centre back").unwrap().difference.abs() < 1e-6);
    }

    #[test]
    fn what_is_for_the_whole_pattern_is_refused_on_one_leg() {
        let apart = sample::pattern().apart().unwrap();
        let close = crate::CloseRound { date: "2026-01-02".into(), note: String::new() };
        let one = |change: Change| OneLeg { leg: Leg::Left, change: Box::new(change) };
        let whole = one(Change::CloseRound(close)).apply(&apart).unwrap_err();
        assert_eq!(whole, ChangeError::NotForOneLeg);
        let pinch = one(seat(BACK, 6.0, Method::TopAndScoop(Default::default())));
        let shared = pinch.apply(&sample::pattern()).unwrap_err();
        assert!(matches!(shared, ChangeError::NotApart { .. }), "{shared}");
        let missing = one(seat("yoke", 6.0, Method::TopAndScoop(Default::default())));
        assert!(matches!(missing.apply(&apart), Err(ChangeError::Pattern(_))));
    }
}
