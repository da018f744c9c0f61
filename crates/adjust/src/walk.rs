//! Walking the seams: matched lengths between notches, and whether the outline
//! runs fairly over every seam end.

use crate::ChangeError;
use crate::waist::turn_over_dart;
use hangtrue_geometry::{Vec2, angle_between};
use hangtrue_pattern::{End, Join, JoinSide, Pattern, Piece, Seam, names};
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
    /// At the hem: how far the sum would be from 180° were both hems square to the grain,
    /// degrees: positive where the leg narrows towards the hem. Such a hem is right, and so
    /// is any up to one that runs over the seam without a turn. 0 at other corners.
    pub tapers: f64,
    /// Whether it is within the limit.
    pub is_true: bool,
}

impl SewnCorner {
    /// Whether the two turn although nothing is wrong: the hem is cut square to the grain
    /// on a leg that tapers.
    pub fn turns_with_the_leg(&self) -> bool {
        self.is_true && self.off.abs() > 2.0 * CORNER_TRUE
    }
}

/// A join walked from its matched end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Walked {
    /// The join.
    pub join: String,
    /// The two pieces (the second is the mirror image for a mirror join).
    pub pieces: (String, String),
    /// The seam is sewn to one just like it, of the other leg: its lengths cannot differ.
    pub is_mirror: bool,
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
        is_mirror: join.is_mirror(),
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
    let square = |side: &JoinSide| -> Result<f64, ChangeError> {
        let piece = pattern.piece(&side.piece)?;
        let end = if at_matched_end { side.from } else { side.from.other() };
        let index = corner_index(piece, &side.seam, end)?;
        Ok(square_hem_angle(piece, index).map_or(0.0, |a| a.to_degrees() - 90.0))
    };
    let of_first = square(&join.first)?;
    let tapers = of_first
        + match &join.second {
            None => of_first,
            Some(side) => square(side)?,
        };
    let names = end_names(pattern, &join.first)?;
    let off = first + second - 180.0;
    let (low, high) = (tapers.min(0.0), tapers.max(0.0));
    let limit = 2.0 * CORNER_TRUE;
    Ok(Some(SewnCorner {
        corner: if at_matched_end { names.0 } else { names.1 },
        at_matched_end,
        first,
        second,
        off,
        tapers,
        is_true: (low - limit..=high + limit).contains(&off),
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

/// The seams that meet where seam `index` starts, and their directions there: that of the
/// one that arrives, that of the one that leaves.
fn meeting(piece: &Piece, index: usize) -> [(&Seam, Vec2); 2] {
    let count = piece.seams.len();
    let arriving = &piece.seams[(index + count - 1) % count];
    let leaving = &piece.seams[index];
    [
        (arriving, arriving.parts[arriving.parts.len() - 1].end_direction()),
        (leaving, leaving.parts[0].start_direction()),
    ]
}

/// The inside angle between two directions along the outline, radians in (0, 2π).
fn angle_inside(piece: &Piece, arrive: Vec2, leave: Vec2) -> f64 {
    std::f64::consts::PI - angle_between(arrive, leave) * piece.orientation()
}

/// The inside angle at the corner where seam `index` starts, radians in (0, 2π).
pub(crate) fn inside_angle(piece: &Piece, index: usize) -> f64 {
    let [(_, arrive), (_, leave)] = meeting(piece, index);
    angle_inside(piece, arrive, leave)
}

/// What that angle would be were the hem there square to the grain, radians; none where no
/// hem meets another seam.
fn square_hem_angle(piece: &Piece, index: usize) -> Option<f64> {
    let [(arriving, arrive), (leaving, leave)] = meeting(piece, index);
    let squared = |hem: Vec2| {
        let square = piece.grain.square();
        square * square.dot(hem).signum()
    };
    match (arriving.name == names::HEM, leaving.name == names::HEM) {
        (true, false) => Some(angle_inside(piece, squared(arrive), leave)),
        (false, true) => Some(angle_inside(piece, arrive, squared(leave))),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_geometry::Affine;
    use hangtrue_pattern::measures::Measures;
    use hangtrue_pattern::names::*;
    use hangtrue_pattern::{Notch, NotchKind, Plan, draft};

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

    /// The corners at the hem of a drafted block whose back hem was turned by so much about
    /// its end at the inseam.
    fn hem_corners(turned: f64) -> Vec<SewnCorner> {
        let body: Measures =
            crate::ron_text::read(include_str!("../../../assets/demo/measures.ron")).unwrap();
        let mut pattern = draft(&body, &Plan::default()).unwrap().pattern;
        let hem = pattern.piece_mut(BACK).unwrap().seam_mut(HEM).unwrap();
        for part in &mut hem.parts {
            let turn = |v: Vec2| (Affine::rotate(turned.to_radians()) * v.to_point()).to_vec2();
            *part = part.aimed(turn(part.start_direction()), turn(part.end_direction()));
        }
        let walked = walk_all(&pattern).unwrap();
        let corners = walked.into_iter().flat_map(|w| w.corners);
        corners.filter(|c| c.corner.starts_with("hem")).collect()
    }

    #[test]
    fn a_hem_square_to_the_grain_is_right_on_a_leg_that_tapers() {
        let corners = hem_corners(0.0);
        assert_eq!(corners.len(), 2);
        for c in corners {
            assert!(c.tapers > 2.0 * CORNER_TRUE, "the leg tapers: {c:?}");
            assert!(
                (c.off - c.tapers).abs() < 1e-6 && c.is_true && c.turns_with_the_leg(),
                "{c:?}"
            );
        }
    }

    #[test]
    fn a_hem_that_is_not_square_is_off() {
        for turned in [-8.0, -3.0, 3.0, 8.0] {
            let corners = hem_corners(turned);
            assert!(corners.iter().any(|c| !c.is_true), "{turned}: {corners:?}");
        }
    }

    #[test]
    fn a_fresh_block_matches() {
        let body: Measures =
            crate::ron_text::read(include_str!("../../../assets/demo/measures.ron")).unwrap();
        let pattern = draft(&body, &Plan::default()).unwrap().pattern;
        assert!(walk_all(&pattern).unwrap().iter().all(Walked::is_true));
    }
}
