//! Dart turned into the side seam: what a dart takes in is taken at the side
//! instead, in part or whole.

use super::bench::Bench;
use super::darts::of_dart;
use super::shape::Fade;
use super::{About, AtDart, Chapter, Recipe};
use crate::ChangeError;
use crate::waist::with_dart_opened;
use hangtrue_geometry::{Chain, blend_corner, bracketed_root};
use hangtrue_pattern::Seam;
use hangtrue_pattern::names::{BACK, CROTCH, HEM, INSEAM, SIDE, WAIST};
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};

/// Dart turned into the side seam: what a dart takes in is taken at the side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartToSeam {
    /// The piece.
    pub piece: String,
    /// The dart; none for the one nearest the centre.
    pub dart: Option<String>,
    /// How much of the dart's width is taken at the side seam instead, mm; a dart
    /// left with less than 1.5 mm is closed for good.
    pub amount: f64,
}

/// A dart narrower than this is closed for good, mm.
const DART_GONE: f64 = 1.5;

/// The waist is smoothed over this length on each side of a closed dart, mm.
const SMOOTH_REACH: f64 = 20.0;

impl Recipe for DartToSeam {
    const ABOUT: About = About {
        name: "dart turned into the side seam",
        place: Chapter::Darts,
        what: "takes at the side seam what a dart took in, for a body that is flat under the dart",
        amount: "how much of the dart's width goes to the side seam",
        range: (-8.0, 8.0),
        inverse: true,
        effect: "Narrows the dart and takes the same off the waist at the side seam, faded to nothing at the hip line; a dart left with less than 1.5 mm is closed and the waist smoothed over it.",
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
        let name = &self.piece;
        let at = of_dart(bench.piece(name)?, self.dart.as_deref())?;
        let seam = bench.piece(name)?.seam(WAIST)?.clone();
        let wanted = seam.sewn_length();
        let intake = seam.intake(at);
        if self.amount > intake {
            return Err(ChangeError::OutOfReach {
                what: format!("what the {} gives to the side seam", seam.darts[at].name),
                asked: Length(self.amount),
                low: Length(f64::NEG_INFINITY),
                high: Length(intake),
            });
        }
        let narrowed = if intake - self.amount < DART_GONE {
            closed_for_good(&seam, at)?
        } else {
            narrower(&seam, at, self.amount)?
        };
        // The first part's start is tied to the side corner below.
        *bench.piece_mut(name)?.seam_mut(WAIST)? = narrowed;
        super::bench::tie(bench.piece_mut(name)?)?;
        let shift = |b: &mut Bench<'_>, by: f64| -> Result<f64, ChangeError> {
            let levels = b.levels(name)?;
            let fade = Fade::flat(&[(levels.hip, 0.0), (levels.whole, by)])?;
            b.widen(name, SIDE, &fade)?;
            b.hold_side_at_waist(name)?;
            Ok(b.piece(name)?.seam(WAIST)?.sewn_length() - wanted)
        };
        let room = 1.6 * self.amount.abs() + 2.0;
        let miss = |by: f64| bench.tried(|b| shift(b, by)).unwrap_or(f64::NAN);
        let by = bracketed_root(miss, -room, room, 1e-11).map_err(|_| ChangeError::OutOfReach {
            what: format!("what the side seam of the {name} can take over from the dart"),
            asked: Length(self.amount),
            low: Length(-room),
            high: Length(room),
        })?;
        shift(bench, by)?;
        bench.promise(name, &[WAIST, CROTCH, INSEAM, HEM, SIDE]);
        Ok(())
    }
}

/// The waist with dart `at` narrower by `by` mm of sewn length.
fn narrower(seam: &Seam, at: usize, by: f64) -> Result<Seam, ChangeError> {
    let wanted = seam.sewn_length() + by;
    let leg = seam.leg_lengths(at).0;
    let most = 3.0 * by / leg;
    let miss = |angle: f64| with_dart_opened(seam, at, 0.0, angle).sewn_length() - wanted;
    let (a, b) = (0.0, -most);
    let angle = bracketed_root(miss, f64::min(a, b), f64::max(a, b), 1e-14)
        .map_err(ChangeError::geometry("narrowing the dart"))?;
    Ok(with_dart_opened(seam, at, 0.0, angle))
}

/// The waist without dart `at`: the side of it nearer the side seam is laid up to
/// the other leg and the joint smoothed.
fn closed_for_good(seam: &Seam, at: usize) -> Result<Seam, ChangeError> {
    let across = seam.parts[at + 1].start() - seam.parts[at].end();
    let mut closed = seam.clone();
    let slid = hangtrue_geometry::Affine::translate(across);
    let parts: Vec<Chain> = seam.parts[..=at].iter().map(|p| p.moved(slid)).collect();
    for (index, part) in parts.into_iter().enumerate() {
        closed.parts[index] = part;
    }
    for dart in &mut closed.darts[..at] {
        dart.apex += across;
    }
    let joined = blend_corner(&closed.parts[at], &seam.parts[at + 1], SMOOTH_REACH)
        .map_err(ChangeError::geometry("joining the waist over the closed dart"))?;
    closed.parts.splice(at..=at + 1, [joined]);
    closed.darts.remove(at);
    Ok(closed)
}
