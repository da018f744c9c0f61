//! Dart split: one wide dart becomes two narrow ones.

use super::bench::Bench;
use super::darts::{LEAST_BESIDE, no_room, of_dart};
use super::shape::ends_moved;
use super::{About, AtDart, Chapter, Recipe};
use crate::ChangeError;
use crate::waist::fair_over_dart;
use hangtrue_geometry::{Chain, Vec2};
use hangtrue_pattern::Dart;
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, WAIST};
use serde::{Deserialize, Serialize};

/// Dart split: one wide dart becomes two narrow ones.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartSplit {
    /// The piece.
    pub piece: String,
    /// The dart; none for the one nearest the centre.
    pub dart: Option<String>,
    /// Sewn distance between the two darts, mm; 0 leaves the dart as it is.
    pub amount: f64,
}

impl Recipe for DartSplit {
    const ABOUT: About = About {
        name: "dart split",
        place: Chapter::Darts,
        what: "makes two darts of half the width out of a wide one that ends in a point, for a rounder shape",
        amount: "distance between the two darts at the waist",
        range: (15.0, 40.0),
        inverse: false,
        effect: "Makes two darts of half the angle beside each other, the edge between them as long as asked for; the waist is faired over both.",
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
        let at = of_dart(bench.piece(&self.piece)?, self.dart.as_deref())?;
        let seam = bench.piece_mut(&self.piece)?.seam_mut(WAIST)?;
        let dart = seam.darts[at].clone();
        let room = [at, at + 1].map(|i| seam.parts[i].length() - LEAST_BESIDE);
        let most = 2.0 * room[0].min(room[1]);
        if !(1.0..=most).contains(&self.amount) {
            return Err(no_room(&dart.name, self.amount, 1.0, most));
        }
        let (a, b) = (seam.parts[at].end(), seam.parts[at + 1].start());
        let (first, second) = (a - dart.apex, b - dart.apex);
        // Each new dart has half the angle; the edge between lies square to the
        // legs they share the direction of.
        let middle = (first.normalize() + second.normalize()).normalize() * first.hypot();
        let along = (b - a).normalize();
        let half = along * (0.5 * self.amount);
        let apex = dart.apex - half;
        let start = apex + middle;
        let end = start + along * self.amount;
        seam.parts[at] = ends_moved(&seam.parts[at], Vec2::ZERO, -half)?;
        seam.parts[at + 1] = ends_moved(&seam.parts[at + 1], half, Vec2::ZERO)?;
        seam.parts.insert(at + 1, Chain::line(start, end));
        let named = |which: &str| format!("{}, {which}", dart.name);
        seam.darts[at] = Dart { name: named("first"), apex, ..dart.clone() };
        seam.darts
            .insert(at + 1, Dart { name: named("second"), apex: end - middle, ..dart.clone() });
        fair_over_dart(seam, at);
        fair_over_dart(seam, at + 1);
        bench.hold_waist(&self.piece)?;
        bench.promise(&self.piece, &[CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}
