//! Walking the seams: matched lengths between notches, and whether the outline
//! runs fairly over every seam end.

use crate::ChangeError;
use crate::waist::turn_over_dart;
use hangtrue_geometry::angle_between;
use hangtrue_pattern::{End, Join, JoinSide, Pattern, Piece, Seam};
use serde::Serialize;

/// Matched lengths may differ by this much, mm.
pub const LENGTH_TRUE: f64 = 0.5;

/// Each half of a joined corner may be off by this much, degrees.
pub const CORNER_TRUE: f64 = 1.0;

/// One stretch of a join between two matched places.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stretch {
    /// Where it starts: the end of the seam or a notch.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Sewn length on the first side, mm.
    pub first: f64,
    /// Sewn length on the second side, mm.
    pub second: f64,
}

/// How a corner of the outline runs over a sewn seam.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnCorner {
    /// Where: names of the corner.
    pub corner: String,
    /// Which end of the join, seen from its matched end.
    pub at_matched_end: bool,
    /// Inside angle of the first piece, degrees.
    pub first: f64,
    /// Inside angle of the second piece (of the mirror image), degrees.
    pub second: f64,
    /// How far the sum is from 180°, degrees: positive for a peak.
    pub off: f64,
    /// Whether it is within the limit.
    pub is_true: bool,
}

/// A join walked from its matched end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Walked {
    /// The join.
    pub join: String,
    /// The two pieces (the second is the mirror image for a mirror join).
    pub pieces: (String, String),
    /// Sewn length of the first side, mm.
    pub first: f64,
    /// Sewn length of the second side, mm.
    pub second: f64,
    /// Declared ease, mm.
    pub ease: f64,
    /// First minus second minus ease, mm: 0 when the seams match.
    pub difference: f64,
    /// Whether the difference is within the limit.
    pub matches: bool,
    /// The stretches between matched notches.
    pub stretches: Vec<Stretch>,
    /// The corners at its two ends that the outline crosses.
    pub corners: Vec<SewnCorner>,
}

impl Walked {
    /// Whether nothing is left to true.
    pub fn is_true(&self) -> bool {
        self.matches && self.corners.iter().all(|c| c.is_true)
    }
}

/// A dart folded and looked at.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FoldedDart {
    /// The piece.
    pub piece: String,
    /// The dart.
    pub dart: String,
    /// Straight width of its mouth, mm.
    pub intake: f64,
    /// Lengths of its legs, mm.
    pub legs: (f64, f64),
    /// How far the seam turns over the closed dart, degrees: 0 when fair.
    pub turn: f64,
    /// Whether the legs are equal and the seam runs fair.
    pub is_true: bool,
}

/// Folds every dart of the pattern.
pub fn fold_darts(pattern: &Pattern) -> Vec<FoldedDart> {
    let mut folded = Vec::new();
    for piece in &pattern.pieces {
        for (seam, index, dart) in piece.darts() {
            let legs = seam.leg_lengths(index);
            let turn = turn_over_dart(seam, index).to_degrees();
            folded.push(FoldedDart {
                piece: piece.name.clone(),
                dart: dart.name.clone(),
                intake: seam.intake(index),
                legs,
                turn,
                is_true: (legs.0 - legs.1).abs() <= LENGTH_TRUE && turn.abs() <= 2.0 * CORNER_TRUE,
            });
        }
    }
    folded
}

/// Walks every join of the pattern.
///
/// # Errors
/// [`ChangeError`] when a join names what is not there.
pub fn walk_all(pattern: &Pattern) -> Result<Vec<Walked>, ChangeError> {
    pattern.joins.iter().map(|join| walk(pattern, join)).collect()
}

/// Walks one join.
///
/// # Errors
/// [`ChangeError`] when the join names what is not there.
pub fn walk(pattern: &Pattern, join: &Join) -> Result<Walked, ChangeError> {
    let mate = join.second.as_ref().unwrap_or(&join.first);
    let (first, second) = (length(pattern, &join.first)?, length(pattern, mate)?);
    let difference = first - second - join.ease;
    let mut corners = Vec::new();
    for at_matched_end in [true, false] {
        corners.extend(sewn_corner(pattern, join, at_matched_end)?);
    }
    Ok(Walked {
        join: join.name.clone(),
        pieces: (
            join.first.piece.clone(),
            if join.is_mirror() { format!("{}, mirrored", mate.piece) } else { mate.piece.clone() },
        ),
        first,
        second,
        ease: join.ease,
        difference,
        matches: difference.abs() <= LENGTH_TRUE,
        stretches: stretches(pattern, join, mate)?,
        corners,
    })
}

fn length(pattern: &Pattern, side: &JoinSide) -> Result<f64, ChangeError> {
    Ok(pattern.piece(&side.piece)?.seam(&side.seam)?.sewn_length())
}

fn stretches(pattern: &Pattern, join: &Join, mate: &JoinSide) -> Result<Vec<Stretch>, ChangeError> {
    let notches = |side: &JoinSide| -> Result<Vec<(String, f64)>, ChangeError> {
        let piece = pattern.piece(&side.piece)?;
        let seam = piece.seam(&side.seam)?;
        let on = piece.notches.iter().filter(|n| n.seam == side.seam);
        Ok(on
            .map(|n| {
                let position = seam.place(n.from, n.distance).position;
                (n.name.clone(), seam.distance_from(side.from, position))
            })
            .collect())
    };
    let (ours, theirs) = (notches(&join.first)?, notches(mate)?);
    let mut matched: Vec<(String, f64, f64)> = Vec::new();
    for (name, at) in ours {
        if let Some((_, there)) = theirs.iter().find(|t| t.0 == name) {
            matched.push((name, at, *there));
        }
    }
    matched.sort_by(|a, b| a.1.total_cmp(&b.1));
    let names = end_names(pattern, &join.first)?;
    matched.insert(0, (names.0, 0.0, 0.0));
    matched.push((names.1, length(pattern, &join.first)?, length(pattern, mate)?));
    let between = |w: &[(String, f64, f64)]| Stretch {
        from: w[0].0.clone(),
        to: w[1].0.clone(),
        first: w[1].1 - w[0].1,
        second: w[1].2 - w[0].2,
    };
    Ok(matched.windows(2).map(between).collect())
}

/// The corner names at the matched and at the far end of a side.
fn end_names(pattern: &Pattern, side: &JoinSide) -> Result<(String, String), ChangeError> {
    let piece = pattern.piece(&side.piece)?;
    let index = piece.seam_index(&side.seam)?;
    let start = piece.seams[index].starts_at.clone();
    let end = piece.seams[(index + 1) % piece.seams.len()].starts_at.clone();
    Ok(match side.from {
        End::Start => (start, end),
        End::End => (end, start),
    })
}

/// The corner of a join at one of its ends. None where the outline does not run
/// over the seam: the low end of a centre seam, where four seams meet.
fn sewn_corner(
    pattern: &Pattern,
    join: &Join,
    at_matched_end: bool,
) -> Result<Option<SewnCorner>, ChangeError> {
    if !at_matched_end && (join.is_mirror() || pattern.joins_legs(join)) {
        return Ok(None);
    }
    let angle = |side: &JoinSide| -> Result<f64, ChangeError> {
        let piece = pattern.piece(&side.piece)?;
        let end = if at_matched_end { side.from } else { side.from.other() };
        Ok(inside_angle(piece, corner_index(piece, &side.seam, end)?).to_degrees())
    };
    let first = angle(&join.first)?;
    let second = match &join.second {
        None => first,
        Some(side) => angle(side)?,
    };
    let names = end_names(pattern, &join.first)?;
    let off = first + second - 180.0;
    Ok(Some(SewnCorner {
        corner: if at_matched_end { names.0 } else { names.1 },
        at_matched_end,
        first,
        second,
        off,
        is_true: off.abs() <= 2.0 * CORNER_TRUE,
    }))
}

/// The index of the corner at an end of a seam: that of the seam starting there.
pub(crate) fn corner_index(piece: &Piece, seam: &str, end: End) -> Result<usize, ChangeError> {
    let index = piece.seam_index(seam)?;
    Ok(match end {
        End::Start => index,
        End::End => (index + 1) % piece.seams.len(),
    })
}

/// The inside angle at the corner where seam `index` starts, radians in (0, 2π).
pub(crate) fn inside_angle(piece: &Piece, index: usize) -> f64 {
    let count = piece.seams.len();
    let arriving: &Seam = &piece.seams[(index + count - 1) % count];
    let arrive = arriving.parts[arriving.parts.len() - 1].end_direction();
    let leave = piece.seams[index].parts[0].start_direction();
    std::f64::consts::PI - angle_between(arrive, leave) * piece.orientation()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::names::*;
    use hangtrue_pattern::{Notch, NotchKind};

    #[test]
    fn the_stretches_add_up_to_the_seam() {
        let mut pattern = sample::pattern();
        for (piece, at) in [(BACK, 140.0), (FRONT, 141.0)] {
            pattern.piece_mut(piece).unwrap().notches.push(Notch {
                name: "hip".into(),
                seam: SIDE.into(),
                from: End::End,
                distance: at,
                kind: NotchKind::Single,
            });
        }
        let walked = walk(&pattern, &pattern.joins[0]).unwrap();
        assert_eq!(walked.stretches.len(), 2);
        assert!((walked.stretches[0].first - 140.0).abs() < 1e-9);
        assert!((walked.stretches[0].second - 141.0).abs() < 1e-9);
        let sum: f64 = walked.stretches.iter().map(|s| s.first).sum();
        assert!((sum - walked.first).abs() < 1e-9);
    }

    #[test]
    fn ease_is_taken_off_the_difference() {
        let mut pattern = sample::pattern();
        let plain = walk(&pattern, &pattern.joins[0]).unwrap().difference;
        pattern.joins[0].ease = 4.0;
        let eased = walk(&pattern, &pattern.joins[0]).unwrap().difference;
        assert!((plain - eased - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_square_centre_back_is_true_and_a_tilted_one_is_not() {
        let mut pattern = sample::pattern();
        let centre = |p: &Pattern| walk(p, &p.joins[2]).unwrap().corners[0].clone();
        assert!(centre(&pattern).is_true);
        let seam = pattern.piece_mut(BACK).unwrap().seam_mut(WAIST).unwrap();
        let part = seam.parts[1].clone();
        let tilted = hangtrue_geometry::Affine::rotate(0.1) * part.end_direction().to_point();
        seam.parts[1] = part.aimed(part.start_direction(), tilted.to_vec2());
        let after = centre(&pattern);
        assert!(!after.is_true && (after.off.abs() - 0.2f64.to_degrees()).abs() < 1e-6);
    }
}
