//! Dart moved: a dart lies nearer to the centre or to the side.

use super::bench::Bench;
use super::darts::{no_room, of_dart};
use super::shape::ends_moved;
use super::{About, AtDart, Chapter, Recipe};
use crate::ChangeError;
use hangtrue_geometry::{Chain, Vec2};
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Dart moved: a dart lies nearer to the centre or to the side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartMoved {
    /// The piece.
    pub piece: String,
    /// The dart; none for the one nearest the centre.
    pub dart: Option<String>,
    /// How far the dart moves towards the centre, mm.
    pub amount: f64,
}

impl Recipe for DartMoved {
    const ABOUT: About = About {
        name: "dart moved",
        place: Chapter::Darts,
        what: "moves a dart along the waist to where the body is rounder, its width and length kept",
        amount: "how far the dart moves towards the centre",
        range: (-20.0, 20.0),
        inverse: true,
        effect: "Slides the dart along the waist with its point; width and length stay, and the waist is held by its angle.",
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
        let by = (b - a).normalize() * self.amount;
        let room = |part: &Chain| part.length() - super::darts::LEAST_BESIDE;
        let (towards_side, towards_centre) = (room(&seam.parts[dart]), room(&seam.parts[dart + 1]));
        if self.amount < -towards_side || self.amount > towards_centre {
            return Err(no_room(
                &seam.darts[dart].name,
                self.amount,
                -towards_side,
                towards_centre,
            ));
        }
        seam.parts[dart] = ends_moved(&seam.parts[dart], Vec2::ZERO, by)?;
        seam.parts[dart + 1] = ends_moved(&seam.parts[dart + 1], by, Vec2::ZERO)?;
        seam.darts[dart].apex += by;
        bench.hold_waist(&self.piece)?;
        bench.promise(&self.piece, &[CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
