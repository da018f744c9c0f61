//! Cloth left on beyond the allowance beside a seam that is opened: a facing cut in one with
//! its piece, or a zip's wide allowance. It is folded at the seam, so above it ends as the
//! waist's cut edge mirrored at the fold: turned in, edge lies on edge.

use crate::allowance::{outside, seam_with_caps};
use crate::opened::Opened;
use crate::{Allowance, CutError};
use hangtrue_geometry::{Affine, Chain, GeometryError, Line};
use hangtrue_pattern::{End, Piece, names};

/// What is to be left on.
#[derive(Debug, Clone)]
pub(crate) struct Growth {
    /// The seam.
    pub seam: &'static str,
    /// Its free edge, from above the waist down to its foot on the seam.
    pub edge: Chain,
    /// How far it stands beyond the seam, mm.
    pub width: f64,
    /// How far down the seam its edge runs beside it, mm.
    pub runs: f64,
}

/// What was left on. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Grown {
    /// The seam.
    pub seam: String,
    /// The end of the seam at the waist.
    pub waist_end: End,
    /// How far it stands beyond the seam.
    pub width: f64,
    /// How far from the waist its edge runs beside the seam.
    pub runs: f64,
    /// How far from the waist it ends.
    pub ends: f64,
}

impl Growth {
    /// The cut line with the cloth left on, and what that is; none where the allowance is as
    /// wide already.
    ///
    /// # Errors
    /// [`CutError::AllowanceShape`] when the line cannot be drawn.
    pub fn on(
        &self,
        piece: &Piece,
        cut: &Chain,
        allowance: &Allowance,
    ) -> Result<Option<(Chain, Grown)>, CutError> {
        let opened = Opened::of(piece, self.seam)?;
        let along = allowance.along(&piece.name, self.seam);
        if along.most() >= self.width {
            return Ok(None);
        }
        let wrong = |why: String| CutError::AllowanceShape { piece: piece.name.clone(), why };
        let ring = self.around(piece, cut, allowance, &opened);
        let ring = ring.map_err(|e| wrong(format!("beside the {}, {e}", self.seam)))?;
        let Some(ring) = ring else {
            return Err(wrong(format!(
                "what is cut on beside the {} does not meet its waist; make it narrower",
                self.seam
            )));
        };
        let foot = opened.seam.nearest(self.edge.end()).position;
        let grown = Grown {
            seam: self.seam.to_owned(),
            waist_end: opened.waist_end,
            width: self.width,
            runs: self.runs,
            ends: foot,
        };
        Ok(Some((ring, grown)))
    }

    /// The cut line led round the cloth; none when its edge does not meet the waist's.
    fn around(
        &self,
        piece: &Piece,
        cut: &Chain,
        allowance: &Allowance,
        opened: &Opened,
    ) -> Result<Option<Chain>, GeometryError> {
        let fold = opened.fold();
        let Some(at_fold) = waist_at_fold(piece, allowance, opened, fold)? else { return Ok(None) };
        // From the fold the waist's cut edge runs back into the piece, and the cut line goes
        // on down the seam.
        let runs_down = opened.waist_end == End::Start;
        let cut = if runs_down { cut.clone() } else { cut.reversed() };
        let ring = opened_at(&cut, cut.nearest(at_fold).position)?;
        let whole = ring.length();
        let reach = (3.0 * self.width + 20.0).min(whole / 3.0);
        let mirror = Affine::reflect(fold.p0, fold.p1 - fold.p0);
        let top = ring.part(whole - reach, whole)?.reversed().moved(mirror);
        let top = top.with_ends(ring.start(), top.end());
        let highest = |a: &&hangtrue_geometry::Crossing, b: &&hangtrue_geometry::Crossing| {
            a.there.total_cmp(&b.there)
        };
        let met = self.edge.crossings(&top);
        let Some(above) = met.iter().min_by(highest) else { return Ok(None) };
        let (from_top, foot) = (above.here, self.edge.length());
        // The cut line is met again at the foot: nearest to it.
        let beyond = self.edge.crossings(&ring);
        let beyond = beyond.iter().filter(|c| c.here > from_top + 1.0 && c.there > self.runs / 2.0);
        let (leaves, back_at) = match beyond.max_by(|a, b| a.here.total_cmp(&b.here)) {
            Some(c) => (c.here, c.there),
            None => (foot, ring.nearest(self.edge.end()).position),
        };
        let edge = self.edge.part(from_top, leaves)?;
        let top = top.part(0.0, above.there)?;
        let top = top.with_ends(ring.start(), edge.start());
        let rest = ring.part(back_at, whole)?;
        let rest = rest.with_ends(edge.end(), rest.end());
        let led = top.then(&edge)?.then(&rest)?;
        Ok(Some(if runs_down { led } else { led.reversed() }))
    }
}

/// Where the waist's cut edge meets the fold.
fn waist_at_fold(
    piece: &Piece,
    allowance: &Allowance,
    opened: &Opened,
    fold: Line,
) -> Result<Option<hangtrue_geometry::Point>, GeometryError> {
    let Ok(waist) = piece.seam(names::WAIST) else { return Ok(None) };
    let Ok(edge) = seam_with_caps(waist) else { return Ok(None) };
    let width = allowance.along(&piece.name, names::WAIST);
    let edge = outside(&edge, width, piece.orientation())?;
    let starts_here =
        waist.start().distance(opened.corner()) < waist.end().distance(opened.corner());
    let towards = if starts_here { edge.reversed() } else { edge };
    let longer = towards.lengthened(2.0 * width.most() + 5.0)?;
    let met = longer.crossings_with_line(fold).into_iter();
    Ok(met.max_by(|a, b| a.here.total_cmp(&b.here)).map(|c| c.point))
}

/// A closed line opened at another place.
fn opened_at(ring: &Chain, at: f64) -> Result<Chain, GeometryError> {
    let whole = ring.length();
    if at < 1e-6 || at > whole - 1e-6 {
        return Ok(ring.clone());
    }
    let (before, after) = ring.split_at(at)?;
    let before = before.with_ends(after.end(), before.end());
    after.then(&before)
}
