//! Truing: making the outline run fairly over a sewn seam, and matched seams
//! equally long.

use crate::take::changed_measures;
use crate::waist::fair_over_dart;
use crate::walk::{corner_index, walk};
use crate::{ChangeError, Outcome};
use hangtrue_geometry::{Chain, Point, turned};
use hangtrue_pattern::{End, Join, JoinSide, Pattern, Piece, names};
use serde::{Deserialize, Serialize};

/// Trues the corner of a join: each piece's edge beside the seam is turned by
/// half of what is wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrueCorner {
    /// The join.
    pub join: String,
    /// Its matched end, or its far end.
    pub at_matched_end: bool,
}

/// Which side of a join is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Side {
    /// The first side.
    First,
    /// The second side.
    Second,
}

/// Makes one side of a join as long as the other (plus the declared ease), by
/// lengthening or shortening it along itself at one end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrueLength {
    /// The join.
    pub join: String,
    /// The side that changes.
    pub side: Side,
    /// Whether it changes at the matched end, or at the far end.
    pub at_matched_end: bool,
}

/// Trues a dart: the shorter leg is made as long as the longer, and the seam is
/// made fair over the closed dart. The cap follows from that.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrueDart {
    /// The piece.
    pub piece: String,
    /// The dart.
    pub dart: String,
}

impl TrueDart {
    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError`] when there is no such dart or the outline breaks.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let (seam, index) = pattern.piece(&self.piece)?.dart(&self.dart)?;
        let mut seam = seam.clone();
        let (first, second) = seam.leg_lengths(index);
        let apex = seam.darts[index].apex;
        let reaching = |p: Point, length: f64| apex + (p - apex).normalize() * length;
        let long = first.max(second);
        let part = &seam.parts[index];
        seam.parts[index] =
            part.with_ends_keeping_directions(part.start(), reaching(part.end(), long));
        let part = &seam.parts[index + 1];
        seam.parts[index + 1] =
            part.with_ends_keeping_directions(reaching(part.start(), long), part.end());
        fair_over_dart(&mut seam, index);
        let mut after = pattern.clone();
        let name = seam.name.clone();
        *after.piece_mut(&self.piece)?.seam_mut(&name)? = seam;
        finish(pattern, after)
    }
}

/// The edge is reshaped over this length from the corner, mm, or 45 % of it.
const TRUE_REACH: f64 = 40.0;

impl TrueCorner {
    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError`] when there is no such join or corner, or the outline breaks.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let join = find_join(pattern, &self.join)?.clone();
        let mut after = pattern.clone();
        // Turning one edge bends the other's corner not at all, so one round is
        // exact; a second absorbs rounding.
        for _ in 0..2 {
            let walked = walk(&after, &join)?;
            let Some(corner) =
                walked.corners.iter().find(|c| c.at_matched_end == self.at_matched_end)
            else {
                return Err(ChangeError::Unknown {
                    kind: "corner",
                    name: format!("far end of the {}", join.name),
                    known: "its matched end".into(),
                });
            };
            let half = (corner.off / 2.0).to_radians();
            for side in join.sides() {
                let end = if self.at_matched_end { side.from } else { side.from.other() };
                turn_edge_at(after.piece_mut(&side.piece)?, &side.seam, end, half)?;
            }
        }
        finish(pattern, after)
    }
}

/// Turns the edge that meets `seam` at `end` so that the inside angle there
/// shrinks by `by` radians.
fn turn_edge_at(piece: &mut Piece, seam: &str, end: End, by: f64) -> Result<(), ChangeError> {
    let corner = corner_index(piece, seam, end)?;
    let count = piece.seams.len();
    let face = piece.orientation();
    let what = || ChangeError::geometry("turning the edge at a corner");
    // At a seam's start the edge beside it ends there, and the other way round.
    match end {
        End::Start => {
            let edge = &mut piece.seams[(corner + count - 1) % count];
            let last = edge.parts.len() - 1;
            let part = &edge.parts[last];
            let reach = TRUE_REACH.min(0.45 * part.length());
            let (still, free) = part.split_at(part.length() - reach).map_err(what())?;
            let turned =
                free.aimed(free.start_direction(), turned(free.end_direction(), -face * by));
            edge.parts[last] = still.then(&turned).map_err(what())?;
        }
        End::End => {
            let edge = &mut piece.seams[corner];
            let part = &edge.parts[0];
            let reach = TRUE_REACH.min(0.45 * part.length());
            let (free, still) = part.split_at(reach).map_err(what())?;
            let turned =
                free.aimed(turned(free.start_direction(), face * by), free.end_direction());
            edge.parts[0] = turned.then(&still).map_err(what())?;
        }
    }
    Ok(())
}

impl TrueLength {
    /// Applies the change.
    ///
    /// # Errors
    /// [`ChangeError`] when there is no such join, it is a mirror join, or the
    /// outline breaks.
    pub(crate) fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let join = find_join(pattern, &self.join)?;
        let walked = walk(pattern, join)?;
        let (side, by): (&JoinSide, f64) = match (self.side, &join.second) {
            (Side::First, _) => (&join.first, -walked.difference),
            (Side::Second, Some(second)) => (second, walked.difference),
            (Side::Second, None) => {
                return Err(ChangeError::NoMate {
                    piece: join.first.piece.clone(),
                    seam: join.first.seam.clone(),
                    why: "is sewn to its own mirror image".into(),
                });
            }
        };
        let end = if self.at_matched_end { side.from } else { side.from.other() };
        let mut after = pattern.clone();
        lengthen_seam(after.piece_mut(&side.piece)?, &side.seam, end, by)?;
        finish(pattern, after)
    }
}

/// Lengthens (negative: shortens) a seam along itself at one end; the corner
/// moves, and the edge beside it follows with its directions kept.
pub(crate) fn lengthen_seam(
    piece: &mut Piece,
    seam: &str,
    end: End,
    by: f64,
) -> Result<(), ChangeError> {
    let index = piece.seam_index(seam)?;
    let count = piece.seams.len();
    let what = || ChangeError::geometry(format!("changing the length of the {seam}"));
    let parts = &mut piece.seams[index].parts;
    let last = parts.len() - 1;
    let corner = match end {
        End::End => {
            parts[last] = parts[last].lengthened(by).map_err(what())?;
            parts[last].end()
        }
        End::Start => {
            let longer: Chain = parts[0].reversed().lengthened(by).map_err(what())?;
            parts[0] = longer.reversed();
            parts[0].start()
        }
    };
    match end {
        End::End => {
            let next = &mut piece.seams[(index + 1) % count].parts[0];
            *next = next.with_ends_keeping_directions(corner, next.end());
        }
        End::Start => {
            let before = &mut piece.seams[(index + count - 1) % count].parts;
            if let Some(part) = before.last_mut() {
                *part = part.with_ends_keeping_directions(part.start(), corner);
            }
        }
    }
    Ok(())
}

pub(crate) fn find_join<'a>(pattern: &'a Pattern, name: &str) -> Result<&'a Join, ChangeError> {
    pattern.joins.iter().find(|j| j.name == name).ok_or_else(|| {
        let known: Vec<&str> = pattern.joins.iter().map(|j| j.name.as_str()).collect();
        ChangeError::Unknown { kind: "join", name: name.to_owned(), known: known.join(", ") }
    })
}

fn finish(before: &Pattern, after: Pattern) -> Result<Outcome, ChangeError> {
    after.check().map_err(ChangeError::BreaksPattern)?;
    let changed = changed_measures(before, &after);
    Ok(Outcome { changed, ..Outcome::plain(after) })
}

/// What is left to true in a pattern, as changes ready to be made: lengths
/// first (at the hem, where nothing hangs from it; at the waist for a join that
/// has no hem), then corners.
///
/// # Errors
/// [`ChangeError`] when a join names what is not there.
pub fn left_to_true(pattern: &Pattern) -> Result<(Vec<TrueLength>, Vec<TrueCorner>), ChangeError> {
    let (mut lengths, mut corners) = (Vec::new(), Vec::new());
    for join in &pattern.joins {
        let walked = walk(pattern, join)?;
        if !walked.matches {
            let piece = pattern.piece(&join.first.piece)?;
            let far = corner_index(piece, &join.first.seam, join.first.from.other())?;
            let far_is_hem =
                [names::HEM_INSEAM, names::HEM_SIDE].contains(&piece.seams[far].starts_at.as_str());
            lengths.push(TrueLength {
                join: join.name.clone(),
                side: Side::Second,
                at_matched_end: !far_is_hem,
            });
        }
        for corner in walked.corners.iter().filter(|c| !c.is_true) {
            corners.push(TrueCorner {
                join: join.name.clone(),
                at_matched_end: corner.at_matched_end,
            });
        }
    }
    Ok((lengths, corners))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use crate::walk::{fold_darts, walk_all};
    use hangtrue_geometry::Vec2;
    use hangtrue_pattern::names::{BACK, WAIST};

    #[test]
    fn everything_can_be_trued() {
        let mut pattern = sample::pattern();
        let (lengths, _) = left_to_true(&pattern).unwrap();
        assert!(!lengths.is_empty(), "the sample is not true to begin with");
        for change in lengths {
            pattern = change.apply(&pattern).unwrap().pattern;
        }
        let (lengths, corners) = left_to_true(&pattern).unwrap();
        assert!(lengths.is_empty());
        for change in corners {
            pattern = change.apply(&pattern).unwrap().pattern;
        }
        for walked in walk_all(&pattern).unwrap() {
            for corner in &walked.corners {
                assert!(corner.is_true, "{} {:?}", walked.join, corner);
            }
        }
    }

    #[test]
    fn a_length_is_trued_exactly_on_either_side() {
        let pattern = sample::pattern();
        for side in [Side::First, Side::Second] {
            for at_matched_end in [true, false] {
                let change = TrueLength { join: "side seam".into(), side, at_matched_end };
                let after = change.apply(&pattern).unwrap().pattern;
                let walked = walk(&after, &after.joins[0]).unwrap();
                assert!(walked.difference.abs() < 1e-6);
            }
        }
    }

    #[test]
    fn an_untrue_dart_is_trued() {
        let mut pattern = sample::pattern();
        let seam = pattern.piece_mut(BACK).unwrap().seam_mut(WAIST).unwrap();
        let (start, end) = (seam.parts[0].start(), seam.parts[0].end());
        seam.parts[0] = Chain::line(start, end + Vec2::new(0.0, -6.0));
        let folded = |p: &Pattern| fold_darts(p).into_iter().find(|d| d.piece == BACK).unwrap();
        assert!(!folded(&pattern).is_true);
        let change = TrueDart { piece: BACK.into(), dart: "back dart".into() };
        let after = folded(&change.apply(&pattern).unwrap().pattern);
        assert!((after.legs.0 - after.legs.1).abs() < 1e-9);
        assert!(after.turn.abs() < 1e-6 && after.is_true);
    }

    #[test]
    fn an_unknown_join_lists_the_known() {
        let change = TrueCorner { join: "armhole".into(), at_matched_end: true };
        let fault = change.apply(&sample::pattern()).unwrap_err().to_string();
        assert!(fault.contains("side seam"));
    }
}
