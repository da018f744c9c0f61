//! What is told of a solved photo and of a traced piece before it is taken in.

use super::trace::rename;
use super::{PhotoError, SolvedPhoto, Traced};
use crate::exchange::joins_of;
use hangtrue_geometry::Point;

/// How exactly places can be read from a solved photo, mm: 95 in 100 places are
/// nearer to their true one, as far as the marks are true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadWithin {
    /// The worst place among the marks.
    pub marks: f64,
    /// The worst place of the whole photo; infinite where it shows the horizon.
    pub photo: f64,
}

/// How exactly a clear edge is found in the picture, standard deviation in
/// pixels: as the reading of an outline takes it.
const EDGE: f64 = 0.1;
/// Places looked at each way.
const LOOKED_AT: usize = 16;

impl SolvedPhoto {
    /// How exactly places can be read.
    pub fn read_within(&self) -> ReadWithin {
        let camera = &self.ground.camera;
        let within =
            |seen: Point| camera.mistake_at(seen, EDGE).map_or(f64::INFINITY, |m| m.within());
        let worst =
            |places: &mut dyn Iterator<Item = Point>| places.map(within).fold(0.0, f64::max);
        let frame = camera.frame();
        let share = |i: usize, side: f64| side * (i as f64 + 0.5) / LOOKED_AT as f64;
        let mut all = (0..LOOKED_AT * LOOKED_AT).map(|i| {
            Point::new(share(i % LOOKED_AT, frame.width), share(i / LOOKED_AT, frame.height))
        });
        ReadWithin {
            marks: worst(&mut self.ground.marks.iter().map(|m| m.seen)),
            photo: worst(&mut all),
        }
    }
}

impl Traced {
    /// Gives the piece and its seams other names than those proposed; an empty
    /// name, and no names of seams, keep the proposed ones.
    ///
    /// # Errors
    /// [`PhotoError`] when the names are not one for each seam, or two are alike.
    pub fn named(mut self, piece: &str, seams: &[String]) -> Result<Self, PhotoError> {
        if let Some(own) = self.pattern.pieces.first_mut() {
            let before: Vec<String> = own.seams.iter().map(|s| s.name.clone()).collect();
            refuse_alike(seams)?;
            rename(own, seams)?;
            let piece = piece.trim();
            if !piece.is_empty() {
                piece.clone_into(&mut own.name);
            }
            let kept = own.seams.iter().map(|s| &s.name).eq(&before);
            self.pattern.joins = if kept { joins_of(&self.pattern) } else { Vec::new() };
        }
        self.pattern.check()?;
        Ok(self)
    }
}

fn refuse_alike(seams: &[String]) -> Result<(), PhotoError> {
    for (i, name) in seams.iter().enumerate() {
        let name = name.trim();
        if name.is_empty() {
            return Err(PhotoError::Asked(format!("seam {} has no name; give it one", i + 1)));
        }
        if seams[..i].iter().any(|other| other.trim() == name) {
            return Err(PhotoError::Asked(format!(
                "two seams are called “{name}”; give each its own name"
            )));
        }
    }
    Ok(())
}
