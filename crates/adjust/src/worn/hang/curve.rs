//! The curve of a line through the places that were followed, and how far it may be off.
//!
//! Nothing of a line is told by one place. It is taken to be a smooth curve: of any level,
//! tilt and bow, with what is left over smooth as well; what was followed lies about it by
//! what a place, a fold and every unsure mark can be wrong by. Of all such curves the
//! likeliest is told, and how far the others lie from it (Gaussian conditioning, as in any
//! book of statistics). So a mark that may move a whole end counts against that end, what
//! is out of sight is told as far as the curve reaches, and a place off the curve of the
//! rest loses its say instead of drawing an end aside.

use super::SHARES;
use super::shares::share;
use super::taken::Cause;
use crate::worn::LegSeen;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// What curves are likely, one standard deviation each, mm; ours, wide: a back thigh line
/// hangs in a bow of 16 to 50 mm on a toile that fits.
const LEVEL: f64 = 100.0;
const TILT: f64 = 40.0;
const BOW: f64 = 30.0;
const SMOOTH: f64 = 5.0;
/// Over both legs each half may have a bow of its own, and the two meet in a point.
const HALF: f64 = 15.0;

/// Within this share of the line what is left over changes little.
const LONG: f64 = 0.25;
const LONG_OVER_BOTH: f64 = 0.15;

/// Along the line a fold is so long, share.
const FOLD_LONG: f64 = 0.06;

/// How heavy the tails are of what a place is wrong by (degrees of freedom of Student's
/// distribution): a place three times off counts a third.
const TAILS: f64 = 4.0;

/// A place that counts less than this is off the line.
const OFF: f64 = 0.35;

/// What lies this near to an end is weighed later: at first it counts so many times less.
const MIDDLE: f64 = 0.2;
const LATER: f64 = 100.0;

/// The places are weighed so often.
const ROUNDS: usize = 8;

/// An end is what lies within this share of it.
const END: f64 = 0.25;

/// Places side by side, taken together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) share: f64,
    /// mm.
    pub(super) height: f64,
    /// How far it may be off by itself, and with its neighbours by a fold: one standard
    /// deviation, mm.
    pub(super) alone: f64,
    pub(super) fold: f64,
}

/// What one standard deviation of something unsure does to the height of each spot, mm.
pub(super) struct Unsure {
    pub(super) cause: Cause,
    pub(super) moves: DVector<f64>,
}

/// The likeliest curve.
pub(super) struct Curve {
    leg: LegSeen,
    spots: Vec<Spot>,
    /// The mean height of the spots, mm: the curve is told against it.
    middle: f64,
    /// What each spot is wrong by itself, squared, as weighed.
    alone: DVector<f64>,
    unsure: Vec<Unsure>,
    pull: DVector<f64>,
    factor: Cholesky<f64, Dyn>,
    /// The height at every station, mm, and how far they may be off together (covariance).
    pub(super) heights: DVector<f64>,
    pub(super) spread: DMatrix<f64>,
    /// Which share of the spots near the first and the last end lie off the curve.
    pub(super) off_at_ends: [f64; 2],
}

/// How alike two places of likely curves are: their covariance, mm².
fn alike(leg: LegSeen, a: f64, b: f64) -> f64 {
    let product = |of: fn(f64) -> f64, size: f64| size * size * of(a) * of(b);
    let far = |long: f64| (-0.5 * ((a - b) / long).powi(2)).exp();
    let whole = LEVEL * LEVEL
        + product(|s| s - 0.5, TILT)
        + product(|s| 4.0 * s * (1.0 - s) - 2.0 / 3.0, BOW);
    if leg != LegSeen::Both {
        return whole + SMOOTH * SMOOTH * far(LONG);
    }
    let from_middle = |s: f64| (2.0 * s - 1.0).abs();
    let (u, v) = (from_middle(a), from_middle(b));
    let bow = |u: f64| 4.0 * u * (1.0 - u);
    let one_side = if (a - 0.5) * (b - 0.5) > 0.0 { 1.0 } else { 0.0 };
    whole
        + HALF * HALF * ((1.0 - u) * (1.0 - v) + bow(u) * bow(v) + one_side * bow(u) * bow(v))
        + SMOOTH * SMOOTH * far(LONG_OVER_BOTH)
}

impl Curve {
    /// The likeliest curve through the spots; none where there are too few to tell one.
    pub(super) fn through(leg: LegSeen, spots: Vec<Spot>, unsure: Vec<Unsure>) -> Option<Self> {
        if spots.len() < 2 {
            return None;
        }
        let middle = spots.iter().map(|s| s.height).sum::<f64>() / spots.len() as f64;
        let seen = DVector::from_iterator(spots.len(), spots.iter().map(|s| s.height - middle));
        let base = DVector::from_iterator(spots.len(), spots.iter().map(|s| s.alone.powi(2)));
        let likely = likely(leg, &spots, &unsure, |_| true);
        // The middle has its say first: begun with all of them alike, the last places would
        // draw the end of the curve after them, wherever a fold put them.
        let inner = |s: &Spot| if (MIDDLE..=1.0 - MIDDLE).contains(&s.share) { 1.0 } else { LATER };
        let mut alone =
            DVector::from_iterator(spots.len(), spots.iter().map(|s| s.alone.powi(2) * inner(s)));
        for _ in 0..ROUNDS {
            let pull = solved(&likely, &alone)?.solve(&seen);
            // What is left to each spot alone, against what it may be wrong by.
            for i in 0..spots.len() {
                let off = (alone[i] * pull[i]).powi(2) / base[i];
                alone[i] = base[i] * ((TAILS + off) / (TAILS + 1.0)).max(1.0);
            }
        }
        let factor = solved(&likely, &alone)?;
        let pull = factor.solve(&seen);
        let mut curve = Self {
            leg,
            spots,
            middle,
            alone,
            unsure,
            pull,
            factor,
            heights: DVector::zeros(SHARES),
            spread: DMatrix::zeros(SHARES, SHARES),
            off_at_ends: [0.0; 2],
        };
        let even: Vec<f64> = (0..SHARES).map(share).collect();
        curve.heights = curve.heights_at(&even);
        curve.spread = curve.spread_of(&curve.factor, &even);
        let near = |end: f64| {
            let there: Vec<usize> = (0..curve.spots.len())
                .filter(|i| (curve.spots[*i].share - end).abs() <= END)
                .collect();
            let off = there.iter().filter(|i| base[**i] < OFF * curve.alone[**i]).count();
            off as f64 / there.len().max(1) as f64
        };
        curve.off_at_ends = [near(0.0), near(1.0)];
        Some(curve)
    }

    /// The height of the curve at a share, mm.
    pub(super) fn height(&self, at: f64) -> f64 {
        let pulled =
            self.spots.iter().zip(&self.pull).map(|(s, p)| alike(self.leg, at, s.share) * p);
        self.middle + pulled.sum::<f64>()
    }

    /// The heights of the curve at shares, mm; beyond the edges of sight it runs on as it came.
    pub(super) fn heights_at(&self, shares: &[f64]) -> DVector<f64> {
        DVector::from_iterator(shares.len(), shares.iter().map(|s| self.height(*s)))
    }

    /// How far the heights at shares may be off together (covariance), mm².
    pub(super) fn spread_at(&self, shares: &[f64]) -> DMatrix<f64> {
        self.spread_of(&self.factor, shares)
    }

    /// How steeply it rises there, mm for the whole line.
    pub(super) fn slope(&self, at: f64) -> f64 {
        const STEP: f64 = 0.01;
        (self.height(at + STEP) - self.height(at - STEP)) / (2.0 * STEP)
    }

    /// The same, were one cause sure.
    pub(super) fn spread_without(&self, cause: Cause, shares: &[f64]) -> Option<DMatrix<f64>> {
        let likely = likely(self.leg, &self.spots, &self.unsure, |c| c != cause);
        let alone = match cause {
            Cause::Followed => DVector::from_element(self.spots.len(), SURE),
            _ => self.alone.clone(),
        };
        Some(self.spread_of(&solved(&likely, &alone)?, shares))
    }

    fn spread_of(&self, factor: &Cholesky<f64, Dyn>, shares: &[f64]) -> DMatrix<f64> {
        let size = shares.len();
        let to_spots = DMatrix::from_fn(self.spots.len(), size, |r, c| {
            alike(self.leg, self.spots[r].share, shares[c])
        });
        let among = DMatrix::from_fn(size, size, |r, c| alike(self.leg, shares[r], shares[c]));
        among - to_spots.transpose() * factor.solve(&to_spots)
    }
}

/// What a followed place is wrong by at the least, squared, mm².
const SURE: f64 = 0.04;

/// How the spots vary together before each one's own mistake is added: by the curve, by
/// folds, and by what is unsure.
fn likely(
    leg: LegSeen,
    spots: &[Spot],
    unsure: &[Unsure],
    counts: impl Fn(Cause) -> bool,
) -> DMatrix<f64> {
    let mut likely = DMatrix::from_fn(spots.len(), spots.len(), |r, c| {
        let (a, b) = (&spots[r], &spots[c]);
        let fold = a.fold * b.fold * (-(a.share - b.share).abs() / FOLD_LONG).exp();
        let fold = if counts(Cause::Followed) { fold } else { 0.0 };
        alike(leg, a.share, b.share) + fold
    });
    for thing in unsure.iter().filter(|u| counts(u.cause)) {
        likely.ger(1.0, &thing.moves, &thing.moves, 1.0);
    }
    likely
}

fn solved(likely: &DMatrix<f64>, alone: &DVector<f64>) -> Option<Cholesky<f64, Dyn>> {
    let mut whole = likely.clone();
    for i in 0..alone.len() {
        whole[(i, i)] += alone[i];
    }
    whole.cholesky()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spots(height: impl Fn(f64) -> f64) -> Vec<Spot> {
        let at = |i: i32| f64::from(i) / 40.0;
        (2..=38)
            .map(|i| Spot { share: at(i), height: height(at(i)), alone: 0.3, fold: 0.2 })
            .collect()
    }

    #[test]
    fn a_bow_is_told_to_its_ends_and_a_fold_over_one_end_makes_that_end_unsure() {
        let bow = |s: f64| 100.0 - 28.0 * 4.0 * s * (1.0 - s) + 5.0 * s;
        let clean = Curve::through(LegSeen::Left, spots(bow), Vec::new()).unwrap();
        for i in 0..SHARES {
            assert!((clean.heights[i] - bow(share(i))).abs() < 0.3, "{i} {}", clean.heights[i]);
        }
        assert_eq!(clean.off_at_ends, [0.0; 2]);
        // A fold draws the last tenth aside.
        let folded = spots(|s| bow(s) + if s > 0.9 { 6.0 } else { 0.0 });
        let folded = Curve::through(LegSeen::Left, folded, Vec::new()).unwrap();
        let off = folded.heights[SHARES - 1] - bow(1.0);
        let told = 2.0 * folded.spread[(SHARES - 1, SHARES - 1)].sqrt();
        println!("{off} {told} {:?}", folded.off_at_ends);
        assert!(off.abs() < told.max(3.0), "{off} ± {told}");
        assert!(folded.off_at_ends[1] > 0.2);
    }

    #[test]
    fn what_is_unsure_widens_what_it_moves() {
        let level = |moves: Vec<Unsure>| {
            Curve::through(LegSeen::Right, spots(|_| 0.0), moves).unwrap().spread
        };
        let moves = |s: &Spot| 4.0 * s.share;
        let column = DVector::from_iterator(37, spots(|_| 0.0).iter().map(moves));
        let (sure, unsure) =
            (level(Vec::new()), level(vec![Unsure { cause: Cause::Level, moves: column }]));
        let fall = |m: &DMatrix<f64>| m[(0, 0)] + m[(8, 8)] - 2.0 * m[(0, 8)];
        assert!(fall(&unsure).sqrt() > 3.5 && fall(&sure).sqrt() < 1.5);
        let without = Curve::through(
            LegSeen::Right,
            spots(|_| 0.0),
            vec![Unsure { cause: Cause::Level, moves: DVector::from_element(37, 1.0) }],
        );
        let without = without.unwrap();
        let even: Vec<f64> = (0..SHARES).map(share).collect();
        let without = without.spread_without(Cause::Level, &even).unwrap();
        assert!((fall(&without) - fall(&sure)).abs() < 1e-6);
    }
}
