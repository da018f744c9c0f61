//! A front cut away at the opening of its pocket, between waist and side seam.

use super::super::names as made;
use crate::CutError;
use crate::opened::Opened;
use hangtrue_geometry::{Chain, CubicBez, GeometryError, Vec2};
use hangtrue_pattern::{End, Notch, PatternError, Piece, Seam, names};

/// Where a front is cut away, in the place where it lies flat. Mm.
pub(super) struct Away {
    /// Along the sewn waist from the side seam.
    pub along: f64,
    /// Down the side seam from the waist.
    pub down: f64,
    /// Whether the opening is curved.
    pub curved: bool,
}

/// Handle of a quarter round as a cubic; see `beside.rs`.
const QUARTER: f64 = 0.552_284_749_830_793_4;

impl Away {
    /// The opening from the waist to the side seam.
    pub fn opening(&self, side: &Opened) -> Chain {
        let (at_waist, along) = side.waist.place_at(self.along);
        let (at_side, down) = side.seam.place_at(self.down);
        if !self.curved {
            return Chain::line(at_waist, at_side);
        }
        // Square to the waist where it starts, square to the side where it ends.
        let towards = |v: Vec2, of: Vec2| if v.dot(of) < 0.0 { -v } else { v };
        let into = towards(Vec2::new(-along.y, along.x), down);
        let across = towards(Vec2::new(-down.y, down.x), along);
        Chain::cubic(CubicBez::new(
            at_waist,
            at_waist + into * (QUARTER * self.down),
            at_side + across * (QUARTER * self.along),
            at_side,
        ))
    }

    /// The same opening so much farther in.
    pub fn farther(&self, by: f64) -> Self {
        Self { along: self.along + by, down: self.down + by, curved: self.curved }
    }

    /// The front without what lies between its opening, waist and side seam.
    pub fn cut(&self, front: &Piece, side: &Opened) -> Result<Piece, CutError> {
        let wrong = |source| PatternError::Geometry {
            what: format!("cutting the {} away for its pocket", front.name),
            source,
        };
        let mut piece = front.clone();
        let waist = piece.seam_index(names::WAIST)?;
        let (from_side, along) = (side.waist_end == End::End, self.along);
        shortened(&mut piece.seams[waist], from_side, along).map_err(wrong)?;
        let index = piece.seam_index(names::SIDE)?;
        shortened(&mut piece.seams[index], !from_side, self.down).map_err(wrong)?;
        let opening = self.opening(side);
        let (at_waist, at_side) = (opening.start(), opening.end());
        if from_side {
            // Side up to the pocket, its opening, the waist on from there.
            let opening = Seam::plain(made::POCKET_OPENING, "pocket at side", opening.reversed());
            piece.seams[waist].starts_at = "pocket at waist".to_owned();
            joined(&mut piece.seams[index], at_side, false);
            joined(&mut piece.seams[waist], at_waist, true);
            piece.seams.insert(waist, opening);
        } else {
            let opening = Seam::plain(made::POCKET_OPENING, "pocket at waist", opening);
            piece.seams[index].starts_at = "pocket at side".to_owned();
            joined(&mut piece.seams[waist], at_waist, false);
            joined(&mut piece.seams[index], at_side, true);
            piece.seams.insert(waist + 1, opening);
        }
        piece.notches =
            front.notches.iter().filter_map(|n| self.carried(n, front, from_side)).collect();
        Ok(piece)
    }

    /// A notch on what is left; none where its place is cut away.
    fn carried(&self, notch: &Notch, front: &Piece, from_side: bool) -> Option<Notch> {
        let (gone, at_start) = match notch.seam.as_str() {
            names::WAIST => (self.along, from_side),
            names::SIDE => (self.down, !from_side),
            _ => return Some(notch.clone()),
        };
        let seam = front.seam(&notch.seam).ok()?;
        let position = seam.place(notch.from, notch.distance).position;
        let end = if at_start { End::Start } else { End::End };
        let left = seam.distance_from(end, position) - gone;
        (left > 0.0).then(|| Notch { from: end, distance: left, ..notch.clone() })
    }
}

/// A seam without so much of its one end, none of it beyond its first dart.
fn shortened(seam: &mut Seam, at_start: bool, by: f64) -> Result<(), GeometryError> {
    let last = seam.parts.len() - 1;
    if at_start {
        let part = &seam.parts[0];
        seam.parts[0] = part.part(by, part.length())?;
    } else {
        let part = &seam.parts[last];
        seam.parts[last] = part.part(0.0, part.length() - by)?;
    }
    Ok(())
}

/// Brings the end of a seam exactly to where the next one starts.
fn joined(seam: &mut Seam, to: hangtrue_geometry::Point, at_start: bool) {
    let last = seam.parts.len() - 1;
    let part = if at_start { &mut seam.parts[0] } else { &mut seam.parts[last] };
    *part =
        if at_start { part.with_ends(to, part.end()) } else { part.with_ends(part.start(), to) };
}
