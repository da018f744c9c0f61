//! Which places of a line are told, and why the others are not.

use super::curve::Curve;
use super::figures::{below_last, error, within};
use super::on_body::LineOnBody;
use super::shares::share;
use super::taken::Cause;
use super::{Hang, SHARES, Within};
use crate::worn::{LegSeen, TracedLine};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use nalgebra::DMatrix;

/// A place that is more unsure than this is not told, mm: it would hide a usual pinch.
pub const MOST_ERROR: f64 = 10.0;

/// How far the lengths of the pattern are believed to say where a seam is, share of what
/// they say: a leg may turn in its cloth.
const SEAM: f64 = 1.2;

/// What is told of a line.
pub(super) struct LineAssessment<'a> {
    curve: &'a Curve,
    /// How much other each station hangs when the seams lie beyond the edges of sight, mm.
    beyond: [f64; SHARES],
    /// How the stations may be off together, were a cause sure.
    without: Vec<(Cause, DMatrix<f64>)>,
}

/// What may be the cause, as told first when two are alike.
const CAUSES: [Cause; 6] =
    [Cause::Followed, Cause::Level, Cause::Lens, Cause::Depth, Cause::Edges, Cause::Scale];

impl<'a> LineAssessment<'a> {
    pub(super) fn of(line: &TracedLine, curve: &'a Curve, laid: &LineOnBody) -> Self {
        let mut beyond = [0.0; SHARES];
        if let Some(piece) = &line.piece {
            let hidden = hidden(line, piece.length, laid.seen);
            for (i, beyond) in beyond.iter_mut().enumerate() {
                *beyond = piece.beyond(share(i), hidden);
            }
        }
        let without = CAUSES
            .into_iter()
            .filter_map(|cause| curve.spread_without(cause).map(|s| (cause, s)))
            .collect();
        Self { curve, beyond, without }
    }

    /// How far a station hangs below the side, with what the seams out of sight leave open.
    pub(super) fn below_side(&self, i: usize) -> Within {
        let seen = within(self.curve, &below_last(i));
        Within { error: seen.error.hypot(SEAM * self.beyond[i]), ..seen }
    }

    /// Why a station is not told.
    pub(super) fn why_not(&self, i: usize, told: Within) -> Option<Cause> {
        if told.error <= MOST_ERROR {
            return None;
        }
        let seam = SEAM * self.beyond[i].abs();
        let mut least = ((told.error.powi(2) - seam.powi(2)).max(0.0).sqrt(), Cause::Seam);
        for (cause, spread) in &self.without {
            let left = error(spread, &below_last(i)).hypot(seam);
            if left < least.0 {
                least = (left, *cause);
            }
        }
        Some(least.1)
    }
}

/// How much of the line lies beyond its first and its last edge of sight, shares, as the
/// pattern's lengths have it: half of what is not seen at each end.
fn hidden(line: &TracedLine, length: f64, seen: f64) -> [f64; 2] {
    // Half the girth is seen, about; where leg is pressed to leg, less.
    let even = 0.5 * (1.0 - 0.5 * line.girth / length) + TANGENT;
    if line.leg == LegSeen::Both || !line.pressed {
        return [even.clamp(-MOST_HIDDEN, MOST_HIDDEN); 2];
    }
    let inner = (1.0 - even - seen / length).max(even);
    [inner, even].map(|share| share.clamp(-MOST_HIDDEN, MOST_HIDDEN))
}

/// The edge of sight lies so much before the widest place of the body, share of the line:
/// a leg's half width over the distance, about.
const TANGENT: f64 = 0.01;

/// No more than this of a line is out of sight at an end, share.
const MOST_HIDDEN: f64 = 0.15;

impl Hang {
    /// Which places are not told, why, and what to do about it, in words.
    pub fn not_told(&self) -> Vec<Words> {
        let all = CAUSES.into_iter().chain([Cause::Seam]);
        let of = |cause: Cause| {
            let there: Vec<usize> = (0..self.stations.len())
                .filter(|i| self.stations[*i].not_told == Some(cause))
                .collect();
            (!there.is_empty()).then(|| self.not_told_for(cause, &there))
        };
        all.filter_map(of).collect()
    }

    fn not_told_for(&self, cause: Cause, there: &[usize]) -> Words {
        let name = &self.line;
        let place = if there.len() == self.stations.len() || there.len() + 1 == self.stations.len()
        {
            format!("The {name} line is not read here")
        } else {
            let shares: Vec<String> =
                there.iter().map(|i| format!("{:.0} %", 100.0 * self.stations[*i].share)).collect();
            let from = match self.leg {
                LegSeen::Both => "from the photo’s left",
                LegSeen::Left | LegSeen::Right => "from the inseam",
            };
            format!("The {name} line is not read at {} {from}", shares.join(", "))
        };
        let (why, to_do): (Words, Words) = match cause {
            Cause::Followed => (
                "it does not show clearly there, or a fold, a shadow or another line lies over it".into(),
                "Smooth the cloth and take the photo again, or measure that place by ruler".into(),
            ),
            Cause::Level => (
                "the level of the photo is not sure enough".into(),
                "Click the two ends of a plumb line or a door frame, as far apart as the photo has them".into(),
            ),
            Cause::Lens => (
                "how high the lens was is not sure enough".into(),
                "Write the height of the lens and click the heels".into(),
            ),
            Cause::Depth => (
                words![
                    "the lens was ",
                    (Length(self.below_lens.abs()), 0),
                    format!(
                        " {} it, and how deep the body is there no photo shows",
                        if self.below_lens > 0.0 { "above" } else { "below" }
                    )
                ],
                "Take a photo with the lens as high as the line".into(),
            ),
            Cause::Edges => (
                "where the edge of the body is, is not sure enough".into(),
                "Click the first and the last place at the edge of the body, before a wall that is lighter or darker".into(),
            ),
            Cause::Scale => (
                "how long a pixel is, is not sure enough".into(),
                "Click two lines that lie further apart along the grain".into(),
            ),
            Cause::Seam => (
                "the seams lie out of sight".into(),
                "Let the wearer stand with the feet a hand further apart, or measure those places by ruler".into(),
            ),
        };
        words![place, ": "].and(why).and(words![". "]).and(to_do).and(words!["."])
    }
}
