//! The back that hangs from a yoke: the flat back below the line, what is left of its darts
//! closed, and the same taken off at its side seam.

use super::{ClosedWaist, YokeDepths};
use crate::ChangeError;
use crate::corrections::bench::{Bench, tie};
use crate::corrections::shape::Fade;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Affine, Chain, Vec2, blend_corner, bracketed_root};
use hangtrue_pattern::names::{CROTCH, SIDE, WAIST, YOKE, YOKE_SEAM};
use hangtrue_pattern::{End, Notch, Pattern, Piece, Seam};

/// The upper edge is smoothed over this length on each side of a dart that was closed, mm.
const SMOOTH_REACH: f64 = 40.0;

/// The corners of the yoke's seam.
const AT_SIDE: &str = "yoke at side";
const AT_CENTRE: &str = "yoke at centre";

/// What hangs below a yoke.
pub(super) struct Below {
    /// The piece.
    pub piece: Piece,
    /// What was left of the darts and its side seam takes, mm.
    pub left: f64,
}

/// The back below the line, whose parts on the flat paper are `edges`.
pub(super) fn hung_below(
    whole: &Piece,
    depths: YokeDepths,
    laid: &ClosedWaist,
    edges: Vec<Chain>,
) -> Result<Below, ChangeError> {
    let wanted: f64 = edges.iter().map(Chain::length).sum();
    let left: f64 = (0..laid.met.len()).map(|index| laid.left(index)).sum();
    let open = cut_off(whole, depths, &edges)?;
    let notches = open.notches.clone();
    let edge = closed(&edges)?;
    let flat = Pattern { pieces: vec![open.into()], ..Pattern::default() };
    let mut bench = Bench::new(&flat);
    let name = &whole.name;
    let turn = bench.turn_of(name)?;
    bench.piece_mut(name)?.seam_mut(WAIST)?.parts = vec![edge.moved(turn)];
    tie(bench.piece_mut(name)?)?;
    let taken = |b: &mut Bench<'_>, by: f64| -> Result<f64, ChangeError> {
        let levels = b.levels(name)?;
        b.widen(name, SIDE, &Fade::flat(&[(levels.hip, 0.0), (levels.waist, by)])?)?;
        b.hold_side_at_waist(name)?;
        Ok(b.piece(name)?.seam(WAIST)?.sewn_length() - wanted)
    };
    let room = 1.6 * left + 8.0;
    let miss = |by: f64| bench.tried(|b| taken(b, by)).unwrap_or(f64::NAN);
    let by = bracketed_root(miss, -room, room, 1e-11).map_err(|_| ChangeError::OutOfReach {
        what: format!("what the side seam of the {name} can take of its darts below a yoke"),
        asked: Length(left),
        low: Length(0.0),
        high: Length(room),
    })?;
    taken(&mut bench, by)?;
    let mut piece = bench.finish()?.pattern.piece(name)?.clone();
    // What is matched along the side lies as far from the waist as before.
    piece.notches = notches;
    let seam = piece.seam_mut(WAIST)?;
    (seam.name, seam.starts_at) = (YOKE_SEAM.to_owned(), AT_SIDE.to_owned());
    piece.seam_mut(CROTCH)?.starts_at = AT_CENTRE.to_owned();
    let mut inner = std::mem::take(&mut piece.inner);
    inner.retain(|line| {
        line.name != YOKE && piece.contains(line.chain.point_at(0.5 * line.chain.length()))
    });
    piece.inner = inner;
    piece.check().map_err(ChangeError::BreaksPattern)?;
    Ok(Below { piece, left })
}

/// The flat back cut off along the line, straight across what is open of the darts; its
/// upper edge is called the waist for as long as it is worked on.
fn cut_off(whole: &Piece, depths: YokeDepths, edges: &[Chain]) -> Result<Piece, ChangeError> {
    let cutting =
        |source| ChangeError::Geometry { what: "cutting the yoke off".to_owned(), source };
    let mut piece = whole.clone();
    let (first, last) = (&edges[0], &edges[edges.len() - 1]);
    let starts_at = piece.seam(WAIST)?.starts_at.clone();
    let top = Chain::line(first.start(), last.end());
    *piece.seam_mut(WAIST)? = Seam::plain(WAIST, &starts_at, top);
    let side = piece.seam(SIDE)?.edge().map_err(cutting)?;
    let side = side.part(0.0, side.length() - depths.side).map_err(cutting)?;
    piece.seam_mut(SIDE)?.parts = vec![side.with_ends(side.start(), first.start())];
    let centre = piece.seam(CROTCH)?.edge().map_err(cutting)?;
    let centre = centre.part(depths.centre, centre.length()).map_err(cutting)?;
    piece.seam_mut(CROTCH)?.parts = vec![centre.with_ends(last.end(), centre.end())];
    piece.notches = whole.notches.iter().filter_map(|n| carried(n, depths)).collect();
    Ok(piece)
}

/// A notch on what hangs below; none where its place is on the yoke.
fn carried(notch: &Notch, depths: YokeDepths) -> Option<Notch> {
    let (end, gone) = match notch.seam.as_str() {
        WAIST => return None,
        SIDE => (End::End, depths.side),
        CROTCH => (End::Start, depths.centre),
        _ => return Some(notch.clone()),
    };
    if notch.from != end {
        return Some(notch.clone());
    }
    let distance = notch.distance - gone;
    (distance > 0.0).then(|| Notch { distance, ..notch.clone() })
}

/// The parts of the upper edge brought together, those at the side to the one at the centre,
/// and smoothed where they meet.
fn closed(edges: &[Chain]) -> Result<Chain, ChangeError> {
    let mut by = Vec2::ZERO;
    let mut slid = vec![edges[edges.len() - 1].clone()];
    for pair in edges.windows(2).rev() {
        by += pair[1].start() - pair[0].end();
        slid.push(pair[0].moved(Affine::translate(by)));
    }
    let mut parts = slid.into_iter().rev();
    let first = parts.next().ok_or_else(|| ChangeError::NoYoke {
        piece: YOKE_SEAM.to_owned(),
        why: "its line has no part".to_owned(),
    })?;
    parts.try_fold(first, |edge, part| {
        blend_corner(&edge, &part, SMOOTH_REACH)
            .map_err(ChangeError::geometry("smoothing the yoke’s seam"))
    })
}
