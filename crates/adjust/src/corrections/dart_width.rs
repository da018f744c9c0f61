//! Dart width: a dart takes in more or less, and the waist with it.

use super::bench::{Bench, LEAST_INTAKE, MOST_GROWTH, tie};
use super::darts::{no_room, of_dart};
use super::{About, AtDart, Chapter, Recipe};
use crate::ChangeError;
use crate::waist::with_dart_opened;
use hangtrue_geometry::bracketed_root;
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Dart width: a dart takes in more or less, and the waist with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartWidth {
    /// The piece.
    pub piece: String,
    /// The dart; none for the one nearest the centre.
    pub dart: Option<String>,
    /// How much more the dart takes in, mm.
    pub amount: f64,
}

impl Recipe for DartWidth {
    const ABOUT: About = About {
        name: "dart width",
        place: Chapter::Darts,
        what: "takes more in at one dart or lets it out, where the waist is to become smaller or larger there",
        amount: "how much more the dart takes in; the whole waist becomes smaller by twice that",
        range: (-6.0, 10.0),
        inverse: true,
        effect: "Opens the dart about its point by the amount at its mouth; the sewn waist becomes shorter by as much, the other seams stay.",
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
        let piece = bench.piece_mut(&self.piece)?;
        let seam = piece.seam(WAIST)?.clone();
        let wanted = seam.sewn_length() - self.amount;
        let leg = seam.leg_lengths(dart).0;
        let (least, most) = (LEAST_INTAKE / leg - seam.dart_angle(dart), MOST_GROWTH / leg);
        let opened = |by: f64| with_dart_opened(&seam, dart, 0.0, by);
        let miss = |by: f64| opened(by).sewn_length() - wanted;
        let by = bracketed_root(miss, least.min(0.0), most, 1e-14).map_err(|_| {
            let low = LEAST_INTAKE - seam.intake(dart);
            no_room(&seam.darts[dart].name, self.amount, low, MOST_GROWTH)
        })?;
        *piece.seam_mut(WAIST)? = opened(by);
        tie(piece)?;
        bench.promise(&self.piece, &[CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
