//! Slash and lap: the paper is slashed along the pinch and lapped; what does not
//! lie flat is let out by a second cut to an edge.

use crate::FlatMeasure;
use crate::hook::restore_crotch_length;
use crate::lap::{CutEnd, Lap, lay_together};
use crate::take::sort_measures;
use crate::waist::{MOST_DART_GROWTH, hold_length_by_dart};
use crate::{ChangeError, LaidPinch, Outcome, Residue};
use hangtrue_geometry::{Line, Point, bracketed_root};
use hangtrue_pattern::{Pattern, Piece, SeamPlace, names};
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use serde::{Deserialize, Serialize};

/// Where the second cut goes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum SecondCut {
    /// The proposal that disturbs least.
    Least,
    /// Through the named dart, which closes by what is lapped.
    Dart(String),
    /// To a place on a seam.
    Seam(SeamPlace),
}

/// How much of the pinch is taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Share {
    /// All of it.
    All,
    /// As much as the dart of the second cut can give.
    WhatTheDartGives,
    /// A share from 0 to 1.
    Part(f64),
}

/// Parameters of the method.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlashAndLap {
    /// Where the second cut goes.
    pub second_cut: SecondCut,
    /// How much is taken.
    pub share: Share,
    /// Whether the crotch seam is redrawn to its old length where the cuts
    /// changed it.
    pub keep_crotch: bool,
    /// Whether it may all the same grow where cloth is let out: length lacked there.
    #[serde(default = "grows")]
    pub may_grow: bool,
}

/// What projects mean that were saved before it was asked.
fn grows() -> bool {
    false
}

impl Default for SlashAndLap {
    fn default() -> Self {
        Self { second_cut: SecondCut::Least, share: Share::All, keep_crotch: true, may_grow: true }
    }
}

/// One way to let out the excess angle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Proposal {
    /// Where the second cut would go, in words.
    pub words: String,
    /// The cut, ready to be used.
    #[serde(skip)]
    pub second_cut: SecondCut,
    /// The excess angle to be lapped, degrees.
    pub excess_degrees: f64,
    /// Length of the second cut, mm.
    pub cut_length: f64,
    /// What is lapped at the edge for the whole pinch, mm.
    pub lap: f64,
    /// What a dart there can give, mm.
    pub dart_gives: f64,
    /// The share of the pinch that can be taken without touching the sewn edge.
    pub share_free: f64,
    /// What the edge loses when all of the pinch is taken, mm; the proposals are
    /// ranked by it.
    pub disturbs: f64,
    /// Whether the sewn edges keep their lengths: a dart gives it, or the crotch curve is
    /// redrawn to its length. Those come first.
    pub gives_back: bool,
    /// What that means, in words.
    pub consequence: Words,
}

/// An edge that changes by less counts as kept, mm.
const EDGE_LOSS: f64 = 0.05;

/// A dart is left at least this much intake when it gives what it can, mm.
const DART_KEEPS: f64 = 2.0;

/// An excess angle smaller than this needs no second cut, radians.
const NO_EXCESS: f64 = 1e-9;

/// The proposals for a pinch, the one that disturbs least first. Empty when the
/// pinch needs no second cut.
///
/// # Errors
/// [`ChangeError`] when the pinch cannot be laid.
pub fn propose(
    pattern: &Pattern,
    piece: &str,
    laid: &LaidPinch,
) -> Result<Vec<Proposal>, ChangeError> {
    let on = pattern.piece(piece)?;
    let Some((station, excess)) = main_excess(laid) else { return Ok(Vec::new()) };
    let from = laid.station_point(station);
    // The wedge hinges on the edge of the fold that moves, half the amount from
    // the path on the side of the second cut.
    let (left, right) = laid.fold_edges(1.0);
    let (left, right) = (left[station], right[station]);
    let reach = |to: Point| {
        if (to - from).dot(left - right) > 0.0 { left.distance(to) } else { right.distance(to) }
    };
    let mut proposals = Vec::new();
    for (seam, index, dart) in on.darts() {
        let mouth = seam.parts[index].end().midpoint(seam.parts[index + 1].start());
        let lap = chord(reach(mouth), excess);
        // Lapping closes a dart by what it has; opening widens it by what a dart
        // may grow.
        let intake = seam.intake(index);
        let (gives, most) = if lap < 0.0 {
            (MOST_DART_GROWTH, MOST_DART_GROWTH)
        } else {
            ((intake - DART_KEEPS).max(0.0), intake)
        };
        let over = (lap.abs() - most).max(0.0);
        proposals.push(Proposal {
            words: format!("up through the {}", dart.name),
            second_cut: SecondCut::Dart(dart.name.clone()),
            excess_degrees: excess.to_degrees(),
            cut_length: reach(mouth),
            lap,
            dart_gives: gives,
            share_free: (gives / lap.abs()).clamp(0.0, 1.0),
            disturbs: over,
            gives_back: over <= EDGE_LOSS,
            consequence: match (over > 0.0, lap < 0.0) {
                (false, false) => words!["the dart gives it; the sewn ", &seam.name, " stays"],
                (false, true) => words!["the dart grows by it; the sewn ", &seam.name, " stays"],
                (true, false) => {
                    words!["the dart closes and the ", &seam.name, " loses ", Length(over)]
                }
                (true, true) => {
                    words!["the dart grows very wide; the ", &seam.name, " gains ", Length(over)]
                }
            },
        });
    }
    let grain = on.grain.direction();
    for (words, towards) in [("straight up to the", grain), ("straight down to the", -grain)] {
        if let Some((seam, position, point)) = first_edge(on, from, towards) {
            let lap = chord(reach(point), excess);
            proposals.push(edge_proposal(
                on,
                seam,
                position,
                format!("{words} {}", on.seams[seam].name),
                reach(point),
                lap,
                excess,
            ));
        }
    }
    if let Ok(index) = on.seam_index(names::CROTCH) {
        let (place, _) = on.seams[index].nearest(from);
        let distance = reach(place.point);
        let near_ends =
            place.position < 5.0 || place.position > on.seams[index].sewn_length() - 5.0;
        if !near_ends {
            let words = "across to the nearest place of the crotch seam".to_owned();
            let lap = chord(distance, excess);
            proposals.push(edge_proposal(on, index, place.position, words, distance, lap, excess));
        }
    }
    // What gives back all that it takes (a dart, or the crotch curve, which is redrawn
    // to its length) comes before what makes an edge shorter.
    proposals
        .sort_by(|a, b| b.gives_back.cmp(&a.gives_back).then(a.disturbs.total_cmp(&b.disturbs)));
    Ok(proposals)
}

fn edge_proposal(
    piece: &Piece,
    seam: usize,
    position: f64,
    words: String,
    cut: f64,
    lap: f64,
    excess: f64,
) -> Proposal {
    let name = piece.seams[seam].name.clone();
    Proposal {
        words,
        second_cut: SecondCut::Seam(SeamPlace {
            seam: name.clone(),
            from: hangtrue_pattern::End::Start,
            distance: position,
        }),
        excess_degrees: excess.to_degrees(),
        cut_length: cut,
        lap,
        dart_gives: 0.0,
        share_free: 0.0,
        disturbs: lap.abs(),
        gives_back: name == names::CROTCH,
        consequence: match (name == names::CROTCH, lap < 0.0) {
            (true, false) => {
                words![
                    "the crotch seam loses ",
                    Length(lap),
                    ", which the crotch curve must give back"
                ]
            }
            (true, true) => {
                words![
                    "the crotch seam gains ",
                    Length(-lap),
                    ", which the crotch curve must take up"
                ]
            }
            (false, false) => words!["the ", &name, " loses ", Length(lap)],
            (false, true) => words!["the ", &name, " gains ", Length(-lap)],
        },
    }
}

/// The lap at a distance from the hinge of a wedge: the chord 2·h·sin(φ/2), mm.
fn chord(distance: f64, angle: f64) -> f64 {
    2.0 * distance * (angle / 2.0).sin()
}

/// The station whose excess angle is largest, with the angle, radians.
fn main_excess(laid: &LaidPinch) -> Option<(usize, f64)> {
    let excess = laid.excess_angles(1.0);
    let largest = excess.iter().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    (largest.1.abs() > NO_EXCESS).then_some((largest.0 + 1, *largest.1))
}

fn first_edge(
    piece: &Piece,
    from: Point,
    towards: hangtrue_geometry::Vec2,
) -> Option<(usize, f64, Point)> {
    let crossings = piece.crossings_with_line(Line::new(from, from + towards));
    let (seam, position, _) = crossings.into_iter().find(|c| c.2 > 1.0)?;
    Some((seam, position, piece.seams[seam].place(hangtrue_pattern::End::Start, position).point))
}

/// Applies the method to the piece.
///
/// # Errors
/// [`ChangeError`] when a cut has no place, a promised measure is not kept, or
/// the outline would break.
pub(crate) fn apply(
    pattern: &Pattern,
    piece_name: &str,
    laid: &LaidPinch,
    method: &SlashAndLap,
) -> Result<Outcome, ChangeError> {
    if method.second_cut != SecondCut::Least || main_excess(laid).is_none() {
        return apply_cut(pattern, piece_name, laid, method);
    }
    // The proposal that disturbs least may ask too much of a curve: the next one
    // is tried then. When none can be done, the first one's reason is given.
    let mut first_reason = None;
    for proposal in propose(pattern, piece_name, laid)? {
        let chosen = SlashAndLap { second_cut: proposal.second_cut, ..method.clone() };
        match apply_cut(pattern, piece_name, laid, &chosen) {
            Ok(outcome) => return Ok(outcome),
            Err(reason) => first_reason = first_reason.or(Some(reason)),
        }
    }
    let no_edge = pattern.piece(piece_name).map(no_edge)?;
    Err(first_reason.unwrap_or(no_edge))
}

fn apply_cut(
    pattern: &Pattern,
    piece_name: &str,
    laid: &LaidPinch,
    method: &SlashAndLap,
) -> Result<Outcome, ChangeError> {
    let piece = pattern.piece(piece_name)?;
    let cuts = second_cuts(pattern, piece, laid, &method.second_cut)?;
    let mover = match cuts.first() {
        Some(&(_, end)) => end,
        None => upper_side(piece, laid)?,
    };
    let share = match method.share {
        Share::All => 1.0,
        Share::Part(part) if (0.0..=1.0).contains(&part) => part,
        Share::Part(part) => {
            return Err(ChangeError::OutOfReach {
                what: "the share of the pinch to take, in hundredths,".into(),
                asked: Length(part * 100.0),
                low: Length(0.0),
                high: Length(100.0),
            });
        }
        Share::WhatTheDartGives => share_of_dart(piece, laid, &cuts, mover)?,
    };
    let (mut new_piece, laps) = lay_together(piece, laid, share, &cuts, mover)?;
    let mut notes = Vec::new();
    let waist_held = hold_waist(piece, &mut new_piece, &laps)?;
    let old_crotch = piece.seam(names::CROTCH).map(hangtrue_pattern::Seam::sewn_length);
    let mut crotch_held = true;
    if let Ok(length) = old_crotch {
        let now = new_piece.seam(names::CROTCH)?.sewn_length();
        crotch_held = (now - length).abs() < crate::KEPT;
        let grows = now > length && laid.largest().1 < 0.0 && method.may_grow;
        if !crotch_held && method.keep_crotch && grows {
            notes.push(words![
                "The crotch seam grows by ",
                Length(now - length),
                ": cloth is let out because length lacks there."
            ]);
        } else if !crotch_held && method.keep_crotch {
            let tight = restore_crotch_length(&mut new_piece, length)?;
            crotch_held = true;
            let verb = if length < now { "take up" } else { "give back" };
            notes.push(words![
                "The crotch curve was redrawn to ",
                verb,
                " ",
                Length((length - now).abs()),
                "."
            ]);
            notes.extend(tight);
        }
    }
    new_piece.check().map_err(ChangeError::BreaksPattern)?;

    let mut after = pattern.clone();
    *after.piece_mut(piece_name)? = new_piece;
    let promised = promised(piece, laid, share, &laps, waist_held, crotch_held);
    let (kept, changed) = sort_measures(pattern, &after, &promised);
    let mut outcome = Outcome { kept, changed, notes, ..Outcome::plain(after) };
    describe(&mut outcome, piece, laid, share, &laps);
    outcome.hold_to_promise()
}

/// The second cuts: the chosen one at the station with the largest excess, and
/// one parallel with it at every other station that needs one.
fn second_cuts(
    pattern: &Pattern,
    piece: &Piece,
    laid: &LaidPinch,
    chosen: &SecondCut,
) -> Result<Vec<(usize, CutEnd)>, ChangeError> {
    let Some((main, _)) = main_excess(laid) else { return Ok(Vec::new()) };
    let (end, target) = match chosen {
        SecondCut::Least => {
            let proposals = propose(pattern, &piece.name, laid)?;
            let best = proposals.into_iter().next().ok_or_else(|| no_edge(piece))?;
            return second_cuts(pattern, piece, laid, &best.second_cut);
        }
        SecondCut::Dart(name) => {
            let (seam, index) = piece.dart(name)?;
            let mouth = seam.parts[index].end().midpoint(seam.parts[index + 1].start());
            (CutEnd::Dart(piece.seam_index(&seam.name)?, index), mouth)
        }
        SecondCut::Seam(place) => {
            let seam = piece.seam(&place.seam)?;
            let length = seam.sewn_length();
            if !(1.0..=length - 1.0).contains(&place.distance) {
                return Err(ChangeError::OutOfReach {
                    what: format!("the second cut on the {}", place.seam),
                    asked: Length(place.distance),
                    low: Length(1.0),
                    high: Length(length - 1.0),
                });
            }
            let found = seam.place(place.from, place.distance);
            (CutEnd::Seam(piece.seam_index(&place.seam)?, found.position), found.point)
        }
    };
    let direction = target - laid.station_point(main);
    let mut cuts = vec![(main, end)];
    for (i, excess) in laid.excess_angles(1.0).into_iter().enumerate() {
        let station = i + 1;
        if station != main && excess.abs() > NO_EXCESS {
            let edge = first_edge(piece, laid.station_point(station), direction.normalize());
            let (seam, position, _) = edge.ok_or_else(|| no_edge(piece))?;
            cuts.push((station, CutEnd::Seam(seam, position)));
        }
    }
    Ok(cuts)
}

fn no_edge(piece: &Piece) -> ChangeError {
    ChangeError::PathLeavesPiece {
        pinch: "second cut".into(),
        piece: piece.name.clone(),
        why: "there is no edge to cut to".into(),
    }
}

/// Without a second cut, the side with the waist moves and the leg stays.
pub(crate) fn upper_side(piece: &Piece, laid: &LaidPinch) -> Result<CutEnd, ChangeError> {
    let index = piece.seam_index(names::WAIST).or_else(|_| piece.seam_index(&laid.ends[0].seam))?;
    let length = piece.seams[index].sewn_length();
    let position = if piece.seams[index].name == laid.ends[0].seam { length } else { length / 2.0 };
    Ok(CutEnd::Seam(index, position))
}

/// The share of the pinch at which the dart of the second cut has given all but
/// [`DART_KEEPS`]; 1 when it can give all.
fn share_of_dart(
    piece: &Piece,
    laid: &LaidPinch,
    cuts: &[(usize, CutEnd)],
    mover: CutEnd,
) -> Result<f64, ChangeError> {
    let Some(&(_, CutEnd::Dart(seam, dart))) = cuts.first() else { return Ok(1.0) };
    let intake = piece.seams[seam].intake(dart);
    let left_over = |share: f64| {
        let lapped = lay_together(piece, laid, share, cuts, mover);
        let given = lapped.map(|(_, laps)| {
            laps.iter().filter(|l| matches!(l.end, CutEnd::Dart(..))).map(|l| l.amount).sum::<f64>()
        });
        intake - DART_KEEPS - given.unwrap_or(f64::MAX)
    };
    if left_over(1.0) >= 0.0 {
        return Ok(1.0);
    }
    bracketed_root(left_over, 1e-3, 1.0, 1e-9)
        .map_err(ChangeError::geometry("finding how much the dart gives"))
}

/// Brings the sewn waist back to its length after a dart gave the lap, when the
/// dart is still there; true when the waist is as long as it was.
fn hold_waist(before: &Piece, after: &mut Piece, laps: &[Lap]) -> Result<bool, ChangeError> {
    let Ok(old) = before.seam(names::WAIST) else { return Ok(false) };
    let length = old.sewn_length();
    let index = before.seam_index(names::WAIST)?;
    let seam = after.seam_mut(names::WAIST)?;
    let lapped_dart = laps.iter().find_map(|l| match l.end {
        CutEnd::Dart(s, d) if s == index && seam.darts.len() == old.darts.len() => Some(d),
        _ => None,
    });
    if let Some(held) = lapped_dart.and_then(|d| hold_length_by_dart(seam, d, 0.0, length)) {
        *seam = held;
    }
    Ok((seam.sewn_length() - length).abs() < crate::KEPT)
}

/// Which seams the method promises to keep: all the path and the laps leave whole.
fn promised(
    piece: &Piece,
    laid: &LaidPinch,
    share: f64,
    laps: &[Lap],
    waist_held: bool,
    crotch_held: bool,
) -> Vec<FlatMeasure> {
    let last = laid.stations.len() - 1;
    let runs_out = |end: usize| share * laid.stations[if end == 0 { 0 } else { last }].1 == 0.0;
    let mut seams = Vec::new();
    for (index, seam) in piece.seams.iter().enumerate() {
        let on_path = (0..2).any(|end| laid.ends[end].seam == seam.name && !runs_out(end));
        let lapped = laps.iter().any(|l| match l.end {
            CutEnd::Dart(s, _) | CutEnd::Seam(s, _) => s == index,
        });
        let keeps = match seam.name.as_str() {
            names::WAIST => waist_held,
            names::CROTCH => crotch_held,
            _ => !on_path && !lapped,
        };
        if keeps {
            seams.push(FlatMeasure::seam(&piece.name, &seam.name));
        }
    }
    seams
}

fn describe(outcome: &mut Outcome, piece: &Piece, laid: &LaidPinch, share: f64, laps: &[Lap]) {
    for lap in laps {
        let (seam, through) = match lap.end {
            CutEnd::Dart(s, d) => (s, format!(" at the {}", piece.seams[s].darts[d].name)),
            CutEnd::Seam(s, _) => (s, String::new()),
        };
        let verb = if lap.amount < 0.0 { "opened" } else { "lapped" };
        let given = if lap.from_dart == 0.0 {
            Words::default()
        } else {
            words!["; the dart gives ", Length(lap.from_dart), " of it"]
        };
        outcome.notes.push(words![
            "The second cut is ",
            verb,
            " by ",
            Length(lap.amount.abs()),
            " at the ",
            &piece.seams[seam].name,
            through,
            given,
            "."
        ]);
    }
    let (_, pinned) = laid.largest();
    if share < 1.0 {
        outcome.residue.push(Residue {
            words: words![
                "of the pinch on the ",
                &piece.name,
                " left in the paper, to be eased in at its middle and nothing at its ends"
            ],
            amount: pinned * (1.0 - share),
            unpinned: false,
        });
    }
    for (end, station) in [(0, laid.stations[0]), (1, laid.stations[laid.stations.len() - 1])] {
        let amount = share * station.1;
        if amount != 0.0 {
            outcome.notes.push(words![
                "The ",
                &laid.ends[end].seam,
                " of the ",
                &piece.name,
                " is ",
                Length(amount.abs()),
                if amount > 0.0 { " shorter" } else { " longer" },
                " at the pinch; lay a pinch on the piece it is sewn to as well, or ease it."
            ]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Pinch, Station, StationPlace, sample};
    use hangtrue_pattern::names::*;

    fn laid(amount: f64) -> (Pattern, LaidPinch) {
        let pattern = sample::pattern();
        let laid = Pinch::in_the_middle("p", BACK, THIGH, amount).lay(&pattern).unwrap();
        (pattern, laid)
    }

    #[test]
    fn the_lap_is_the_chord_of_the_excess_angle() {
        let (pattern, laid) = laid(6.0);
        let proposals = propose(&pattern, BACK, &laid).unwrap();
        assert!(proposals.windows(2).all(|w| w[0].disturbs <= w[1].disturbs));
        for p in &proposals {
            let closed_form = 2.0 * p.cut_length * (p.excess_degrees.to_radians() / 2.0).sin();
            assert!((p.lap - closed_form).abs() < 1e-9);
        }
        let through_dart = proposals.iter().find(|p| p.dart_gives > 0.0).unwrap();
        // The same point of the mouth carried by the strips on both sides of the
        // cut parts by exactly the stated lap.
        let (piece, (moving, staying)) = (pattern.piece(BACK).unwrap(), laid.fold_edges(1.0));
        let seam = piece.seam(WAIST).unwrap();
        let mouth = seam.parts[0].end().midpoint(seam.parts[1].start());
        let carried = |i: usize| {
            hangtrue_geometry::lay_segment(moving[i], moving[i + 1], staying[i], staying[i + 1])
                * mouth
        };
        assert!((carried(0).distance(carried(1)) - through_dart.lap).abs() < 1e-9);
        let method =
            SlashAndLap { second_cut: through_dart.second_cut.clone(), ..Default::default() };
        let outcome = apply(&pattern, BACK, &laid, &method).unwrap();
        let before = pattern.piece(BACK).unwrap().seam(WAIST).unwrap();
        let after = outcome.pattern.piece(BACK).unwrap().seam(WAIST).unwrap();
        let given = before.intake(0) - after.intake(0);
        // The mouth lies askew to the cut, so it closes by a little less.
        assert!(given < through_dart.lap && given > 0.92 * through_dart.lap, "{given}");
    }

    #[test]
    fn seams_keep_their_lengths_when_the_pinch_runs_out_at_both() {
        for amount in [3.0, 6.0, -5.0] {
            let (pattern, laid) = laid(amount);
            let method = SlashAndLap {
                second_cut: SecondCut::Dart("back dart".into()),
                ..Default::default()
            };
            let outcome = apply(&pattern, BACK, &laid, &method).unwrap();
            for seam in [INSEAM, SIDE, CROTCH, HEM, WAIST] {
                let length = |p: &Pattern| p.piece(BACK).unwrap().seam(seam).unwrap().sewn_length();
                let moved = length(&outcome.pattern) - length(&pattern);
                assert!(moved.abs() < 0.01, "{seam} by {moved} for {amount}");
            }
        }
    }

    #[test]
    fn what_the_dart_gives_leaves_a_stated_rest() {
        let (pattern, laid) = laid(15.0);
        let method = SlashAndLap {
            second_cut: SecondCut::Dart("back dart".into()),
            share: Share::WhatTheDartGives,
            ..SlashAndLap::default()
        };
        let outcome = apply(&pattern, BACK, &laid, &method).unwrap();
        let rest = outcome.residue[0].amount;
        assert!(rest > 1.0 && rest < 15.0, "{rest}");
        let waist = outcome
            .kept
            .iter()
            .find(|k| k.measure == FlatMeasure::seam(names::BACK, names::WAIST))
            .unwrap();
        assert!(waist.kept());
    }

    #[test]
    fn one_hinge_makes_one_clean_wedge() {
        // Nothing at the inseam, 8 mm at the side seam: the side seam loses 8 mm
        // (square to the path), nothing else is cut.
        let pattern = sample::pattern();
        let mut pinch = Pinch::in_the_middle("p", BACK, THIGH, 8.0);
        pinch.stations[0] = Station { at: StationPlace::From(SIDE.into(), 0.0), amount: 8.0 };
        let laid = pinch.lay(&pattern).unwrap();
        assert!(propose(&pattern, BACK, &laid).unwrap().is_empty());
        let outcome = apply(&pattern, BACK, &laid, &SlashAndLap::default()).unwrap();
        let length = |p: &Pattern, s| p.piece(BACK).unwrap().seam(s).unwrap().sewn_length();
        let lost = length(&pattern, SIDE) - length(&outcome.pattern, SIDE);
        assert!((lost - 8.0).abs() < 0.15, "{lost}");
        for seam in [INSEAM, CROTCH, WAIST, HEM] {
            assert!(
                (length(&pattern, seam) - length(&outcome.pattern, seam)).abs() < 1e-3,
                "{seam}"
            );
        }
        // The waist end of the side seam swings by the wedge about the inseam end.
        let hinge = laid.ends[0].point;
        let angle = 2.0 * (8.0 / (2.0 * laid.path.length())).atan();
        let corner = |p: &Pattern| p.piece(BACK).unwrap().corner(WAIST_CENTRE).unwrap();
        let (before, after) = (corner(&pattern), corner(&outcome.pattern));
        let swing = 2.0 * before.distance(hinge) * (angle / 2.0).sin();
        assert!((before.distance(after) - swing).abs() < 0.2, "{} {swing}", before.distance(after));
    }

    #[test]
    fn letting_out_is_ranked_by_what_it_disturbs_too() {
        let (pattern, laid) = laid(-4.0);
        let proposals = propose(&pattern, BACK, &laid).unwrap();
        assert!(proposals.iter().all(|p| p.lap < 0.0 && p.disturbs >= 0.0));
        assert!(matches!(proposals[0].second_cut, SecondCut::Dart(_)), "{proposals:#?}");
        let outcome = apply(&pattern, BACK, &laid, &SlashAndLap::default()).unwrap();
        let intake = |p: &Pattern| p.piece(BACK).unwrap().seam(WAIST).unwrap().intake(0);
        assert!(intake(&outcome.pattern) > intake(&pattern) + 5.0);
    }

    #[test]
    fn the_hem_and_the_crotch_can_take_the_lap() {
        let (pattern, laid) = laid(5.0);
        for p in propose(&pattern, BACK, &laid).unwrap() {
            let method = SlashAndLap { second_cut: p.second_cut.clone(), ..Default::default() };
            let outcome = apply(&pattern, BACK, &laid, &method);
            let outcome = outcome.unwrap_or_else(|e| panic!("{}: {e}", p.words));
            assert!(outcome.kept.len() >= 3, "{}", p.words);
        }
    }
}
