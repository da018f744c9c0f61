//! The line that settles level: where on the flat pieces the settled cloth lies at one
//! height. Marking a line changes no cloth, so one settling is enough.

use crate::cloth::Position;
use crate::hanging::CLAIMED;
use crate::predict::{Rest, Settled};
use crate::sew::{GrainFrame, SewnPiece};
use hangtrue_geometry::Point;
use hangtrue_pattern::rule::Bowed;
use hangtrue_pattern::{End, Leg, Pattern, Piece, PlacedLine, Purpose, ReferenceLine, SeamPlace};
use nalgebra::{Matrix3, Vector3};

/// A line drawn so that it settles level.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelLine {
    /// The line, ready to be marked.
    pub line: ReferenceLine,
    /// The height it settles at, mm above the floor.
    pub height: f64,
    /// The most the curve leaves that height on the cloth it was drawn from, mm.
    pub off: f64,
    /// The ± to be claimed for its droops, mm: what other starts and meshes make of it,
    /// and no less than is ever claimed.
    pub plus_minus: f64,
}

/// Why no level line is drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LevelError {
    /// There is no such line.
    #[error(
        "no piece has a line called “{line}”; mark it first, straight, where it is to be level"
    )]
    NoLine {
        /// The line.
        line: String,
    },
    /// It does not run from seam to seam.
    #[error(
        "the {line} line of the {piece} does not run from one seam to another, so it has no ends to be level between"
    )]
    NoEnds {
        /// The piece.
        piece: String,
        /// The line.
        line: String,
    },
    /// The cloth is nowhere at that height there.
    #[error(
        "the {line} line of the {piece} cannot be drawn level: the cloth does not reach its height near the line where it hangs"
    )]
    NoLevel {
        /// The piece.
        piece: String,
        /// The line.
        line: String,
    },
}

/// Why a level line is there.
pub const LEVEL_REASON: &str =
    "bowed so that it hangs level when worn: predicted on a body of these measures, not seen";

/// Looked for along a seam this far from the straight line, mm; and across the piece
/// this far below and above it.
const ALONG_SEAM: f64 = 80.0;
const BELOW: f64 = -70.0;
const ABOVE: f64 = 110.0;
/// Crossings of the height are looked for in steps of this, mm.
const STEP: f64 = 2.0;
/// Places along the line the curve is fitted to.
const FITTED: usize = 24;

/// How a level line is called beside a straight one.
pub fn level_name(line: &str) -> String {
    format!("level {line}")
}

/// The lines that settle level at the mean height of the ends of all lines of a name, one
/// for each piece that has it, and for each leg where the legs have pieces of their own.
///
/// # Errors
/// [`LevelError`].
pub fn level_when_worn(
    pattern: &Pattern,
    settled: &Settled,
    line: &str,
) -> Result<Vec<LevelLine>, LevelError> {
    let (placed, _) = pattern.place_lines();
    let named: Vec<&PlacedLine> = placed.iter().filter(|l| l.name == line).collect();
    let mut found = Vec::new();
    for leg in [None, Some(Leg::Left), Some(Leg::Right)] {
        let of_leg = |l: &&&PlacedLine| pattern.piece(&l.piece).is_ok_and(|p| p.leg() == leg);
        let own: Vec<&PlacedLine> = named.iter().filter(of_leg).copied().collect();
        if own.is_empty() {
            continue;
        }
        let settled_pieces: Result<Vec<_>, _> =
            own.iter().map(|l| settled_piece(pattern, settled, l)).collect();
        let settled_pieces = settled_pieces?;
        let ends: Vec<f64> = own
            .iter()
            .zip(&settled_pieces)
            .flat_map(|(l, s)| [l.chain.start(), l.chain.end()].map(|p| s.height(p)))
            .flatten()
            .collect();
        let height = ends.iter().sum::<f64>() / ends.len().max(1) as f64;
        for (l, worn) in own.iter().zip(&settled_pieces) {
            found.push(drawn(pattern, settled, l, worn, height)?);
        }
    }
    if found.is_empty() {
        return Err(LevelError::NoLine { line: line.to_owned() });
    }
    Ok(found)
}

/// A piece and its settled cloth.
struct SettledPiece<'a> {
    piece: &'a Piece,
    laid: GrainFrame,
    cloth: &'a SewnPiece,
    rest: &'a [Position],
}

impl<'a> SettledPiece<'a> {
    fn on(piece: &'a Piece, rest: &'a Rest) -> Option<Self> {
        let cloth = rest.sewn.pieces.iter().find(|p| p.name == piece.name)?;
        Some(Self { piece, laid: GrainFrame::of(piece), cloth, rest: &rest.places })
    }

    /// How high a place of the paper lies on the settled cloth, mm.
    fn height(&self, p: Point) -> Option<f64> {
        let found = self.cloth.mesh.locate(self.laid.place(p))?;
        Some(self.cloth.at(found, self.rest).z)
    }

    /// The place of a seam nearest to `near` that lies at a height.
    fn on_seam(&self, seam: &str, near: f64, height: f64) -> Option<SeamPlace> {
        let found = self.piece.seam(seam).ok()?;
        let long = found.sewn_length();
        let off = |position: f64| {
            let p = found.place(End::Start, position).point;
            self.height(p).map(|h| h - height)
        };
        let (low, high) = ((near - ALONG_SEAM).max(0.0), (near + ALONG_SEAM).min(long));
        let position = crossing(off, (low, high), near)?;
        let up = self.piece.grain.direction();
        let rises = (found.end_point(End::End) - found.end_point(End::Start)).dot(up) > 0.0;
        let from = if rises { End::End } else { End::Start };
        Some(SeamPlace {
            seam: seam.to_owned(),
            from,
            distance: found.distance_from(from, position),
        })
    }
}

/// Where a function is nought nearest to a place between two ends.
fn crossing(f: impl Fn(f64) -> Option<f64>, (low, high): (f64, f64), near: f64) -> Option<f64> {
    let count = ((high - low) / STEP).ceil().max(1.0) as usize;
    let at = |k: usize| low + (high - low) * k as f64 / count as f64;
    let values: Vec<Option<f64>> = (0..=count).map(|k| f(at(k))).collect();
    let mut best: Option<f64> = None;
    for k in 0..count {
        let (Some(a), Some(b)) = (values[k], values[k + 1]) else { continue };
        if (a > 0.0) == (b > 0.0) {
            continue;
        }
        // Cloth is flat in each triangle: straight between is near, a few halvings are exact.
        let (mut from, mut to) = (at(k), at(k + 1));
        for _ in 0..20 {
            let half = 0.5 * (from + to);
            if (f(half)? > 0.0) == (a > 0.0) { from = half } else { to = half }
        }
        let found = 0.5 * (from + to);
        if best.is_none_or(|b| (found - near).abs() < (b - near).abs()) {
            best = Some(found);
        }
    }
    best
}

fn no_level(line: &PlacedLine) -> LevelError {
    LevelError::NoLevel { piece: line.piece.clone(), line: line.name.clone() }
}

fn settled_piece<'a>(
    pattern: &'a Pattern,
    settled: &'a Settled,
    line: &PlacedLine,
) -> Result<SettledPiece<'a>, LevelError> {
    let piece = pattern.piece(&line.piece).map_err(|_| no_level(line))?;
    SettledPiece::on(piece, &settled.first).ok_or_else(|| no_level(line))
}

fn drawn(
    pattern: &Pattern,
    settled: &Settled,
    line: &PlacedLine,
    worn: &SettledPiece<'_>,
    height: f64,
) -> Result<LevelLine, LevelError> {
    let [first, .., last] = line.ends.as_slice() else {
        return Err(LevelError::NoEnds { piece: line.piece.clone(), line: line.name.clone() });
    };
    let place = |end: &hangtrue_pattern::LineEnd| {
        worn.on_seam(&end.seam, end.position, height).ok_or_else(|| no_level(line))
    };
    let mut bowed = Bowed { first: place(first)?, second: place(last)?, ..Bowed::default() };
    let point =
        |at: &SeamPlace| worn.piece.seam(&at.seam).map(|s| s.place(at.from, at.distance).point);
    let (Ok(a), Ok(b)) = (point(&bowed.first), point(&bowed.second)) else {
        return Err(no_level(line));
    };
    let across = worn.piece.grain.direction();
    let along = b - a;
    let square = hangtrue_geometry::Vec2::new(-along.y, along.x) / along.hypot().max(1e-9);
    let up = if square.dot(across) < 0.0 { -square } else { square };
    let mut near = 0.0;
    let mut outs = Vec::with_capacity(FITTED);
    for k in 1..FITTED {
        let share = k as f64 / FITTED as f64;
        let off = |out: f64| {
            let p = a + along * share + up * out;
            let inside = worn.piece.contains(p);
            inside.then(|| worn.height(p).map(|h| h - height)).flatten()
        };
        let out = crossing(off, (BELOW, ABOVE), near).ok_or_else(|| no_level(line))?;
        near = out;
        outs.push((share, out));
    }
    [bowed.first_quarter, bowed.middle, bowed.last_quarter] =
        fitted(&outs).ok_or_else(|| no_level(line))?;
    let curve = |share: f64| a + along * share + up * bowed.out(share).0;
    let leaves = outs.iter().filter_map(|(share, _)| worn.height(curve(*share)));
    let off = leaves.map(|h| (h - height).abs()).fold(0.0, f64::max);
    let mut plus_minus = CLAIMED.max(off);
    for other in &settled.others {
        let Some(other) =
            pattern.piece(&line.piece).ok().and_then(|piece| SettledPiece::on(piece, other))
        else {
            continue;
        };
        let (Some(from), Some(to)) = (other.height(a), other.height(b)) else { continue };
        for (share, _) in &outs {
            let Some(h) = other.height(curve(*share)) else { continue };
            plus_minus = plus_minus.max((from + (to - from) * share - h).abs());
        }
    }
    let line = ReferenceLine {
        name: level_name(&line.name),
        piece: line.piece.clone(),
        rule: bowed.into(),
        purpose: Purpose::Cloth(LEVEL_REASON.into()),
        last: None,
        cloth: None,
    };
    Ok(LevelLine { line, height, off, plus_minus })
}

/// The three numbers of a bow that come nearest to places out of the straight, by least
/// squares.
fn fitted(outs: &[(f64, f64)]) -> Option<[f64; 3]> {
    let basis = |share: f64| {
        let of = |k: usize| {
            let one = |j: usize| if j == k { 1.0 } else { 0.0 };
            let bow = Bowed {
                first_quarter: one(0),
                middle: one(1),
                last_quarter: one(2),
                ..Bowed::default()
            };
            bow.out(share).0
        };
        Vector3::new(of(0), of(1), of(2))
    };
    let (mut matrix, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (share, out) in outs {
        let b = basis(*share);
        matrix += b * b.transpose();
        right += b * *out;
    }
    let found = matrix.try_inverse()? * right;
    Some([found.x, found.y, found.z])
}
