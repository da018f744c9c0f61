//! The levels of a piece along its grain.

use super::super::shape::as_cubic;
use super::Bench;
use crate::ChangeError;
use hangtrue_geometry::Line;
use hangtrue_pattern::names::{CROTCH_POINT, HEM_SIDE, SIDE, WAIST_SIDE};
use hangtrue_pattern::{End, Piece};

/// The levels of a piece along its grain, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Levels {
    /// The waist at the side seam.
    pub(crate) waist: f64,
    /// The hip notch, or 65 % of the way from waist to crotch.
    pub(crate) hip: f64,
    /// Where a change of the waist's width is whole, coming up from the hip: nine
    /// tenths of the seam's own length above the hip, which stays when the corner
    /// moves, so that the opposite change finds the same place.
    pub(crate) whole: f64,
    /// The crotch point.
    pub(crate) crotch: f64,
    /// The knee notch, or half way from crotch to hem less 5 cm.
    pub(crate) knee: f64,
    /// The hem at the side seam.
    pub(crate) hem: f64,
}

impl Levels {
    /// A level so far down the thigh, 0 at the crotch point, 1 at the knee.
    pub(crate) fn thigh(&self, share: f64) -> f64 {
        self.crotch - share * (self.crotch - self.knee)
    }

    /// A level so far down the outside of the thigh, 0 at the hip, 1 at the knee.
    pub(crate) fn flank(&self, share: f64) -> f64 {
        self.hip - share * (self.hip - self.knee)
    }

    /// A level so far down the lower leg, 0 at the knee, 1 at the hem.
    pub(crate) fn shin(&self, share: f64) -> f64 {
        self.knee - share * (self.knee - self.hem)
    }
}

impl Bench<'_> {
    /// The levels of the piece as it stands. Hip and knee are those it came with,
    /// moved with the paper: the notches are hung anew only at the end.
    pub(crate) fn levels(&self, name: &str) -> Result<Levels, ChangeError> {
        let (came, piece) = (self.start.piece(name)?, self.piece(name)?);
        let waist = piece.corner(WAIST_SIDE)?.y;
        let crotch = piece.corner(CROTCH_POINT)?.y;
        let hem = piece.corner(HEM_SIDE)?.y;
        let led = self.lead(name, SIDE).is_some();
        let marked = |notch: &str| -> Result<Option<f64>, ChangeError> {
            Ok(marked_level(came, notch, led)?.map(|level| self.level_now(name, level)))
        };
        let hip = marked("hip")?.unwrap_or(waist - 0.65 * (waist - crotch));
        let at_hip = Line::new((0.0, hip), (1.0, hip));
        let side = came.seam(SIDE)?;
        let above = side
            .crossings_with_line(at_hip)
            .first()
            .map_or(waist - hip, |c| side.distance_from(End::End, c.here));
        Ok(Levels {
            waist,
            hip,
            whole: hip + 0.9 * above,
            crotch,
            knee: marked("knee")?.unwrap_or(0.5 * (crotch + hem) + 50.0),
            hem,
        })
    }
}

/// A notch this near to a joint of its seam, mm, marks the joint, on a piece whose
/// notches follow those of another: they may lie a little beside the level.
const MARKS_JOINT: f64 = 4.0;

/// The level of a notch of the side seam, or of the joint it marks on a piece that
/// is led.
fn marked_level(piece: &Piece, notch: &str, led: bool) -> Result<Option<f64>, ChangeError> {
    let Some(found) = piece.notches.iter().find(|n| n.name == notch && n.seam == SIDE) else {
        return Ok(None);
    };
    let place = piece.seam(SIDE)?.place(found.from, found.distance);
    let part = &piece.seam(SIDE)?.parts[place.part];
    let mut nearest = (if led { MARKS_JOINT } else { 0.0 }, place.point.y);
    let mut joint = 0.0;
    for (segment, length) in part.segments().iter().zip(part.lengths()) {
        joint += length;
        let off = (joint - place.within).abs();
        if off < nearest.0 {
            nearest = (off, as_cubic(segment).p3.y);
        }
    }
    Ok(Some(nearest.1))
}
