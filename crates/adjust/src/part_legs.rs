//! Left and right apart, and together again.

use crate::leg_difference::leg_differences;
use crate::take::changed_measures;
use crate::{ChangeError, Outcome, compare_measures};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{JoinSide, Leg, Pattern};
use serde::{Deserialize, Serialize};

/// Gives every piece a left and a right of its own, for a body that is not the
/// same on both sides. Nothing moves: the right pieces are what was drawn, the
/// left ones its mirror image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartLegs;

/// Lets one piece serve both legs again.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JoinLegs {
    /// The leg whose pieces serve both; none refuses while the legs differ.
    pub from: Option<Leg>,
    /// Legs that differ by no more than this anywhere are the same, mm.
    pub within: f64,
}

/// The legs are the same when nothing differs by more, mm: what walking a seam
/// calls true.
pub const SAME_LEGS: f64 = crate::LENGTH_TRUE;

impl Default for JoinLegs {
    fn default() -> Self {
        Self { from: None, within: SAME_LEGS }
    }
}

impl PartLegs {
    /// Applies the change.
    ///
    /// # Errors
    /// [`hangtrue_pattern::PatternError::AlreadyApart`], or `NameInUse` when a piece
    /// is already called what a new one would be.
    pub(crate) fn apply(self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let after = pattern.apart()?;
        after.check().map_err(ChangeError::BreaksPattern)?;
        let kept = compare_measures(pattern, &after);
        let notes = vec![
            "Nothing has moved. Cut each piece once, printed side up; a change that names the back means both legs, one that names the back left means that leg.".into(),
        ];
        Outcome { kept, notes, ..Outcome::plain(after) }.hold_to_promise()
    }
}

impl JoinLegs {
    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError::NotApart`]; [`ChangeError::LegsDiffer`] with what differs
    /// when no leg is chosen; [`ChangeError::SewnAcross`] when a left piece is
    /// sewn to a right one of another kind, or a parted piece to one for both.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        if !pattern.is_apart() {
            return Err(ChangeError::NotApart { wanted: "putting left and right together".into() });
        }
        if !(self.within.is_finite() && self.within >= 0.0) {
            return Err(ChangeError::OutOfReach {
                what: "the difference that still counts as the same".into(),
                asked: Length(self.within),
                low: Length(0.0),
                high: Length(f64::INFINITY),
            });
        }
        refuse_what_one_leg_cannot_hold(pattern)?;
        let differences = leg_differences(pattern, self.within)?;
        let from = match (self.from, differences.is_empty()) {
            (Some(leg), _) => leg,
            (None, true) => Leg::Right,
            (None, false) => {
                return Err(ChangeError::LegsDiffer { within: Length(self.within), differences });
            }
        };
        let mut after = pattern.one_leg(from);
        keep_what_serves_both(pattern, &mut after);
        after.check().map_err(ChangeError::BreaksPattern)?;
        let changed = changed_measures(pattern, &after);
        let lost = differences.iter().map(|d| format!("Given up: {d}."));
        let mut notes = vec![format!("Both legs are now as the {} one was.", from.word())];
        notes.extend(lost);
        Ok(Outcome {
            changed,
            notes: notes.into_iter().map(Into::into).collect(),
            ..Outcome::plain(after)
        })
    }
}

/// Seams that sew a left piece to a right one of another kind, or a parted piece
/// to one that serves both legs, have no place in a pattern of one leg.
fn refuse_what_one_leg_cannot_hold(pattern: &Pattern) -> Result<(), ChangeError> {
    let parted = |side: &JoinSide| pattern.piece(&side.piece).ok().and_then(|p| p.parted.as_ref());
    for join in &pattern.joins {
        let Some(second) = &join.second else { continue };
        let fits = match (parted(&join.first), parted(second)) {
            (None, None) => true,
            (Some(a), Some(b)) if a.leg == b.leg => true,
            (Some(a), Some(b)) => {
                a.from == b.from
                    && (&join.first.seam, join.first.from) == (&second.seam, second.from)
            }
            _ => false,
        };
        if !fits {
            return Err(ChangeError::SewnAcross { join: join.name.clone() });
        }
    }
    Ok(())
}

/// Pieces brought in since the parting serve both legs and stay as they are.
fn keep_what_serves_both(pattern: &Pattern, after: &mut Pattern) {
    let serves_both = |piece: &str| pattern.piece(piece).is_ok_and(|p| p.parted.is_none());
    after.pieces.extend(pattern.pieces.iter().filter(|p| p.parted.is_none()).cloned());
    let joins = pattern.joins.iter().filter(|j| j.sides().all(|s| serves_both(&s.piece)));
    after.joins.extend(joins.cloned());
    after.lines.extend(pattern.lines.iter().filter(|l| serves_both(&l.piece)).cloned());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Draw, MoveCorner};
    use crate::{Change, OneLeg, read_as_sewn, sample, walk_all};
    use hangtrue_geometry::Vec2;
    use hangtrue_pattern::names::*;
    use hangtrue_pattern::{Rule, rule};

    fn apart() -> Pattern {
        Change::PartLegs(PartLegs).apply(&sample::pattern()).unwrap().pattern
    }

    #[test]
    fn apart_and_together_is_the_pattern_itself() {
        let mut whole = sample::pattern();
        whole.remember_lines();
        for from in [None, Some(Leg::Left), Some(Leg::Right)] {
            let together = JoinLegs { from, within: 0.0 }.apply(&apart()).unwrap();
            assert_eq!(together.pattern, whole);
            assert!(together.changed.is_empty());
        }
    }

    #[test]
    fn parting_keeps_every_measure_of_the_garment() {
        let outcome = Change::PartLegs(PartLegs).apply(&sample::pattern()).unwrap();
        assert!(outcome.kept.len() > 30);
        assert!(outcome.kept.iter().all(|k| k.change() == 0.0), "{:?}", outcome.kept);
        for name in ["waist, whole", "hem, left leg", "side of the front right"] {
            assert!(outcome.kept.iter().any(|k| k.measure.to_string() == name), "{name}");
        }
    }

    #[test]
    fn left_and_right_walk_and_read_as_the_mirror_image_did() {
        let (whole, apart) = (sample::pattern(), apart());
        let (before, after) = (walk_all(&whole).unwrap(), walk_all(&apart).unwrap());
        assert_eq!(after.len(), 6);
        for walked in &after {
            let name = walked.join.trim_end_matches(" left").trim_end_matches(" right");
            let was = before.iter().find(|w| w.join == name).unwrap();
            assert_eq!((walked.first, walked.second), (was.first, was.second));
            assert_eq!(walked.corners.len(), was.corners.len(), "{}", walked.join);
            for (a, b) in walked.corners.iter().zip(&was.corners) {
                assert!((a.off - b.off).abs() < 1e-9 && a.is_true == b.is_true);
            }
        }
        let (before, after) = (read_as_sewn(&whole).unwrap(), read_as_sewn(&apart).unwrap());
        assert_eq!(after.iter().filter(|r| r.join == "centre back").count(), 1);
        for reading in &after {
            let name = reading.join.trim_end_matches(" left").trim_end_matches(" right");
            let was = before.iter().find(|r| r.join == name && r.line == reading.line).unwrap();
            assert!(
                (reading.kink - was.kink).abs() < 1e-9 && (reading.step - was.step).abs() < 1e-9
            );
        }
    }

    #[test]
    fn a_line_lower_on_one_leg_steps_at_the_centre_back() {
        let mut apart = apart();
        apart.lines.change_where(
            |line| line.piece == "back left" && line.name == HIP_BALANCE,
            |line| {
                if let Rule::EqualDepth(rule::EqualDepth { depth, .. }) = &mut line.rule {
                    *depth += 6.0;
                }
            },
        );
        let readings = read_as_sewn(&apart).unwrap();
        let at = |join: &str| {
            readings.iter().find(|r| r.line == HIP_BALANCE && r.join == join).unwrap().step
        };
        // The left back comes first, so its mate goes on higher.
        assert!((at("centre back") + 6.0).abs() < 1e-6);
        assert!((at("side seam left") + 6.0).abs() < 1e-6);
        assert!(at("side seam right").abs() < 1e-9);
    }

    #[test]
    fn legs_that_differ_are_named_in_mm_and_the_chosen_one_is_taken() {
        let whole = sample::pattern();
        let corner = whole.piece(BACK).unwrap().corner(HEM_SIDE).unwrap();
        let to = corner - Vec2::new(0.0, 8.0);
        let step = MoveCorner { piece: BACK.into(), corner: HEM_SIDE.into(), to };
        let change = Box::new(Change::Draw(Draw::MoveCorner(step)));
        let uneven = OneLeg { leg: Leg::Left, change }.apply(&apart()).unwrap().pattern;
        let refused = JoinLegs::default().apply(&uneven).unwrap_err();
        let ChangeError::LegsDiffer { differences, .. } = &refused else { panic!("{refused}") };
        assert!(differences.iter().any(|d| d.what.contains(HEM_SIDE) && (d.mm - 8.0).abs() < 1e-9));
        assert!(refused.to_string().contains("side of the back"), "{refused}");
        let lengths = |p: &Pattern| p.piece(BACK).unwrap().seam(SIDE).unwrap().sewn_length();
        let joined =
            |from| JoinLegs { from: Some(from), within: 0.5 }.apply(&uneven).unwrap().pattern;
        assert_eq!(lengths(&joined(Leg::Right)), lengths(&whole));
        assert!((lengths(&joined(Leg::Left)) - lengths(&whole)).abs() > 5.0);
        // Within a tolerance that is wide enough they count as the same.
        assert!(JoinLegs { from: None, within: 10.0 }.apply(&uneven).is_ok());
        assert!(matches!(JoinLegs::default().apply(&whole), Err(ChangeError::NotApart { .. })));
        assert!(JoinLegs { from: None, within: f64::NAN }.apply(&uneven).is_err());
    }
}
