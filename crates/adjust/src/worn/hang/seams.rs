//! Where the seams of a line lie: a photo shows it from edge to edge of sight, the pattern
//! has it from seam to seam, and its lengths say how much lies beyond the edges.

use super::on_body::LineOnBody;
use super::shares::share;
use super::{Curve, SHARES};
use crate::worn::{LegSeen, TracedLine};
use nalgebra::DVector;

/// How far what is taken of the seams may be off, one standard deviation each, shares of the
/// line: how much of it lies beyond both edges of sight together, and how much further in
/// it lies at the one than at the other, because a leg turns in its cloth. From the photos
/// to choose on (docs/worn.md).
mod sigma {
    /// Over both legs, side to side.
    pub const OVER_BOTH: (f64, f64) = (0.045, 0.012);
    /// A leg that stands free.
    pub const APART: (f64, f64) = (0.04, 0.03);
    /// A leg that is pressed to the other.
    pub const PRESSED: (f64, f64) = (0.09, 0.055);
}

/// The edge of sight lies so much before the widest place of the body, share of the line: a
/// leg's half width over the distance, and what turns too far away to be seen as a line.
const TANGENT: f64 = 0.03;

/// No more than this of a line is out of sight at an end, share.
const MOST_HIDDEN: f64 = 0.15;

/// How much of a line lies beyond its first and its last edge of sight, shares of its whole
/// length; less than nought where the photo shows past a seam.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hidden {
    pub(super) ends: [f64; 2],
    /// What may be wrong with that, one standard deviation each.
    ways: [[f64; 2]; 2],
}

impl Hidden {
    /// As the pattern's lengths have it. What is not known of the pattern is taken to be
    /// seen from seam to seam.
    pub(super) fn of(line: &TracedLine, laid: &LineOnBody) -> Self {
        let Some(length) = line.sewn_length else {
            return Self { ends: [0.0; 2], ways: [[0.0; 2]; 2] };
        };
        // Half the girth is seen, about; where leg is pressed to leg, less.
        let even = 0.5 * (1.0 - 0.5 * line.girth / length) + TANGENT;
        let ends = if line.leg == LegSeen::Both || !line.pressed {
            [even; 2]
        } else {
            [(1.0 - even - laid.seen / length).max(even), even]
        };
        let (hidden, turned) = match (line.leg, line.pressed) {
            (LegSeen::Both, _) => sigma::OVER_BOTH,
            (_, false) => sigma::APART,
            (_, true) => sigma::PRESSED,
        };
        Self {
            ends: ends.map(|share| share.clamp(-MOST_HIDDEN, MOST_HIDDEN)),
            ways: [[0.5 * hidden; 2], [turned, -turned]],
        }
    }

    /// The share of what is seen at which a share from seam to seam lies; beyond the edges
    /// of sight less than nought or more than one.
    fn in_sight(ends: [f64; 2], share: f64) -> f64 {
        (share - ends[0]) / (1.0 - ends[0] - ends[1])
    }

    /// Where the stations from seam to seam lie in what is seen.
    pub(super) fn stations(&self) -> [f64; SHARES] {
        stations(self.ends)
    }

    /// What each thing that may be wrong with the seams does to how far the stations hang
    /// below the last, mm.
    pub(super) fn moves(&self, curve: &Curve) -> Vec<DVector<f64>> {
        let below = |sign: f64, way: &[f64; 2]| {
            let ends = [0, 1].map(|k| self.ends[k] + sign * way[k]);
            below_last(&curve.heights_at(&stations(ends)))
        };
        let moved = |way: &[f64; 2]| 0.5 * (below(1.0, way) - below(-1.0, way));
        self.ways.iter().filter(|way| **way != [0.0; 2]).map(moved).collect()
    }
}

fn stations(ends: [f64; 2]) -> [f64; SHARES] {
    std::array::from_fn(|i| Hidden::in_sight(ends, share(i)))
}

/// How far stations hang below the last of them.
pub(super) fn below_last(heights: &DVector<f64>) -> DVector<f64> {
    heights.map(|h| heights[heights.len() - 1] - h)
}
