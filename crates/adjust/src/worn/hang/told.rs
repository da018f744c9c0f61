//! Which places of a line are told, and why the others are not.

use super::curve::Curve;
use super::figures::COVERS;
use super::on_body::LineOnBody;
use super::seams::{Hidden, below_last};
use super::taken::{Cause, sigma};
use super::{Hang, SHARES, Within};
use crate::worn::{LegSeen, TracedLine};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use nalgebra::{DMatrix, DVector};

/// A place that is more unsure than this is not told, mm: about an inch, more than any line of
/// a toile that can be worn is off by. What is less is told with its ±; a bow is surer than
/// its places, and the reading takes it from all of them together.
pub const MOST_ERROR: f64 = 25.0;

/// What is told of a line from seam to seam.
pub(super) struct LineAssessment {
    /// The height of the last station, the side seam, mm above the lens.
    pub(super) side: f64,
    below: DVector<f64>,
    /// How the stations may be off together: squares and products of ±, mm².
    pub(super) together: DMatrix<f64>,
    /// The same, were a cause sure.
    without: Vec<(Cause, DMatrix<f64>)>,
}

/// What may be the cause, as told first when two are alike.
const CAUSES: [Cause; 6] =
    [Cause::Followed, Cause::Level, Cause::Lens, Cause::Depth, Cause::Edges, Cause::Scale];

impl LineAssessment {
    pub(super) fn of(line: &TracedLine, curve: &Curve, laid: &LineOnBody) -> Self {
        let hidden = Hidden::of(line, laid);
        let stations = hidden.stations();
        let heights = curve.heights_at(&stations);
        let seams = hidden.moves(curve);
        let seen = curve.spread_at(&stations);
        let sure = |cause| curve.spread_without(cause, &stations);
        let mut without: Vec<(Cause, DMatrix<f64>)> = CAUSES
            .into_iter()
            .filter_map(|cause| sure(cause).map(|s| (cause, together(&s, &seams))))
            .collect();
        without.push((Cause::Seam, together(&seen, &[])));
        Self {
            side: heights[SHARES - 1],
            below: below_last(&heights),
            together: together(&seen, &seams),
            without,
        }
    }

    /// How far a station hangs below the side seam.
    pub(super) fn below_side(&self, i: usize) -> Within {
        Within { value: self.below[i], error: self.together[(i, i)].max(0.0).sqrt() }
    }

    /// Why a station is not told.
    pub(super) fn why_not(&self, i: usize) -> Option<Cause> {
        let told = self.together[(i, i)];
        if told <= MOST_ERROR * MOST_ERROR {
            return None;
        }
        let left = |w: &&(Cause, DMatrix<f64>)| w.1[(i, i)];
        let most = self.without.iter().min_by(|a, b| left(a).total_cmp(&left(b)));
        Some(most.map_or(Cause::Followed, |w| w.0))
    }
}

/// How far stations may be off together against the last of them: by how their heights may
/// be, by the pen, and by what moves them all.
fn together(spread: &DMatrix<f64>, moves: &[DVector<f64>]) -> DMatrix<f64> {
    let last = SHARES - 1;
    let pen = sigma::LINE * sigma::LINE;
    let mut whole = DMatrix::from_fn(SHARES, SHARES, |i, j| {
        if i == last || j == last {
            return 0.0;
        }
        let heights = spread[(i, j)] - spread[(i, last)] - spread[(last, j)] + spread[(last, last)];
        heights + if i == j { 2.0 * pen } else { pen }
    });
    for moved in moves {
        whole.ger(1.0, moved, moved, 1.0);
    }
    COVERS * COVERS * whole
}

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
