//! Cutting a piece along a path and laying the two sides together again: the
//! rigid moves behind slash and lap, and behind taking a strip out.
//!
//! Half of each amount lies on each side of the path, so the two edges of the
//! fold have the same length between stations and the strips between stations
//! move rigidly: strip i carries its edge of the fold onto the other edge. Where
//! two neighbouring strips turn by different angles they need a second cut to an
//! edge of the piece, where they overlap (lap) or part.

mod inner;

use crate::waist::fair_over_dart;
use crate::{ChangeError, LaidPinch};
use hangtrue_geometry::{
    Affine, Chain, Line, Point, blend_corner, lay_segment, tolerance, turn_about,
};
use hangtrue_pattern::{Dart, Piece, Seam};

/// Where a second cut reaches the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CutEnd {
    /// Through the middle of a dart: index of the seam, index of the dart.
    Dart(usize, usize),
    /// At a sewn position of a seam: index of the seam, mm from its start.
    Seam(usize, f64),
}

/// What lapping did at one second cut.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Lap {
    /// Where the cut reaches the outline.
    pub(crate) end: CutEnd,
    /// How far the two sides overlap there, mm (negative: they part).
    pub(crate) amount: f64,
    /// How much of it a dart gave by closing, mm.
    pub(crate) from_dart: f64,
}

/// A joint at a seam is smoothed over this length on each side, mm, or 45 % of
/// what there is.
const BLEND_REACH: f64 = 45.0;

/// A joint of the lapped edge is smoothed over this length, mm.
const LAP_REACH: f64 = 20.0;

/// A dart narrower than this after lapping is closed for good, mm.
const DART_GONE: f64 = 1.5;

/// Lays the piece together along the pinch, with the amounts scaled by `share`.
///
/// `cuts` gives, for each inner station with an excess angle, its second cut.
/// The side of the path that `mover` lies on moves; the other stays.
pub(crate) fn lay_together(
    piece: &Piece,
    laid: &LaidPinch,
    share: f64,
    cuts: &[(usize, CutEnd)],
    mover: CutEnd,
) -> Result<(Piece, Vec<Lap>), ChangeError> {
    let plan = Plan::new(piece, laid, share, cuts, mover)?;
    let mut after = piece.clone();
    let mut laps = Vec::new();
    for index in 0..piece.seams.len() {
        let atoms = plan.atoms_of(index)?;
        after.seams[index] = rebuild(&piece.seams[index], index, &atoms, &plan, &mut laps)?;
    }
    settle_corners(&mut after);
    after.inner = inner::carried_lines(&plan, laid, share)?;
    Ok((after, laps))
}

/// A stretch of a seam that moves as one.
struct Atom {
    chain: Chain,
    /// The dart between the atom before and this one, with its index.
    dart: Option<(usize, Dart)>,
    /// The strip it belongs to; none stays.
    strip: Option<usize>,
}

struct Plan<'a> {
    piece: &'a Piece,
    /// Seam indices of the path's ends.
    seams: [usize; 2],
    /// Whether the moving side is the run of the outline from the first end of
    /// the path to the second.
    forward: bool,
    /// At each end of the path: where the staying and the moving side are cut,
    /// sewn positions, mm.
    stay_cut: [f64; 2],
    move_cut: [f64; 2],
    /// The rigid move of each strip, adjusted at the two ends.
    moves: Vec<Affine>,
    cuts: Vec<(usize, CutEnd)>,
    /// The amounts at the two ends, mm.
    end_amounts: [f64; 2],
}

impl<'a> Plan<'a> {
    fn new(
        piece: &'a Piece,
        laid: &LaidPinch,
        share: f64,
        cuts: &[(usize, CutEnd)],
        mover: CutEnd,
    ) -> Result<Self, ChangeError> {
        let seams = [piece.seam_index(&laid.ends[0].seam)?, piece.seam_index(&laid.ends[1].seam)?];
        let positions = [laid.ends[0].position, laid.ends[1].position];
        let forward = runs_between(piece, seams, positions, mover);
        let (left, right) = laid.fold_edges(share);
        // Going forward round a counter-clockwise outline, the cloth beyond the
        // path lies to the right of the path.
        let moving_is_right = forward == (piece.orientation() > 0.0);
        let (moving, staying) = if moving_is_right { (right, left) } else { (left, right) };
        let moves = (0..moving.len() - 1)
            .map(|i| lay_segment(moving[i], moving[i + 1], staying[i], staying[i + 1]))
            .collect();
        let last = moving.len() - 1;
        let end_amounts = [share * laid.stations[0].1, share * laid.stations[last].1];
        let (mut stay_cut, mut move_cut) = (positions, positions);
        for (end, (at, next)) in [(0, 1), (last, last - 1)].into_iter().enumerate() {
            // Let-out parts the sides at the path itself; a fold is cut out.
            if end_amounts[end] > 0.0 {
                let seam = &piece.seams[seams[end]];
                let cut = |edge: &[Point]| {
                    nearest_crossing(seam, Line::new(edge[next], edge[at]), positions[end])
                };
                stay_cut[end] = cut(&staying);
                move_cut[end] = cut(&moving);
            }
        }
        let mut plan = Self {
            piece,
            seams,
            forward,
            stay_cut,
            move_cut,
            moves,
            cuts: cuts.to_vec(),
            end_amounts,
        };
        plan.keep_lengths_at_ends()?;
        Ok(plan)
    }

    /// Smoothing a bend shortens a seam a little. The strips at the two ends of
    /// the path are moved along their seam until that is made good, so that the
    /// seams keep their lengths exactly.
    fn keep_lengths_at_ends(&mut self) -> Result<(), ChangeError> {
        // One strip alone cannot make good at both ends: the end where the pinch
        // runs out goes first.
        let ends = match (self.moves.len(), self.end_amounts) {
            (1, [first, second]) if first != 0.0 && second == 0.0 => 1..2,
            (1, _) => 0..1,
            _ => 0..2,
        };
        for end in ends {
            if self.end_amounts[end] < 0.0 {
                continue;
            }
            let strip = if end == 0 { 0 } else { self.moves.len() - 1 };
            for _ in 0..6 {
                let atoms = self.atoms_of(self.seams[end])?;
                let Some(joint) =
                    atoms.windows(2).position(|w| w[0].strip.is_some() != w[1].strip.is_some())
                else {
                    break;
                };
                let (a, b) = (&atoms[joint].chain, &atoms[joint + 1].chain);
                let joined = self.joined(a, b)?;
                let lost = a.length() + b.length() - joined.length();
                if lost.abs() < 1e-9 {
                    break;
                }
                let along = if atoms[joint].strip.is_some() {
                    -a.end_direction()
                } else {
                    b.start_direction()
                };
                self.moves[strip] = Affine::translate(along * lost) * self.moves[strip];
            }
        }
        Ok(())
    }

    fn joined(&self, a: &Chain, b: &Chain) -> Result<Chain, ChangeError> {
        let straight = hangtrue_geometry::angle_between(a.end_direction(), b.start_direction())
            .abs()
            < tolerance::SAME_DIRECTION
            && a.end().distance(b.start()) < tolerance::SAME_POINT;
        if straight {
            return a.then(b).map_err(ChangeError::geometry("closing the slash at a seam"));
        }
        blend_corner(a, b, BLEND_REACH)
            .map_err(ChangeError::geometry("closing the slash at a seam"))
    }

    /// The stretches of seam `index` in order, already moved.
    fn atoms_of(&self, index: usize) -> Result<Vec<Atom>, ChangeError> {
        let seam = &self.piece.seams[index];
        let mut breaks = self.breaks_on(index);
        breaks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut atoms = Vec::new();
        let mut start = 0.0;
        for (part_index, part) in seam.parts.iter().enumerate() {
            let end = start + part.length();
            let dart = part_index.checked_sub(1).map(|d| (d, seam.darts[d].clone()));
            let mut from = start;
            let mut dart = dart;
            let inner = breaks.iter().filter(|b| b.0 > start + 1e-6 && b.1 < end - 1e-6);
            let mut pieces: Vec<(f64, f64)> = Vec::new();
            for &(stop, resume) in inner {
                pieces.push((from, stop));
                from = resume;
            }
            pieces.push((from, end));
            for (a, b) in pieces {
                let chain = part
                    .part(a - start, b - start)
                    .map_err(ChangeError::geometry("cutting the outline"))?;
                let strip = self.strip_at(index, 0.5 * (a + b));
                let chain = match strip {
                    Some(k) => chain.moved(self.moves[k]),
                    None => chain,
                };
                atoms.push(Atom { chain, dart: dart.take(), strip });
            }
            start = end;
        }
        Ok(atoms)
    }

    /// The places where seam `index` is broken: `(end of one side, start of the
    /// next)`, sewn positions, mm.
    fn breaks_on(&self, index: usize) -> Vec<(f64, f64)> {
        let mut breaks = Vec::new();
        for end in 0..2 {
            if self.seams[end] == index {
                let (a, b) = (self.stay_cut[end], self.move_cut[end]);
                breaks.push((a.min(b), a.max(b)));
            }
        }
        for &(_, cut) in &self.cuts {
            if let CutEnd::Seam(seam, at) = cut
                && seam == index
            {
                breaks.push((at, at));
            }
        }
        breaks
    }

    /// The strip that the place belongs to; none when it stays.
    fn strip_at(&self, seam: usize, position: f64) -> Option<usize> {
        let positions = [self.stay_cut[0], self.stay_cut[1]];
        let at = self.along(seam, position);
        let [a, b] = [0, 1].map(|end| self.along(self.seams[end], positions[end]));
        let (from, to) = if self.forward { (a, b) } else { (b, a) };
        let inside = if from < to { (from..=to).contains(&at) } else { at >= from || at <= to };
        if !inside {
            return None;
        }
        let count = self.piece.seams.len() as f64;
        let since = |x: f64| (x - from).rem_euclid(count);
        let passed = |cut: &&(usize, CutEnd)| {
            let end = match cut.1 {
                CutEnd::Seam(s, p) => self.along(s, p),
                CutEnd::Dart(s, d) => {
                    let parts = &self.piece.seams[s].parts[..=d];
                    self.along(s, parts.iter().map(Chain::length).sum())
                }
            };
            since(end) < since(at)
        };
        // Each inner station starts a new strip, cut or not; without a cut the
        // neighbouring strips move alike.
        let mut stations: Vec<usize> = self.cuts.iter().filter(passed).map(|c| c.0).collect();
        stations.sort_unstable();
        let strip = match (self.forward, stations.last(), stations.first()) {
            (true, Some(&last), _) => last,
            (true, None, _) => 0,
            (false, _, Some(&first)) => first - 1,
            (false, _, None) => self.moves.len() - 1,
        };
        Some(strip)
    }

    /// A number that grows round the outline: seam index plus share of the seam.
    fn along(&self, seam: usize, position: f64) -> f64 {
        seam as f64 + (position / self.piece.seams[seam].sewn_length()).clamp(0.0, 1.0 - 1e-12)
    }
}

/// Whether `place` lies on the run of the outline from the first end to the second.
fn runs_between(piece: &Piece, seams: [usize; 2], positions: [f64; 2], place: CutEnd) -> bool {
    let share = |s: usize, p: f64| s as f64 + p / piece.seams[s].sewn_length();
    let at = match place {
        CutEnd::Seam(s, p) => share(s, p),
        CutEnd::Dart(s, d) => share(s, piece.seams[s].parts[..=d].iter().map(Chain::length).sum()),
    };
    let (a, b) = (share(seams[0], positions[0]), share(seams[1], positions[1]));
    if a < b { (a..b).contains(&at) } else { at >= a || at < b }
}

fn nearest_crossing(seam: &Seam, line: Line, near: f64) -> f64 {
    let crossings = seam.crossings_with_line(line);
    let closest =
        crossings.iter().min_by(|a, b| (a.here - near).abs().total_cmp(&(b.here - near).abs()));
    closest.map_or(near, |c| c.here)
}

/// Puts the atoms of one seam together again.
fn rebuild(
    seam: &Seam,
    index: usize,
    atoms: &[Atom],
    plan: &Plan<'_>,
    laps: &mut Vec<Lap>,
) -> Result<Seam, ChangeError> {
    let mut parts = vec![atoms[0].chain.clone()];
    let mut darts: Vec<Dart> = Vec::new();
    let mut fair: Vec<usize> = Vec::new();
    for w in atoms.windows(2) {
        let (before, next) = (&w[0], &w[1]);
        let last = parts.len() - 1;
        match &next.dart {
            Some((_, dart)) if before.strip == next.strip => {
                let m = next.strip.map_or(Affine::IDENTITY, |k| plan.moves[k]);
                darts.push(Dart { apex: m * dart.apex, ..dart.clone() });
                parts.push(next.chain.clone());
            }
            Some((d, dart)) => {
                let narrowed = narrow_dart(seam, *d, dart, before, next);
                laps.push(Lap {
                    end: CutEnd::Dart(index, *d),
                    amount: seam.intake(*d) - narrowed.width,
                    from_dart: (seam.intake(*d) - narrowed.width).min(seam.intake(*d)),
                });
                if let Some(dart) = narrowed.dart {
                    darts.push(dart);
                    fair.push(darts.len() - 1);
                    parts.push(next.chain.clone());
                } else {
                    parts[last] = overlapped(&parts[last], &next.chain)?;
                }
            }
            None if before.strip == next.strip => {
                parts[last] = parts[last]
                    .then(&next.chain)
                    .map_err(ChangeError::geometry("joining the outline"))?;
            }
            None if before.strip.is_some() && next.strip.is_some() => {
                let across = next.chain.start() - parts[last].end();
                let amount = -across.dot(parts[last].end_direction());
                let at = plan.cuts.iter().find_map(|c| match c.1 {
                    CutEnd::Seam(s, p) if s == index => Some(CutEnd::Seam(s, p)),
                    _ => None,
                });
                if let Some(end) = at {
                    laps.push(Lap { end, amount, from_dart: 0.0 });
                }
                parts[last] = overlapped(&parts[last], &next.chain)?;
            }
            None => parts[last] = plan.joined(&parts[last], &next.chain)?,
        }
    }
    let mut rebuilt = Seam { parts, darts, ..seam.clone() };
    for dart in fair {
        fair_over_dart(&mut rebuilt, dart);
    }
    Ok(rebuilt)
}

struct Narrowed {
    dart: Option<Dart>,
    /// Straight width left at the mouth, mm; negative when the sides overlap.
    width: f64,
}

/// The dart whose two legs moved apart from each other: its mouth is what is
/// left between the leg ends, its apex on their perpendicular bisector at the
/// old leg length.
fn narrow_dart(seam: &Seam, index: usize, dart: &Dart, before: &Atom, next: &Atom) -> Narrowed {
    let (a, b) = (before.chain.end(), next.chain.start());
    let across = before.chain.end_direction() + next.chain.start_direction();
    let width = (b - a).dot(across.normalize());
    if width < DART_GONE {
        return Narrowed { dart: None, width };
    }
    let leg = seam.leg_lengths(index).0;
    let half = a.distance(b) / 2.0;
    let inward = if seam.closing_turn(index) < 0.0 { -1.0 } else { 1.0 };
    // Square to the mouth, towards the inside of the piece.
    let square = turn_about(Point::ORIGIN, -inward * std::f64::consts::FRAC_PI_2)
        * (b - a).normalize().to_point();
    let apex = a.midpoint(b) + square.to_vec2() * (leg * leg - half * half).max(1.0).sqrt();
    Narrowed { dart: Some(Dart { apex, ..dart.clone() }), width }
}

/// Joins two edges that overlap or part: trimmed to where they cross, or by half
/// of the overlap each, and smoothed.
fn overlapped(a: &Chain, b: &Chain) -> Result<Chain, ChangeError> {
    let what = || ChangeError::geometry("joining the lapped edge");
    let across = b.start() - a.end();
    let overlap = -across.dot(a.end_direction());
    if overlap <= 0.0 {
        return blend_corner(a, b, LAP_REACH).map_err(what());
    }
    let crossing = a
        .crossings(b)
        .into_iter()
        .next_back()
        .filter(|c| a.length() - c.here < 2.0 * overlap + 1.0 && c.there < 2.0 * overlap + 1.0);
    let (cut_a, cut_b) = match crossing {
        Some(c) => (c.here, c.there),
        None => (a.length() - overlap / 2.0, overlap / 2.0),
    };
    let (kept_a, _) = a.split_at(cut_a).map_err(what())?;
    let (_, kept_b) = b.split_at(cut_b).map_err(what())?;
    blend_corner(&kept_a, &kept_b, LAP_REACH).map_err(what())
}

/// Moving strips leaves seam ends that differ by rounding only; they are made to
/// meet exactly.
fn settle_corners(piece: &mut Piece) {
    let count = piece.seams.len();
    for index in 0..count {
        let corner = piece.seams[index].start();
        let before = &mut piece.seams[(index + count - 1) % count];
        let last = before.parts.len() - 1;
        let part = &before.parts[last];
        if part.end().distance(corner) < 1e-3 {
            before.parts[last] = part.with_ends(part.start(), corner);
        }
    }
}
