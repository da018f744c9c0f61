//! Marking reference lines, and the usual set of them.

use crate::{ChangeError, Outcome};
use hangtrue_geometry::Line;
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::{
    End, Leg, Pattern, PatternError, Piece, Place, Purpose, ReferenceLine, Rule, SeamPlace, names,
    rule,
};
use serde::{Deserialize, Serialize};

/// Adds a reference line, or replaces the one of the same name on the same piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkLine {
    /// The line.
    pub line: ReferenceLine,
}

/// Takes a reference line away.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EraseLine {
    /// The piece.
    pub piece: String,
    /// The line's name.
    pub line: String,
}

impl MarkLine {
    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError::Pattern`] when the rule cannot be met on the pattern as it
    /// is: a line is never marked where it cannot lie.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let mut after = pattern.clone();
        let piece = &self.line.piece;
        after.lines.remove(piece, &self.line.name);
        for older in names::other_names(&self.line.name) {
            if pattern.lines.named(piece, older).is_some_and(|line| self.is_that(line)) {
                after.lines.remove(piece, older);
            }
        }
        // Marked anew a line lies by its rule, wherever it lay on the cloth.
        after.lines.push(ReferenceLine { last: None, cloth: None, ..self.line.clone() });
        after.place_chain(piece, &self.line.name)?;
        Ok(Outcome::plain(after))
    }

    /// Whether a line of an older project by another name is the line that is marked. A
    /// maker of that time may have called a line of their own "hip": it is taken for
    /// another unless both lie by the same kind of rule.
    fn is_that(&self, older: &ReferenceLine) -> bool {
        older.name == names::HIP_BALANCE_BEFORE
            || std::mem::discriminant(&older.rule) == std::mem::discriminant(&self.line.rule)
    }
}

impl EraseLine {
    /// Applies the change.
    ///
    /// # Errors
    /// [`PatternError::NoLine`] when there is no such line.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let found = pattern.line(&self.piece, &self.line)?.name.clone();
        let mut after = pattern.clone();
        after.lines.remove(&self.piece, &found);
        Ok(Outcome::plain(after))
    }
}

/// Where the usual lines lie, mm; what is not said follows from the pattern.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct UsualDepths {
    /// The hip balance line below the waist, along the side seam and along the centre seam.
    pub hip_balance: Option<f64>,
    /// The thigh line below the crotch point.
    pub thigh: Option<f64>,
    /// In whose round numbers they are where they follow from the pattern.
    pub unit: Unit,
}

/// The hip balance line lies at this part of the way from the waist down to the hip line,
/// along the side seam: 5 1/2 in on a mid-size adult (common practice, no published source);
/// `tests/tests/usual_depths.rs` holds the demo’s body to half an inch of it.
const BALANCE_SHARE: f64 = 0.75;

/// The same part of the way from the waist down to the crotch point, where the side seam has
/// no notch at the hip line (0.7 of that way is a usual hip line, memory).
const BALANCE_OF_RISE: f64 = 0.7 * BALANCE_SHARE;

/// The thigh line lies at this part of the inseam below the crotch point: about 2 in on a
/// mid-size adult (common practice, no published source).
const THIGH_SHARE: f64 = 0.075;

impl UsualDepths {
    /// What follows from the pattern in round numbers of the unit: 5 mm, or 1/4 in.
    pub fn of(unit: Unit) -> Self {
        Self { unit, ..Self::default() }
    }

    fn hip_balance_on(&self, pattern: &Pattern) -> Result<f64, PatternError> {
        if let Some(chosen) = self.hip_balance {
            return Ok(chosen);
        }
        let mut least = f64::INFINITY;
        for piece in &pattern.pieces {
            let hip = piece.notches.iter().find(|n| n.name == "hip" && n.seam == names::SIDE);
            let side = piece.seam(names::SIDE)?;
            let depth = match hip {
                Some(n) => {
                    let position = side.place(n.from, n.distance).position;
                    BALANCE_SHARE * side.distance_from(End::End, position)
                }
                None => BALANCE_OF_RISE * rise(piece)?,
            };
            least = least.min(depth);
        }
        Ok(self.round(least))
    }

    fn thigh_on(&self, pattern: &Pattern) -> Result<f64, PatternError> {
        if let Some(chosen) = self.thigh {
            return Ok(chosen);
        }
        let mut least = f64::INFINITY;
        for piece in &pattern.pieces {
            least = least.min(piece.seam(names::INSEAM)?.sewn_length());
        }
        Ok(self.round(THIGH_SHARE * least))
    }

    /// The nearest round number of the unit, one step at the least.
    fn round(&self, mm: f64) -> f64 {
        let step = if self.unit.denominator().is_some() { INCH / 4.0 } else { 5.0 };
        (mm / step).round().max(1.0) * step
    }
}

/// Names of the notches the block puts on the side seam at hip and knee level.
const LEVEL_NOTCHES: [(&str, &str); 2] = [("hip", names::HIP), ("knee", names::KNEE)];

/// The usual reference lines of a trouser pattern: hip balance and thigh on every
/// piece, knee and hip line where the side seam has a notch at that level.
///
/// The thigh line hangs from the crotch point of the piece whose crotch point is
/// highest; on the others it starts at the matching place of the side seam, so
/// that it goes on without a step when the side seam is sewn.
///
/// # Errors
/// [`PatternError`] when a piece lacks a corner or seam they hang from.
pub fn usual_lines(
    pattern: &Pattern,
    depths: UsualDepths,
) -> Result<Vec<ReferenceLine>, PatternError> {
    if pattern.is_apart() {
        return usual_lines_of_each_leg(pattern, depths);
    }
    let hip_balance = depths.hip_balance_on(pattern)?;
    let thigh = thigh_rules(pattern, depths.thigh_on(pattern)?)?;
    let mut lines = Vec::new();
    for (piece, thigh) in pattern.pieces.iter().zip(thigh) {
        let mut add = |name: &str, rule, purpose| {
            lines.push(ReferenceLine {
                name: name.to_owned(),
                piece: piece.name.clone(),
                rule,
                purpose,
                last: None,
                cloth: None,
            });
        };
        add(
            names::HIP_BALANCE,
            Rule::EqualDepth(rule::EqualDepth {
                first: (names::SIDE.into(), End::End),
                second: (names::CROTCH.into(), End::Start),
                depth: hip_balance,
            }),
            Purpose::Cloth(
                "equally deep on side and centre, so it should hang level all round; where it droops there may be too much length above it".into(),
            ),
        );
        add(
            names::THIGH,
            thigh,
            Purpose::Cloth(
                if piece.name == names::FRONT {
                    "shows whether the front hangs level with the back, and cloth that pulls or hangs over the thigh"
                } else {
                    "may show surplus length under the seat when it droops mid-back"
                }
                .into(),
            ),
        );
        for (notch, line) in LEVEL_NOTCHES {
            let on_side = piece.notches.iter().find(|n| n.name == notch && n.seam == names::SIDE);
            let Some(found) = on_side else { continue };
            let through = Place::Seam(SeamPlace {
                seam: found.seam.clone(),
                from: found.from,
                distance: found.distance,
            });
            let purpose = if line == names::KNEE {
                Purpose::Cloth("shows whether the leg hangs straight".into())
            } else {
                Purpose::Paper(
                    "where the block was drafted to the hip; on the toile it would read as a V at a leaning centre back".into(),
                )
            };
            add(line, Rule::SquareToGrain(rule::SquareToGrain { through }), purpose);
        }
    }
    Ok(lines)
}

/// The usual lines of a parted pattern: each leg hangs from its own crotch point.
fn usual_lines_of_each_leg(
    pattern: &Pattern,
    depths: UsualDepths,
) -> Result<Vec<ReferenceLine>, PatternError> {
    let mut lines = Vec::new();
    for leg in Leg::BOTH {
        for mut line in usual_lines(&pattern.one_leg(leg), depths)? {
            if let Some(name) = pattern.piece_for(leg, &line.piece) {
                name.clone_into(&mut line.piece);
                lines.push(line);
            }
        }
    }
    Ok(lines)
}

/// The rule of the thigh line for each piece in order.
fn thigh_rules(pattern: &Pattern, drop: f64) -> Result<Vec<Rule>, PatternError> {
    let below = Rule::Below(rule::Below { place: Place::Corner(names::CROTCH_POINT.into()), drop });
    let mut highest: Option<(f64, f64)> = None;
    for piece in &pattern.pieces {
        let from_waist = rise(piece)?;
        if highest.is_none_or(|(least, _)| from_waist < least) {
            let side = piece.seam(names::SIDE)?;
            let level = piece.corner(names::CROTCH_POINT)? - piece.grain.direction() * drop;
            let line = Line::new(level, level + piece.grain.square());
            if let Some(c) = side.crossings_with_line(line).first() {
                highest = Some((from_waist, side.distance_from(End::End, c.here)));
            }
        }
    }
    let rules = pattern.pieces.iter().map(|piece| {
        let from_waist = rise(piece)?;
        Ok(match highest {
            Some((least, distance)) if from_waist > least => {
                Rule::SquareToGrain(rule::SquareToGrain {
                    through: Place::Seam(SeamPlace {
                        seam: names::SIDE.into(),
                        from: End::End,
                        distance,
                    }),
                })
            }
            _ => below.clone(),
        })
    });
    rules.collect()
}

/// From the waist at the side seam down to the crotch point along the grain, mm.
fn rise(piece: &Piece) -> Result<f64, PatternError> {
    let drop = piece.corner(names::WAIST_SIDE)? - piece.corner(names::CROTCH_POINT)?;
    Ok(drop.dot(piece.grain.direction()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{read_as_sewn, sample};

    #[test]
    fn the_usual_lines_meet_at_the_side_seam() {
        let mut pattern = sample::pattern();
        pattern.lines.clear();
        for line in usual_lines(&pattern, UsualDepths::default()).unwrap() {
            pattern = MarkLine { line }.apply(&pattern).unwrap().pattern;
        }
        let readings = read_as_sewn(&pattern).unwrap();
        let at_side: Vec<_> = readings.iter().filter(|r| r.join == "side seam").collect();
        assert_eq!(at_side.len(), 2);
        assert!(at_side.iter().all(|r| r.step.abs() < 1e-6), "{at_side:?}");
    }

    #[test]
    fn a_line_of_an_older_name_gives_way_to_its_own_only() {
        let mut pattern = sample::pattern();
        let some = pattern.lines.iter().next().unwrap().clone();
        pattern.lines.clear();
        let place = SeamPlace { seam: names::SIDE.into(), from: End::End, distance: 120.0 };
        let rule = rule::SquareToGrain { through: Place::Seam(place) };
        let rule = Rule::SquareToGrain(rule);
        let hip =
            ReferenceLine { name: names::HIP.into(), piece: names::BACK.into(), rule, ..some };
        let older = ReferenceLine { name: "hip on paper".into(), ..hip.clone() };
        let mark = |pattern: &Pattern, line: &ReferenceLine| {
            MarkLine { line: line.clone() }.apply(pattern).unwrap().pattern
        };
        let before = mark(&pattern, &older);
        assert_eq!(mark(&before, &hip).lines.iter().count(), 1);
        let rule = rule::Below { place: Place::Corner(names::WAIST_SIDE.into()), drop: 90.0 };
        let own = ReferenceLine { rule: Rule::Below(rule), ..hip };
        assert_eq!(mark(&before, &own).lines.iter().count(), 2);
    }

    #[test]
    fn a_line_that_cannot_lie_is_not_marked() {
        let pattern = sample::pattern();
        let mut line = pattern.lines[0].clone();
        line.rule = Rule::Below(rule::Below {
            place: Place::Corner(names::CROTCH_POINT.into()),
            drop: 9000.0,
        });
        assert!(MarkLine { line }.apply(&pattern).is_err());
        let gone = EraseLine { piece: names::BACK.into(), line: "no such".into() };
        assert!(gone.apply(&pattern).is_err());
    }
}
