//! Distribute: an even strip is taken out across the whole piece, and the pieces
//! sewn to it follow, or the difference is eased in sewing.

use crate::FlatMeasure;
use crate::lap::lay_together;
use crate::slash_and_lap::upper_side;
use crate::take::sort_measures;
use crate::{ChangeError, LaidPinch, Outcome, Pinch, PinchPath, Residue, Station, StationPlace};
use hangtrue_pattern::{Join, JoinSide, Pattern, SeamPlace};
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use serde::{Deserialize, Serialize};

/// What the pieces sewn to the changed one do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Mates {
    /// They lose as much at the same places of their seams.
    Follow,
    /// They stay; the difference is eased in.
    Ease,
}

/// Parameters of the method.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Distribute {
    /// Width of the strip, mm; negative lets out. None takes the mean of the
    /// pinch.
    pub take: Option<f64>,
    /// What the mating pieces do.
    pub mates: Mates,
}

/// Ease above this share of a seam shows, percent (memory).
pub const EASE_SHOWS: f64 = 3.0;

/// Ease above this share of a seam is refused, percent (memory).
pub const EASE_LIMIT: f64 = 6.0;

/// Applies the method to the piece.
///
/// # Errors
/// [`ChangeError`] when the mates cannot follow, the ease is too much, or the
/// outline would break.
pub(crate) fn apply(
    pattern: &Pattern,
    piece_name: &str,
    laid: &LaidPinch,
    method: &Distribute,
) -> Result<Outcome, ChangeError> {
    let take = match method.take {
        Some(take) => take,
        None => mean_amount(laid)?,
    };
    let mut after = pattern.clone();
    let piece = pattern.piece(piece_name)?;
    let mut strip = laid.clone();
    strip.stations = vec![(0.0, take), (laid.path.length(), take)];
    let (changed_piece, _) = lay_together(piece, &strip, 1.0, &[], upper_side(piece, &strip)?)?;
    *after.piece_mut(piece_name)? = changed_piece;

    let mut notes = Vec::new();
    let mut promised: Vec<FlatMeasure> = piece
        .seams
        .iter()
        .filter(|s| laid.ends.iter().all(|e| e.seam != s.name))
        .map(|s| FlatMeasure::seam(piece_name, &s.name))
        .collect();
    match method.mates {
        Mates::Follow => {
            let mate = let_mate_follow(pattern, &mut after, piece_name, laid, take)?;
            notes.push(words![
                "The ",
                &mate,
                if take < 0.0 { " gains" } else { " loses" },
                " the same length at the same places of both seams, so they still match."
            ]);
            let whole = pattern.piece(&mate)?.seams.iter();
            let untouched = whole.filter(|s| {
                let sewn_to = |j: &Join| laid.ends.iter().any(|e| touches(j, piece_name, &e.seam));
                !pattern.joins_of(&mate, &s.name).any(sewn_to)
            });
            promised.extend(untouched.map(|s| FlatMeasure::seam(&mate, &s.name)));
        }
        Mates::Ease => notes.extend(ease_in(pattern, &mut after, piece_name, laid)?),
    }
    after.check().map_err(ChangeError::BreaksPattern)?;
    let (kept, changed) = sort_measures(pattern, &after, &promised);
    let mut outcome = Outcome { kept, changed, notes, ..Outcome::plain(after) };
    let (_, pinned) = laid.largest();
    outcome.residue.push(Residue {
        words: words!["of the pinch on the ", piece_name, " left in the paper at its middle"],
        amount: pinned - take,
        unpinned: false,
    });
    let at_seams = laid.stations[0].1.min(laid.stations[laid.stations.len() - 1].1);
    outcome.residue.extend(residue_at_seams(at_seams, take));
    outcome.hold_to_promise()
}

/// What an even strip takes at the seams beyond what was pinned there, or leaves.
fn residue_at_seams(pinned: f64, take: f64) -> Option<Residue> {
    /// What nobody sees, mm.
    const UNSEEN: f64 = 0.05;
    let more = take - pinned;
    let words = match (more > 0.0, pinned.abs() < UNSEEN) {
        (true, true) => "at the seams, where nothing was pinned: the strip is as wide everywhere",
        (true, false) => "more at the seams than was pinned there: the strip is as wide everywhere",
        (false, _) => "of the pinch left in the paper at the seams",
    };
    let residue = Residue { words: words.into(), amount: more.abs(), unpinned: more > 0.0 };
    (more.abs() > UNSEEN).then_some(residue)
}

/// The mean of the pinned amounts over the path, mm, exact for the straight
/// runs between stations.
fn mean_amount(laid: &LaidPinch) -> Result<f64, ChangeError> {
    let area: f64 =
        laid.stations.windows(2).map(|w| 0.5 * (w[0].1 + w[1].1) * (w[1].0 - w[0].0)).sum();
    Ok(area / laid.path.length())
}

fn touches(join: &Join, piece: &str, seam: &str) -> bool {
    join.sides().any(|s| s.piece == piece && s.seam == seam)
}

/// The join of a seam and its two sides: ours, and the other piece's.
fn mate_of<'a>(
    pattern: &'a Pattern,
    piece: &str,
    seam: &str,
) -> Result<(&'a Join, &'a JoinSide, &'a JoinSide), ChangeError> {
    let no = |why: &str| ChangeError::NoMate {
        piece: piece.to_owned(),
        seam: seam.to_owned(),
        why: why.to_owned(),
    };
    let join = pattern.joins.iter().find(|j| touches(j, piece, seam));
    let join = join.ok_or_else(|| no("is not sewn to anything"))?;
    let second = join.second.as_ref().ok_or_else(|| no("is sewn to its own mirror image"))?;
    let ours_first = join.first.piece == piece && join.first.seam == seam;
    Ok(if ours_first { (join, &join.first, second) } else { (join, second, &join.first) })
}

/// Takes from the mating piece, at the same places of its two seams, what the
/// changed piece lost there: the two amounts are solved on exact lengths.
fn let_mate_follow(
    pattern: &Pattern,
    after: &mut Pattern,
    piece_name: &str,
    laid: &LaidPinch,
    take: f64,
) -> Result<String, ChangeError> {
    let mut lost = [0.0; 2];
    let mut places = Vec::new();
    let mut mate_piece: Option<&str> = None;
    for (end, line_end) in laid.ends.iter().enumerate() {
        let (_, ours, theirs) = mate_of(pattern, piece_name, &line_end.seam)?;
        if mate_piece.is_some_and(|m| m != theirs.piece) {
            return Err(ChangeError::NoMate {
                piece: piece_name.to_owned(),
                seam: line_end.seam.clone(),
                why: "is sewn to another piece than the other end of the path".into(),
            });
        }
        mate_piece = Some(&theirs.piece);
        let before = pattern.piece(piece_name)?.seam(&line_end.seam)?;
        lost[end] =
            before.sewn_length() - after.piece(piece_name)?.seam(&line_end.seam)?.sewn_length();
        places.push(SeamPlace {
            seam: theirs.seam.clone(),
            from: theirs.from,
            distance: before.distance_from(ours.from, line_end.position),
        });
    }
    let [from, to] = <[SeamPlace; 2]>::try_from(places).map_err(|_| ChangeError::NoMate {
        piece: piece_name.to_owned(),
        seam: laid.ends[0].seam.clone(),
        why: "has no seam sewn to it at both ends of the path".into(),
    })?;
    let mate = mate_piece.unwrap_or(piece_name).to_owned();
    let seams = [from.seam.clone(), to.seam.clone()];
    let original = pattern.piece(&mate)?;
    let mut amounts = [take; 2];
    const ROUNDS: usize = 12;
    for _ in 0..ROUNDS {
        let pinch = Pinch {
            name: format!("following the {piece_name}"),
            piece: mate.clone(),
            path: PinchPath::Across { from: from.clone(), to: to.clone() },
            stations: vec![
                Station { at: StationPlace::Share(0.0), amount: amounts[0] },
                Station { at: StationPlace::Share(1.0), amount: amounts[1] },
            ],
        };
        let laid = pinch.lay(pattern)?;
        let (new, _) = lay_together(original, &laid, 1.0, &[], upper_side(original, &laid)?)?;
        let mut worst = 0.0f64;
        for end in 0..2 {
            let got =
                original.seam(&seams[end])?.sewn_length() - new.seam(&seams[end])?.sewn_length();
            amounts[end] += lost[end] - got;
            worst = worst.max((lost[end] - got).abs());
        }
        *after.piece_mut(&mate)? = new;
        if worst < 1e-6 {
            break;
        }
    }
    Ok(mate)
}

/// Records the difference of each seam as ease of its join and says how much
/// that is per 100 mm.
fn ease_in(
    pattern: &Pattern,
    after: &mut Pattern,
    piece_name: &str,
    laid: &LaidPinch,
) -> Result<Vec<Words>, ChangeError> {
    let mut notes = Vec::new();
    for end in &laid.ends {
        let before = pattern.piece(piece_name)?.seam(&end.seam)?.sewn_length();
        let length = after.piece(piece_name)?.seam(&end.seam)?.sewn_length();
        let lost = before - length;
        let percent = lost.abs() / length * 100.0;
        if percent > EASE_LIMIT {
            return Err(ChangeError::TooMuchEase {
                amount: Length(lost),
                length: Length(length),
                percent,
                limit: EASE_LIMIT,
            });
        }
        let mut found = after.joins.iter_mut().filter(|j| touches(j, piece_name, &end.seam));
        let Some(join) = found.next() else { continue };
        if join.is_mirror() {
            continue;
        }
        let ours_first = join.first.piece == piece_name && join.first.seam == end.seam;
        join.ease += if ours_first { -lost } else { lost };
        let warn = if percent > EASE_SHOWS { "; that shows in most cloth" } else { "" };
        notes.push(words![
            &join.name,
            ": ",
            Length(lost.abs()),
            " to ease in, ",
            Length(percent),
            " per ",
            (Length(100.0), 0),
            warn,
            "."
        ]);
    }
    Ok(notes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_pattern::names::*;

    fn laid() -> (Pattern, LaidPinch) {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("p", BACK, THIGH, 9.525).lay(&pattern).unwrap();
        (pattern, laid)
    }

    fn length(p: &Pattern, piece: &str, seam: &str) -> f64 {
        p.piece(piece).unwrap().seam(seam).unwrap().sewn_length()
    }

    #[test]
    fn the_mate_loses_as_much_on_both_seams() {
        let (pattern, laid) = laid();
        for take in [4.0, -4.0] {
            let method = Distribute { take: Some(take), mates: Mates::Follow };
            let outcome = apply(&pattern, BACK, &laid, &method).unwrap();
            for seam in [SIDE, INSEAM] {
                let lost =
                    |piece| length(&pattern, piece, seam) - length(&outcome.pattern, piece, seam);
                assert!((lost(BACK) - lost(FRONT)).abs() < 1e-5, "{seam}");
                assert!((lost(BACK) - take).abs() < 0.3, "{seam} {}", lost(BACK));
            }
            for piece in [BACK, FRONT] {
                for seam in [WAIST, CROTCH, HEM] {
                    let moved =
                        length(&pattern, piece, seam) - length(&outcome.pattern, piece, seam);
                    assert!(moved.abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn the_default_strip_is_the_mean_of_the_pinch() {
        let (pattern, laid) = laid();
        let method = Distribute { take: None, mates: Mates::Follow };
        let outcome = apply(&pattern, BACK, &laid, &method).unwrap();
        // A triangle of 9.525 mm has a mean of half of it.
        assert!((outcome.residue[0].amount - 9.525 / 2.0).abs() < 1e-9);
    }

    #[test]
    fn ease_is_declared_on_the_joins_and_limited() {
        let (pattern, laid) = laid();
        let ease = |take| {
            apply(&pattern, BACK, &laid, &Distribute { take: Some(take), mates: Mates::Ease })
        };
        let outcome = ease(5.0).unwrap();
        for join in outcome.pattern.joins.iter().filter(|j| !j.is_mirror()) {
            let first = length(&outcome.pattern, &join.first.piece, &join.first.seam);
            let second = join.second.as_ref().unwrap();
            let second = length(&outcome.pattern, &second.piece, &second.seam);
            let was = length(&pattern, &join.first.piece, &join.first.seam);
            assert!((join.ease - (first - was)).abs() < 1e-9, "{} {second}", join.name);
        }
        assert_eq!(outcome.notes.len(), 2);
        assert!(matches!(ease(80.0), Err(ChangeError::TooMuchEase { .. })));
    }
}
