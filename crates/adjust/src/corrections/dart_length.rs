//! Dart length: a dart’s point lies lower or higher.

use super::bench::Bench;
use super::darts::{no_room, of_dart};
use super::{About, AtDart, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_geometry::{Point, angle_between, turned};
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Dart length: a dart’s point lies lower or higher.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartLength {
    /// The piece.
    pub piece: String,
    /// The dart; none for the one nearest the centre.
    pub dart: Option<String>,
    /// How much longer the dart becomes, mm.
    pub amount: f64,
}

impl Recipe for DartLength {
    const ABOUT: About = About {
        name: "dart length",
        place: Chapter::Darts,
        what: "ends a dart nearer to the fullest place or farther from it, its width kept",
        amount: "how much longer the dart becomes",
        range: (-30.0, 30.0),
        inverse: true,
        effect: "Slides the point of the dart along its middle; its mouth and the waist stay, and where the legs are no longer equal to the waist’s run the waist is held by its angle.",
        works_on: &[BACK],
    };

    fn with(amount: f64) -> Self {
        Self { piece: BACK.into(), dart: None, amount }
    }

    fn works_on(&self) -> Vec<&str> {
        vec![&self.piece]
    }

    fn dart(&mut self) -> Option<AtDart<'_>> {
        Some(AtDart { piece: &mut self.piece, dart: &mut self.dart })
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        let dart = of_dart(bench.piece(&self.piece)?, self.dart.as_deref())?;
        let seam = bench.piece_mut(&self.piece)?.seam_mut(WAIST)?;
        let (a, b) = (seam.parts[dart].end(), seam.parts[dart + 1].start());
        let down = seam.darts[dart].apex - a.midpoint(b);
        let (long, room) = (down.hypot(), down.hypot() - SHORTEST);
        if self.amount < -room {
            return Err(no_room(&seam.darts[dart].name, self.amount, -room, f64::INFINITY));
        }
        let was = seam.darts[dart].apex;
        let now = was + down * (self.amount / long);
        seam.darts[dart].apex = now;
        // The edges beside it stay square to its legs.
        let turn = |end: Point| angle_between(was - end, now - end);
        let (before, after) = (&seam.parts[dart], &seam.parts[dart + 1]);
        let before =
            before.aimed(before.start_direction(), turned(before.end_direction(), turn(a)));
        let after = after.aimed(turned(after.start_direction(), turn(b)), after.end_direction());
        (seam.parts[dart], seam.parts[dart + 1]) = (before, after);
        bench.hold_waist(&self.piece)?;
        bench.promise(&self.piece, &[CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}

/// A dart is left at least this long, mm.
const SHORTEST: f64 = 20.0;
