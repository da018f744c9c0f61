//! A pattern sewn together: each piece cut into triangles with the same count of
//! points on both sides of a seam, so that what is sewn together is one vertex.

use crate::cloth::{Cloth, Flat, Position};
use crate::mesh::{Grid, Mesh, triangulate};
use hangtrue_geometry::Point;
use hangtrue_pattern::{End, Leg, Pattern, Piece, names};
use std::collections::BTreeMap;

/// Why a pattern cannot be sewn to a toile.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SewError {
    /// A piece that is neither a back nor a front.
    #[error("the piece {piece} is neither a back nor a front: only those are laid on the body")]
    NoPlace {
        /// The piece.
        piece: String,
    },
    /// A seam a trouser piece needs is not there.
    #[error("the {piece} has no {seam} seam; a toile needs waist, crotch, inseam, hem and side")]
    NoSeam {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
    },
    /// A seam is sewn to nothing.
    #[error(
        "the {seam} of the {piece} is sewn to nothing: join it before it is worked out how the toile hangs"
    )]
    NotJoined {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
    },
    /// A piece could not be cut into triangles.
    #[error("the {piece} could not be cut into triangles: its outline touches or crosses itself")]
    NotMeshed {
        /// The piece.
        piece: String,
    },
}

/// One piece of the sewn cloth.
#[derive(Debug, Clone)]
pub struct SewnPiece {
    /// Its name in the pattern.
    pub name: String,
    /// Whether it is a back (or else a front).
    pub back: bool,
    /// The leg it is worn on.
    pub leg: Leg,
    /// The piece, flat, grain upright, as if for the right leg.
    pub mesh: Mesh,
    /// The vertex of the cloth each point became.
    pub vertex: Vec<usize>,
    /// For each seam its name, its points and their sewn distance from its start.
    pub seams: Vec<(String, Vec<(usize, f64)>)>,
}

impl SewnPiece {
    /// Where a place of a triangle, with its shares of the corners, lies on the cloth.
    pub(crate) fn at(&self, (t, shares): (usize, [f64; 3]), cloth: &[Position]) -> Position {
        let [a, b, c] = self.mesh.triangles[t].map(|corner| cloth[self.vertex[corner]]);
        a * shares[0] + b * shares[1] + c * shares[2]
    }
}

/// A sewn pattern.
#[derive(Debug, Clone)]
pub struct Sewn {
    /// The cloth.
    pub cloth: Cloth,
    /// Its pieces.
    pub pieces: Vec<SewnPiece>,
    /// When the pattern serves both legs only the right is sewn, and these vertices
    /// lie in the plane between the legs.
    pub centre: Option<Vec<usize>>,
}

/// The seams a trouser piece has.
const SEAMS: [&str; 5] = [names::WAIST, names::CROTCH, names::INSEAM, names::HEM, names::SIDE];

/// Where points lie along a seam, as sewn distances from its start.
type Marks = BTreeMap<(usize, usize), Vec<f64>>;

/// Sews a pattern.
///
/// # Errors
/// [`SewError`].
pub fn sew(pattern: &Pattern, grid: Grid) -> Result<Sewn, SewError> {
    let marks = marks(pattern, grid)?;
    let mut pieces = Vec::new();
    let mut ties: Vec<(usize, usize)> = Vec::new();
    let mut count = 0;
    for (index, piece) in pattern.pieces.iter().enumerate() {
        let (sewn, darts) = piece_mesh(piece, index, &marks, grid, count)?;
        ties.extend(darts);
        count += sewn.mesh.points.len();
        pieces.push(sewn);
    }
    let centre = sew_joins(pattern, &pieces, &mut ties);
    let vertex = one_for_all(count, &ties);
    let mut cloth =
        Cloth { vertices: 1 + vertex.iter().max().copied().unwrap_or(0), ..Cloth::default() };
    for piece in &mut pieces {
        piece.vertex.iter_mut().for_each(|v| *v = vertex[*v]);
        for t in &piece.mesh.triangles {
            cloth.triangles.push(t.map(|p| piece.vertex[p]));
            cloth.flat.push(t.map(|p| piece.mesh.points[p]));
        }
    }
    let centre = centre.map(|found| {
        let mut found: Vec<usize> = found.into_iter().map(|v| vertex[v]).collect();
        found.sort_unstable();
        found.dedup();
        found
    });
    Ok(Sewn { cloth, pieces, centre })
}

/// Whether a piece is a back, by its own name or the one it was parted from.
fn is_back(piece: &Piece) -> Option<bool> {
    let base = piece.parted.as_ref().map_or(piece.name.as_str(), |p| p.from.as_str());
    match base {
        names::BACK => Some(true),
        names::FRONT => Some(false),
        _ => None,
    }
}

/// Where points lie on every seam: evenly, with the ends of all parts on either
/// side, and the same on both.
fn marks(pattern: &Pattern, grid: Grid) -> Result<Marks, SewError> {
    let mut marks = Marks::new();
    for (p, piece) in pattern.pieces.iter().enumerate() {
        for name in SEAMS {
            if piece.seam_index(name).is_err() {
                return Err(SewError::NoSeam { piece: piece.name.clone(), seam: name.into() });
            }
        }
        for (s, seam) in piece.seams.iter().enumerate() {
            let joins: Vec<_> = pattern.joins_of(&piece.name, &seam.name).collect();
            let free = [names::WAIST, names::HEM].contains(&seam.name.as_str());
            if joins.is_empty() && !free {
                return Err(SewError::NotJoined {
                    piece: piece.name.clone(),
                    seam: seam.name.clone(),
                });
            }
            let mut breaks = vec![breaks(seam, End::Start)];
            let mut longest = seam.sewn_length();
            for join in &joins {
                let Some(own) = join.side_on(&piece.name) else { continue };
                for side in join.sides() {
                    let Ok(other) = pattern.piece(&side.piece).and_then(|p| p.seam(&side.seam))
                    else {
                        continue;
                    };
                    let mut there = self::breaks(other, side.from);
                    if own.from == End::End {
                        there.iter_mut().for_each(|f| *f = 1.0 - *f);
                    }
                    breaks.push(there);
                    longest = longest.max(other.sewn_length());
                }
            }
            let fractions = fractions(breaks.into_iter().flatten().collect(), longest, grid.side);
            marks.insert((p, s), fractions);
        }
    }
    Ok(marks)
}

/// Where a seam's parts end, as fractions of its sewn length from that end.
fn breaks(seam: &hangtrue_pattern::Seam, from: End) -> Vec<f64> {
    let whole = seam.sewn_length();
    let mut along = 0.0;
    let mut found = vec![0.0];
    for part in &seam.parts {
        along += part.length();
        found.push(along / whole);
    }
    if let Some(last) = found.last_mut() {
        *last = 1.0;
    }
    if from == End::End {
        found.iter_mut().for_each(|f| *f = 1.0 - *f);
    }
    found
}

/// Even marks between the given ones, as fractions.
fn fractions(mut given: Vec<f64>, length: f64, side: f64) -> Vec<f64> {
    given.sort_by(f64::total_cmp);
    given.dedup_by(|b, a| (*b - *a) * length < 1e-6);
    let mut found = vec![0.0];
    for pair in given.windows(2) {
        let count = ((pair[1] - pair[0]) * length / side).round().max(1.0);
        let steps = count as usize;
        found.extend((1..=steps).map(|k| pair[0] + (pair[1] - pair[0]) * k as f64 / count));
    }
    found
}

/// Lays a point of the paper with the grain upright and, for a left piece, turned
/// over, so that it lies as a right one.
pub(crate) struct GrainFrame {
    square: hangtrue_geometry::Vec2,
    grain: hangtrue_geometry::Vec2,
    sign: f64,
}

impl GrainFrame {
    pub(crate) fn of(piece: &Piece) -> Self {
        let sign = if piece.leg() == Some(Leg::Left) { -1.0 } else { 1.0 };
        Self { square: piece.grain.square(), grain: piece.grain.direction(), sign }
    }

    pub(crate) fn place(&self, p: Point) -> Flat {
        let way = p.to_vec2();
        Flat::new(self.sign * way.dot(self.square), way.dot(self.grain))
    }
}

/// The mesh of a piece, and the pairs of points its darts bring together.
fn piece_mesh(
    piece: &Piece,
    index: usize,
    marks: &Marks,
    grid: Grid,
    first: usize,
) -> Result<(SewnPiece, Vec<(usize, usize)>), SewError> {
    let laid = GrainFrame::of(piece);
    let back = is_back(piece).ok_or_else(|| SewError::NoPlace { piece: piece.name.clone() })?;
    let mut outline: Vec<Flat> = Vec::new();
    let mut seams = Vec::new();
    let mut ties = Vec::new();
    for (s, seam) in piece.seams.iter().enumerate() {
        let whole = seam.sewn_length();
        let mut points = Vec::new();
        let mut before = 0.0;
        let empty = Vec::new();
        let fractions = marks.get(&(index, s)).unwrap_or(&empty);
        for (k, part) in seam.parts.iter().enumerate() {
            let after = before + part.length();
            let last = k + 1 == seam.parts.len();
            let mut ends = vec![before];
            ends.extend(
                fractions
                    .iter()
                    .map(|f| f * whole)
                    .filter(|m| *m > before + 1e-6 && *m < after - 1e-6),
            );
            for position in &ends {
                points.push((outline.len(), *position));
                outline.push(laid.place(part.point_at(position - before)));
            }
            if !last {
                points.push((outline.len(), after));
                let mouth = outline.len();
                outline.push(laid.place(part.end()));
                let (apex, next) =
                    (laid.place(seam.darts[k].apex), laid.place(seam.parts[k + 1].start()));
                let from = outline[mouth];
                let count = ((apex - from).norm() / grid.side).round().max(1.0) as usize;
                let at = |end: Flat, i: usize| end + (apex - end) * (i as f64 / count as f64);
                outline.extend((1..count).map(|i| at(from, i)));
                outline.push(apex);
                outline.extend((1..count).rev().map(|i| at(next, i)));
                let other = outline.len();
                ties.extend((0..count).map(|i| (first + mouth + i, first + other - i)));
            }
            before = after;
        }
        // The seam's end is the next one's start.
        points.push((outline.len(), whole));
        seams.push((seam.name.clone(), points));
    }
    if let Some(end) = seams.last_mut().and_then(|s| s.1.last_mut()) {
        end.0 = 0;
    }
    let mesh = triangulate(&outline, grid)
        .map_err(|_| SewError::NotMeshed { piece: piece.name.clone() })?;
    let vertex = (first..first + mesh.points.len()).collect();
    let leg = piece.leg().unwrap_or(Leg::Right);
    Ok((SewnPiece { name: piece.name.clone(), back, leg, mesh, vertex, seams }, ties))
}

/// Ties the points of joined seams; those of a seam sewn to its own mirror image
/// are given back.
fn sew_joins(
    pattern: &Pattern,
    pieces: &[SewnPiece],
    ties: &mut Vec<(usize, usize)>,
) -> Option<Vec<usize>> {
    let mut centre = Vec::new();
    let points = |side: &hangtrue_pattern::JoinSide| -> Vec<usize> {
        let Some(piece) = pieces.iter().find(|p| p.name == side.piece) else { return Vec::new() };
        let Some((_, points)) = piece.seams.iter().find(|s| s.0 == side.seam) else {
            return Vec::new();
        };
        // Both sides of a dart's mouth stand at one place: the first is taken.
        let mut last = f64::NEG_INFINITY;
        let mut found = Vec::with_capacity(points.len());
        for (point, position) in points {
            if position - last > 1e-6 {
                found.push(piece.vertex[*point]);
                last = *position;
            }
        }
        if side.from == End::End {
            found.reverse();
        }
        found
    };
    for join in &pattern.joins {
        let first = points(&join.first);
        match &join.second {
            Some(second) => ties.extend(first.into_iter().zip(points(second))),
            None => centre.extend(first),
        }
    }
    (!pattern.is_apart()).then_some(centre)
}

/// A number for each group of points tied together, in order.
fn one_for_all(count: usize, ties: &[(usize, usize)]) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..count).collect();
    fn root(parent: &mut [usize], mut v: usize) -> usize {
        while parent[v] != v {
            parent[v] = parent[parent[v]];
            v = parent[v];
        }
        v
    }
    for &(a, b) in ties {
        let (a, b) = (root(&mut parent, a), root(&mut parent, b));
        let (low, high) = (a.min(b), a.max(b));
        parent[high] = low;
    }
    let mut number = vec![usize::MAX; count];
    let mut next = 0;
    for v in 0..count {
        let r = root(&mut parent, v);
        if number[r] == usize::MAX {
            number[r] = next;
            next += 1;
        }
        number[v] = number[r];
    }
    number
}
