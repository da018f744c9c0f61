//! The bag of a front pocket: it hangs from the waist, lies along the side seam, and is
//! rounded below.

use crate::names as made;
use crate::opened::Opened;
use hangtrue_geometry::{Chain, CubicBez, GeometryError};
use hangtrue_pattern::{Grain, Piece, Seam, names};

/// The radius of the bag's inner corner, mm: common practice, no published source.
const CORNER: f64 = 50.0;
/// How far the curve of its outer corner is drawn out, in shares of the way.
const DRAWN_OUT: f64 = 0.55;

/// Sizes of a bag, mm.
pub(super) struct Bag {
    /// Along the sewn waist from the side seam.
    pub wide: f64,
    /// Below the waist at the side.
    pub deep: f64,
    /// How far down the side seam it is sewn in.
    pub sewn: f64,
}

impl Bag {
    /// From the waist down its free edge and round to the side seam.
    fn free_edge(&self, piece: &Piece, side: &Opened) -> Result<Chain, GeometryError> {
        let down = -piece.grain.direction();
        let across = {
            let square = piece.grain.square();
            if square.dot(side.waist.start_direction()) < 0.0 { -square } else { square }
        };
        let from = side.waist.point_at(self.wide);
        let to = side.seam.point_at(self.sewn);
        let depth = |p: hangtrue_geometry::Point| (p - side.corner()).dot(down);
        let rounded = CORNER.min(0.3 * (self.deep - depth(from)));
        let straight = from + down * (self.deep - rounded - depth(from));
        let low = straight + (down - across) * rounded;
        let handle = 0.5523 * rounded;
        let inner = CubicBez::new(straight, straight + down * handle, low + across * handle, low);
        let out = DRAWN_OUT * (low - to).dot(across);
        let rise = DRAWN_OUT * (self.deep - depth(to));
        let outer = CubicBez::new(low, low - across * out, to + down * rise, to);
        Chain::line(from, straight).then(&Chain::cubic(inner))?.then(&Chain::cubic(outer))
    }

    /// The seams of the whole bag: waist from the side, free edge, side from below.
    pub fn whole(&self, piece: &Piece, side: &Opened) -> Result<Vec<Seam>, GeometryError> {
        Ok(vec![
            Seam::plain(names::WAIST, names::WAIST_SIDE, side.waist.part(0.0, self.wide)?),
            Seam::plain(made::FREE_EDGE, "waist inside", self.free_edge(piece, side)?),
            Seam::plain(names::SIDE, "side below", side.seam.part(0.0, self.sewn)?.reversed()),
        ])
    }

    /// The seams of the bag without what its front lacks: opening from the side, waist on
    /// from there, free edge, side from below.
    pub fn without(
        &self,
        (piece, side): (&Piece, &Opened),
        opening: &Chain,
        (along, down): (f64, f64),
    ) -> Result<Vec<Seam>, GeometryError> {
        let waist = side.waist.part(along, self.wide)?;
        let below = side.seam.part(down, self.sewn)?.reversed();
        Ok(vec![
            Seam::plain(made::POCKET_OPENING, "pocket at side", opening.reversed()),
            Seam::plain(
                names::WAIST,
                "pocket at waist",
                waist.with_ends(opening.start(), waist.end()),
            ),
            Seam::plain(made::FREE_EDGE, "waist inside", self.free_edge(piece, side)?),
            Seam::plain(names::SIDE, "side below", below.with_ends(below.start(), opening.end())),
        ])
    }

    /// A grainline of the body's direction in the middle of the bag.
    pub fn grain(&self, piece: &Piece, side: &Opened) -> Grain {
        let up = piece.grain.direction();
        let top = side.waist.point_at(0.6 * self.wide);
        let place = |share: f64| top - up * (share * self.deep);
        Grain { from: place(0.75), to: place(0.25) }
    }
}
