//! Marking reference lines, and the usual set of them.

use crate::{ChangeError, Outcome};
use hangtrue_pattern::{End, Pattern, PatternError, Place, Purpose, ReferenceLine, Rule, names};
use serde::{Deserialize, Serialize};

/// Adds a reference line, or replaces the one of the same name on the same piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MarkLine {
    /// The line.
    pub line: ReferenceLine,
}

/// Takes a reference line away.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
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
        after.lines.retain(|l| !(l.piece == self.line.piece && l.name == self.line.name));
        after.lines.push(self.line.clone());
        after.place_line(&self.line.piece, &self.line.name)?;
        Ok(Outcome::plain(after))
    }
}

impl EraseLine {
    /// Applies the change.
    ///
    /// # Errors
    /// [`PatternError::NoLine`] when there is no such line.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        pattern.line(&self.piece, &self.line)?;
        let mut after = pattern.clone();
        after.lines.retain(|l| !(l.piece == self.piece && l.name == self.line));
        Ok(Outcome::plain(after))
    }
}

/// Where the usual lines lie, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct UsualDepths {
    /// Full hip below the waist, along the side seam and along the centre seam.
    /// 5 1/2 in on a mid-size adult (common practice, no published source).
    pub full_hip: f64,
    /// Upper thigh below the crotch point. 2 in (common practice).
    pub thigh: f64,
    /// Knee below the crotch point, along the grain.
    pub knee: f64,
}

impl UsualDepths {
    /// The usual depths with the knee so far below the crotch point, mm.
    pub fn with_knee(knee: f64) -> Self {
        Self { full_hip: 139.7, thigh: 50.8, knee }
    }
}

/// The usual reference lines of a trouser pattern, on every piece that has the
/// seams they hang from: full hip (cloth), hip on paper, thigh and knee (cloth).
///
/// # Errors
/// [`PatternError`] when a piece lacks a corner or seam they hang from.
pub fn usual_lines(
    pattern: &Pattern,
    depths: UsualDepths,
) -> Result<Vec<ReferenceLine>, PatternError> {
    let mut lines = Vec::new();
    for piece in &pattern.pieces {
        piece.corner(names::CROTCH_POINT)?;
        let mut add = |name: &str, rule, purpose| {
            lines.push(ReferenceLine {
                name: name.to_owned(),
                piece: piece.name.clone(),
                rule,
                purpose,
                last: None,
            });
        };
        add(
            names::FULL_HIP,
            Rule::EqualDepth {
                first: (names::SIDE.into(), End::End),
                second: (names::CROTCH.into(), End::Start),
                depth: depths.full_hip,
            },
            Purpose::Cloth(
                "equally deep on side and centre, so it should hang level all round; where it droops there is too much length above it".into(),
            ),
        );
        let below = |drop| Rule::Below { place: Place::Corner(names::CROTCH_POINT.into()), drop };
        add(
            names::THIGH,
            below(depths.thigh),
            Purpose::Cloth("shows surplus length under the seat when it droops mid-back".into()),
        );
        add(
            names::KNEE,
            below(depths.knee),
            Purpose::Cloth("shows whether the leg hangs straight".into()),
        );
    }
    Ok(lines)
}
