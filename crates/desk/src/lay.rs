//! Where the pieces lie on the table: side by side at true proportion, at one
//! height, so that front and back can be read across.

use hangtrue_geometry::{Affine, Rect, Vec2};
use hangtrue_pattern::Pattern;

/// Space between two pieces on the table, mm.
const GAP: f64 = 90.0;

/// The move of each piece from its own drawing to the table. It is taken from
/// the starting pattern, so a piece does not wander while it is changed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lay {
    moves: Vec<(String, Vec2)>,
}

impl Lay {
    /// Lays the pieces of a pattern from left to right.
    pub fn of(pattern: &Pattern) -> Self {
        let mut x = 0.0;
        let mut moves = Vec::with_capacity(pattern.pieces.len());
        for piece in &pattern.pieces {
            let bounds = piece.bounds();
            moves.push((piece.name.clone(), Vec2::new(x - bounds.x0, 0.0)));
            x += bounds.width() + GAP;
        }
        Self { moves }
    }

    /// Gives pieces that came later a place to the right of all others.
    pub fn take_in(&mut self, pattern: &Pattern) {
        let is_new = |moves: &[(String, Vec2)], name: &str| !moves.iter().any(|m| m.0 == name);
        if !pattern.pieces.iter().any(|p| is_new(&self.moves, &p.name)) {
            return;
        }
        let known = pattern.pieces.iter().filter(|p| !is_new(&self.moves, &p.name));
        let right = known.map(|p| (p.bounds() + self.shift(&p.name)).x1 + GAP);
        let mut x = right.fold(0.0, f64::max);
        for piece in &pattern.pieces {
            if is_new(&self.moves, &piece.name) {
                let bounds = piece.bounds();
                self.moves.push((piece.name.clone(), Vec2::new(x - bounds.x0, 0.0)));
                x += bounds.width() + GAP;
            }
        }
    }

    /// The move of a piece; none for a piece that was not there at the start.
    pub fn shift(&self, piece: &str) -> Vec2 {
        self.moves.iter().find(|m| m.0 == piece).map_or(Vec2::ZERO, |m| m.1)
    }

    /// The same as an affine map.
    pub fn affine(&self, piece: &str) -> Affine {
        Affine::translate(self.shift(piece))
    }

    /// The box that holds all pieces on the table, mm.
    pub fn bounds(&self, pattern: &Pattern) -> Option<Rect> {
        let boxes = pattern.pieces.iter().map(|p| p.bounds() + self.shift(&p.name));
        boxes.reduce(|a, b| a.union(b))
    }
}
