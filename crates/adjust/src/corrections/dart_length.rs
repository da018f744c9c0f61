//! Dart length: a dart’s point lies lower or higher.

use super::bench::Bench;
use super::darts::{no_room, of_dart};
use super::{About, AtDart, Place, Recipe};
use crate::ChangeError;
use hangtrue_geometry::{Point, Vec2, angle_between, turned};
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
        place: Place::Darts,
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

    fn amount(&self) -> f64 {
        self.amount
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
        seam.darts[dart].apex += down * (self.amount / long);
        // The edges beside it stay square to its legs.
        let apex = seam.darts[dart].apex;
        for (part, point) in [(dart, a), (dart + 1, b)] {
            let was = &seam.parts[part];
            let turn = angle_between(down_from(apex - down * (self.amount / long), point), down_from(apex, point));
            let (start, end) = (was.start_direction(), was.end_direction());
            seam.parts[part] = if part == dart {
                was.aimed(start, turned(end, turn))
            } else {
                was.aimed(turned(start, turn), end)
            };
        }
        bench.hold_waist(&self.piece)?;
        bench.promise(&self.piece, &[CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}

/// A dart is left at least this long, mm.
const SHORTEST: f64 = 20.0;

/// From a leg's end to the point of the dart.
fn down_from(apex: Point, end: Point) -> Vec2 {
    apex - end
}
