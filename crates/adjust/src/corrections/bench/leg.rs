//! Moves along the leg and at the crotch point.

use super::super::shape::{Fade, Stretch};
use super::Bench;
use super::ends::{first_knot_moved, last_knot_moved, tie};
use crate::ChangeError;
use crate::hook::Hook;
use hangtrue_geometry::{Vec2, bracketed_root};
use hangtrue_pattern::names::{CROTCH, HEM, INSEAM, SIDE, WAIST_CENTRE, WAIST_SIDE};

/// The hem is parted at a joint that lies this near to its middle, mm.
const JOINT: f64 = 0.5;

impl Bench<'_> {
    /// +1 when the outside of the leg at this seam lies to the right.
    pub(crate) fn outward(&self, piece: &str, seam: &str) -> Result<f64, ChangeError> {
        let piece = self.piece(piece)?;
        let side_right = piece.corner(WAIST_SIDE)?.x > piece.corner(WAIST_CENTRE)?.x;
        Ok(if side_right == (seam == SIDE) { 1.0 } else { -1.0 })
    }

    /// Shifts a seam outwards (the leg grows) by a fade.
    pub(crate) fn widen(
        &mut self,
        piece: &str,
        seam: &str,
        fade: &Fade,
    ) -> Result<(), ChangeError> {
        let sign = self.outward(piece, seam)?;
        self.shift(piece, seam, fade, sign)
    }

    /// Shifts both seams of a leg towards the inseam by a fade.
    pub(crate) fn swing(&mut self, piece: &str, fade: &Fade) -> Result<(), ChangeError> {
        let sign = self.outward(piece, INSEAM)?;
        self.shift(piece, SIDE, fade, sign)?;
        self.shift(piece, INSEAM, fade, sign)
    }

    /// Moves the grain line of a piece towards the inseam by so much, mm; it stays upright.
    pub(crate) fn shift_grain(&mut self, name: &str, by: f64) -> Result<(), ChangeError> {
        let by = by * self.outward(name, INSEAM)?;
        let grain = &mut self.piece_mut(name)?.grain;
        for p in [&mut grain.from, &mut grain.to] {
            p.x += by;
        }
        Ok(())
    }

    fn shift(
        &mut self,
        piece: &str,
        seam: &str,
        fade: &Fade,
        sign: f64,
    ) -> Result<(), ChangeError> {
        let piece = self.piece_mut(piece)?;
        for part in &mut piece.seam_mut(seam)?.parts {
            *part = fade.shift(part, sign)?;
        }
        tie(piece)
    }

    /// Draws the hem lower in its middle by `down` mm, faded smoothly to nothing at both
    /// seams: the hem is parted where it is halved, and that place moves with its handles.
    pub(crate) fn bow_hem(&mut self, name: &str, down: f64) -> Result<(), ChangeError> {
        let what = || ChangeError::geometry("bowing the hem");
        let hem = self.piece_mut(name)?.seam_mut(HEM)?;
        let middle = hem.parts.len() / 2;
        let part = &hem.parts[middle];
        let (half, mut joint) = (0.5 * part.length(), 0.0);
        for length in part.lengths() {
            if f64::abs(joint + length - half) < JOINT {
                joint += length;
                break;
            }
            joint += length;
        }
        let at = if (joint - half).abs() < JOINT { joint } else { half };
        let (first, last) = part.split_at(at).map_err(what())?;
        let by = Vec2::new(0.0, -down);
        let (first, last) = (last_knot_moved(&first, by)?, first_knot_moved(&last, by)?);
        hem.parts[middle] = first.then(&last).map_err(what())?;
        Ok(())
    }

    /// Lets a band of the leg below the crotch seam grow along the grain.
    pub(crate) fn stretch(&mut self, name: &str, band: Stretch) -> Result<(), ChangeError> {
        let piece = self.piece_mut(name)?;
        for seam in [SIDE, INSEAM, HEM] {
            for part in &mut piece.seam_mut(seam)?.parts {
                *part = band.stretch(part)?;
            }
        }
        for line in &mut piece.inner {
            line.chain = band.stretch(&line.chain)?;
        }
        for p in [&mut piece.grain.from, &mut piece.grain.to] {
            p.y = band.at(p.y).0;
        }
        self.stretches.push((name.to_owned(), band));
        tie(self.piece_mut(name)?)
    }

    /// Moves the crotch point outwards along the hook by `out` mm; the inseam
    /// follows, fading to nothing at the knee, and the crotch point is raised or
    /// lowered until the inseam has its length again.
    pub(crate) fn extend_crotch_point(&mut self, name: &str, out: f64) -> Result<(), ChangeError> {
        let levels = self.levels(name)?;
        let sign = self.outward(name, INSEAM)?;
        let piece = self.piece_mut(name)?;
        let seam = piece.seam(INSEAM)?.clone();
        let wanted = seam.sewn_length();
        let fade = Fade::flat(&[(levels.crotch, out), (levels.knee, 0.0)])?;
        let shifted = fade.shift(&seam.parts[0], sign)?;
        let rest = wanted - seam.parts[0].length();
        let raised = |by: f64| first_knot_moved(&shifted, Vec2::new(0.0, by));
        let miss = |by: f64| raised(by).map_or(f64::NAN, |c| c.length() + rest - wanted);
        let room = 4.0 + 1.5 * out.abs();
        let by = bracketed_root(miss, -room, room, 1e-12)
            .map_err(ChangeError::geometry("keeping the length of the inseam"))?;
        let hook = Hook::of(piece)?.with_point_moved(Vec2::new(sign * out, by), name)?;
        piece.seam_mut(CROTCH)?.parts = vec![hook.chain()?];
        piece.seam_mut(INSEAM)?.parts[0] = raised(by)?;
        tie(piece)
    }

    /// Moves the crotch point up by `by` mm, and the end of the inseam with it; the crotch
    /// seam is scooped until it has its length again.
    pub(crate) fn raise_crotch_point(&mut self, name: &str, by: f64) -> Result<(), ChangeError> {
        let piece = self.piece_mut(name)?;
        let up = Vec2::new(0.0, by);
        let length = piece.seam(CROTCH)?.sewn_length();
        let hook = Hook::of(piece)?.with_point_moved(up, name)?.scooped_to_length(length, name)?;
        piece.seam_mut(CROTCH)?.parts = vec![hook.chain()?];
        let first = &mut piece.seam_mut(INSEAM)?.parts[0];
        *first = first_knot_moved(first, up)?;
        tie(piece)
    }
}
