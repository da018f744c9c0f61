//! Where a sewn cloth begins when one like it has come to rest before: each point is
//! laid where the same place of the earlier piece came to lie.

use crate::cloth::{Flat, Position};
use crate::mesh::Mesh;
use crate::sew::{Sewn, SewnPiece};
use std::collections::BTreeMap;

/// The places of `sewn`, from where `earlier` came to rest. A point beyond the earlier
/// piece is laid where its nearest triangle runs on to. `None` when a piece was not
/// there before.
pub fn carry(sewn: &Sewn, earlier: &Sewn, rest: &[Position]) -> Option<Vec<Position>> {
    let mut sums = vec![(Position::zeros(), 0.0); sewn.cloth.vertices];
    for piece in &sewn.pieces {
        let before = earlier.pieces.iter().find(|p| p.name == piece.name)?;
        for (v, at) in carry_piece(piece, before, rest)? {
            sums[v].0 += at;
            sums[v].1 += 1.0;
        }
    }
    let mut places: Vec<Position> = sums.iter().map(|(sum, n)| sum / f64::max(*n, 1.0)).collect();
    for &v in sewn.centre.iter().flatten() {
        places[v].x = 0.0;
    }
    Some(places)
}

fn carry_piece(
    piece: &SewnPiece,
    before: &SewnPiece,
    rest: &[Position],
) -> Option<Vec<(usize, Position)>> {
    let finder = Finder::of(&before.mesh);
    let place = |(k, p): (usize, &Flat)| {
        let found = finder.find(*p).or_else(|| before.mesh.locate(*p))?;
        Some((piece.vertex[k], before.at(found, rest)))
    };
    piece.mesh.points.iter().enumerate().map(place).collect()
}

/// Triangles by the squares of a grid they touch.
struct Finder<'m> {
    mesh: &'m Mesh,
    squares: BTreeMap<[i64; 2], Vec<usize>>,
}

/// The side of a square, mm.
const SQUARE: f64 = 30.0;

impl<'m> Finder<'m> {
    fn of(mesh: &'m Mesh) -> Self {
        let mut squares = BTreeMap::<[i64; 2], Vec<usize>>::new();
        for (index, t) in mesh.triangles.iter().enumerate() {
            let corners = t.map(|v| mesh.points[v]);
            let low = square(corners[0].inf(&corners[1]).inf(&corners[2]));
            let high = square(corners[0].sup(&corners[1]).sup(&corners[2]));
            for x in low[0]..=high[0] {
                for y in low[1]..=high[1] {
                    squares.entry([x, y]).or_default().push(index);
                }
            }
        }
        Self { mesh, squares }
    }

    /// The triangle a point lies in and its shares of the corners.
    fn find(&self, p: Flat) -> Option<(usize, [f64; 3])> {
        let near = self.squares.get(&square(p))?;
        let shares = near.iter().map(|&t| (t, self.mesh.shares(t, p)));
        shares.into_iter().find(|(_, s)| s.iter().all(|s| *s > -1e-9))
    }
}

fn square(p: Flat) -> [i64; 2] {
    [(p.x / SQUARE).floor() as i64, (p.y / SQUARE).floor() as i64]
}
