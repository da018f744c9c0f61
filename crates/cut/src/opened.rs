//! A seam that is opened from the waist down, as it lies on its piece.

use crate::{CutError, sewn_edge};
use hangtrue_geometry::{Affine, Chain, Line, Point, Vec2};
use hangtrue_pattern::{End, Grain, Piece, names};

/// Where a piece is opened. Mm.
pub(crate) struct Opened {
    /// The seam from the waist down.
    pub seam: Chain,
    /// The sewn waist from that seam on into the piece.
    pub waist: Chain,
    /// +1 when the piece lies to the left of the seam as it runs down, −1 to the right.
    pub inside: f64,
    /// The waist's end of the seam.
    pub waist_end: End,
}

impl Opened {
    /// The centre seam of a piece, or its side seam.
    ///
    /// # Errors
    /// [`CutError`] when the piece has no waist beside such a seam.
    pub fn of(piece: &Piece, seam: &str) -> Result<Self, CutError> {
        let sewn = sewn_edge(piece)?;
        let at_centre = seam == names::CROTCH;
        // Round the outline a seam runs down from the waist when it follows it.
        let runs_down = at_centre == sewn.from_side;
        let inside = piece.orientation() * if runs_down { 1.0 } else { -1.0 };
        // A sewn waist lies where its side is flat.
        let flat = if at_centre { sewn.at_centre.inverse() } else { Affine::IDENTITY };
        let (edge, waist) = if at_centre {
            (&sewn.centre, sewn.edge.reversed())
        } else {
            (&sewn.side, sewn.edge.clone())
        };
        piece.seam(seam)?;
        Ok(Self {
            seam: edge.moved(flat),
            waist: waist.moved(flat),
            inside,
            waist_end: if runs_down { End::Start } else { End::End },
        })
    }

    /// The corner of waist and seam.
    pub fn corner(&self) -> Point {
        self.seam.start()
    }

    /// The seam drawn on straight past the waist, running down.
    pub fn fold(&self) -> Line {
        Line::new(self.corner(), self.corner() + self.seam.start_direction())
    }

    /// How far the seam leaves the straight between its waist's end and a place on it, mm.
    pub fn bow(&self, length: f64) -> f64 {
        let (a, b) = (self.corner(), self.seam.point_at(length));
        let across = (b - a).normalize();
        let off = |s: f64| across.cross(self.seam.point_at(s) - a).abs();
        (0..=20).map(|i| off(f64::from(i) / 20.0 * length)).fold(0.0, f64::max)
    }

    /// The farthest place on the seam, no farther than `most` from the waist, as far as which
    /// it leaves the straight by no more than `bow`, mm.
    pub fn straight_within(&self, bow: f64, most: f64) -> f64 {
        if self.bow(most) <= bow {
            return most;
        }
        // Halved often enough for a tenth of a mm.
        let (mut least, mut most) = (0.0, most);
        while most - least > 0.1 {
            let middle = 0.5 * (least + most);
            if self.bow(middle) <= bow { least = middle } else { most = middle }
        }
        least
    }

    /// A grainline of the body's direction beside the seam, `away` to its left, as far as the
    /// middle of `length`.
    pub fn grain(&self, piece: &Piece, away: f64, length: f64) -> Grain {
        let (at, down) = self.seam.place_at(0.45 * length);
        let left = Vec2::new(-down.y, down.x);
        let middle = at + left * away;
        let reach = piece.grain.direction() * (0.25 * length);
        Grain { from: middle - reach, to: middle + reach }
    }
}
