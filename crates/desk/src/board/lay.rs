//! Where the pieces lie on the table: side by side at true proportion, at one
//! height, so that front and back can be read across; each with its mate when
//! both legs are to be seen.

use hangtrue_geometry::{Affine, Rect, Vec2};
use hangtrue_pattern::{Pattern, Piece};

/// Space between two pieces on the table, mm.
const GAP: f64 = 90.0;
/// Space between a piece and its mate, mm.
const MATE_GAP: f64 = 40.0;

/// The move of each piece from its own drawing to the table. It is taken from
/// the starting pattern, so a piece does not wander while it is changed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lay {
    moves: Vec<(String, Vec2)>,
    mates: Vec<(String, Affine)>,
}

impl Lay {
    /// Lays the pieces of a pattern from left to right, with their mates when
    /// asked. A mate lies with its centre seam towards that of its piece.
    pub fn of(pattern: &Pattern, with_mates: bool) -> Self {
        let mut x = 0.0;
        let mut lay = Self::default();
        for piece in &pattern.pieces {
            let bounds = piece.bounds();
            let wide = bounds.width();
            let mate_first = with_mates && !centre_is_right(pattern, piece);
            if mate_first {
                // Mirrored, the right edge of the drawing becomes the left.
                lay.mates.push((piece.name.clone(), mirrored_at(x + bounds.x1)));
                x += wide + MATE_GAP;
            }
            lay.moves.push((piece.name.clone(), Vec2::new(x - bounds.x0, 0.0)));
            x += wide;
            if with_mates && !mate_first {
                x += MATE_GAP;
                lay.mates.push((piece.name.clone(), mirrored_at(x + bounds.x1)));
                x += wide;
            }
            x += GAP;
        }
        lay
    }

    /// Gives pieces that came later a place to the right of all others, their tops
    /// level with the highest.
    pub fn take_in(&mut self, pattern: &Pattern) {
        let is_new = |moves: &[(String, Vec2)], name: &str| !moves.iter().any(|m| m.0 == name);
        if !pattern.pieces.iter().any(|p| is_new(&self.moves, &p.name)) {
            return;
        }
        let known = pattern.pieces.iter().filter(|p| !is_new(&self.moves, &p.name));
        let all = known.map(|p| p.bounds() + self.shift(&p.name)).reduce(|a, b| a.union(b));
        let mut x = all.map_or(0.0, |b| b.x1 + GAP);
        for piece in &pattern.pieces {
            if is_new(&self.moves, &piece.name) {
                let bounds = piece.bounds();
                // Drawings from elsewhere lie anywhere; their tops are laid level.
                let up = all.map_or(0.0, |b| b.y1 - bounds.y1);
                self.moves.push((piece.name.clone(), Vec2::new(x - bounds.x0, up)));
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

    /// The map that lays the mate of a piece, when mates are laid.
    pub fn mate(&self, piece: &str) -> Option<Affine> {
        self.mates.iter().find(|m| m.0 == piece).map(|m| m.1)
    }

    /// The box that holds all pieces on the table, mm.
    pub fn bounds(&self, pattern: &Pattern) -> Option<Rect> {
        let boxes = pattern.pieces.iter().flat_map(|p| {
            let mate = self.mate(&p.name).map(|m| m.transform_rect_bbox(p.bounds()));
            [Some(p.bounds() + self.shift(&p.name)), mate].into_iter().flatten()
        });
        boxes.reduce(|a, b| a.union(b))
    }
}

/// Mirrored left to right, so that the drawing's x = 0 comes to `at`.
fn mirrored_at(at: f64) -> Affine {
    Affine::new([-1.0, 0.0, 0.0, 1.0, at, 0.0])
}

/// Whether the seam that a piece shares with its own mirror image lies in its
/// right half.
fn centre_is_right(pattern: &Pattern, piece: &Piece) -> bool {
    let join = pattern.joins.iter().find(|j| j.is_mirror() && j.first.piece == piece.name);
    let seam = join.and_then(|j| piece.seam(&j.first.seam).ok());
    seam.is_some_and(|s| {
        let middle = s.place(hangtrue_pattern::End::Start, s.sewn_length() / 2.0).point;
        middle.x > piece.bounds().center().x
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mates_are_mirror_images_and_nothing_overlaps() {
        let pattern = crate::sample::pattern();
        let lay = Lay::of(&pattern, true);
        let mut boxes = Vec::new();
        for piece in &pattern.pieces {
            let mate = lay.mate(&piece.name).unwrap();
            assert!((mate.determinant() + 1.0).abs() < 1e-12, "a mirror image");
            boxes.push(piece.bounds() + lay.shift(&piece.name));
            boxes.push(mate.transform_rect_bbox(piece.bounds()));
        }
        for (i, a) in boxes.iter().enumerate() {
            for b in &boxes[i + 1..] {
                assert!(a.intersect(*b).area() < 1e-9, "{a:?} {b:?}");
            }
        }
        assert!(Lay::of(&pattern, false).mate("back").is_none());
    }
}
