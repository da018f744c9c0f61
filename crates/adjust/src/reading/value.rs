//! Values the rules speak of: sums of measured droops, each with the ± that
//! follows from its stations and the arithmetic in words.

use super::droop::{Droop, HangLine, PieceView};
use super::left_over::{HomeShare, LeftOver};
use super::rule::Margin;
use super::together::Margins;
use hangtrue_pattern::Leg;
use hangtrue_pattern::units::{Unit, as_shown, show_margin, show_measured};
use serde::{Deserialize, Serialize};

/// Something to be read off the lines of one leg. Droops are positive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Value {
    /// The droop at the inner end: at the centre, or at the inseam.
    Inner(HangLine),
    /// The droop half way across.
    Middle(HangLine),
    /// The droop at the side seam.
    Side(HangLine),
    /// The middle less the mean of both ends: how much the line hangs in a bow.
    Bow(HangLine),
    /// The side less the inner end: how much the line falls to the side.
    Tilt(HangLine),
    /// The mean of inner end, middle and side.
    Mean(HangLine),
    /// The first less the second.
    Less(Box<Value>, Box<Value>),
    /// So many times the value.
    Times(f64, Box<Value>),
    /// The value as seen from that view, whatever the rule's.
    Seen(PieceView, Box<Value>),
    /// The value of the left leg less that of the right.
    LeftLessRight(Box<Value>),
    /// Not read off anything: so many mm to begin with, where only a sign speaks.
    Begin(f64),
}

/// A sum of measured droops: how often each is taken, and what is added that was not
/// measured. The ± of a sum is the root of the squares of its parts as far as the stations
/// are read one by one; what is off together, as home is, is added up first.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Sum(Vec<f64>, f64);

/// What is left over of the droops of a toile, sorted along their lines.
pub(crate) struct Toile<'a> {
    pub(super) places: &'a [LeftOver],
    /// What they are unsure of together.
    pub(super) margins: &'a Margins,
}

/// The ends of a line may be read this far inside it, as a share.
pub(super) const NEAR_END: f64 = 0.12;

impl Toile<'_> {
    /// The droop of a line at a share of its way, straight between the stations
    /// beside it; none when the line was not read there.
    pub(crate) fn at(&self, line: HangLine, view: PieceView, leg: Leg, share: f64) -> Option<Sum> {
        let mine = |d: &Droop| (d.line, d.view, d.leg) == (line, view, leg);
        let stations: Vec<usize> =
            (0..self.places.len()).filter(|&i| mine(&self.places[i].droop)).collect();
        let place = |i: &usize| self.places[*i].droop.at;
        let after = stations.partition_point(|i| place(i) < share);
        let mut sum = Sum(vec![0.0; self.places.len()], 0.0);
        match (after.checked_sub(1).map(|i| stations[i]), stations.get(after)) {
            (Some(a), Some(&b)) => {
                let t = (share - place(&a)) / (place(&b) - place(&a));
                sum.0[a] = 1.0 - t;
                sum.0[b] = t;
            }
            (None, Some(&only)) if place(&only) - share <= NEAR_END => sum.0[only] = 1.0,
            (Some(only), None) if share - place(&only) <= NEAR_END => sum.0[only] = 1.0,
            _ => return None,
        }
        Some(sum)
    }

    /// The sum in mm, and its ±.
    pub(crate) fn measure(&self, sum: &Sum) -> (f64, f64) {
        let (value, margin) = self.measure_parts(sum);
        (value, margin.whole)
    }

    /// The sum in mm, and its ±: of the measuring, and with that of home.
    pub(super) fn measure_parts(&self, sum: &Sum) -> (f64, Margin) {
        let parts = || sum.0.iter().zip(self.places);
        let value = sum.1 + parts().map(|(c, d)| c * d.droop.mm).sum::<f64>();
        let read = self.read_error_squared(sum);
        // What home is off by is off alike wherever the same line is read.
        let mut homes: Vec<HomeShare> = Vec::new();
        for (c, share) in parts().flat_map(|(c, d)| d.shares.iter().map(move |s| (c, s))) {
            match homes.iter_mut().find(|h| h.is_of(share)) {
                Some(home) => home.error += c * share.error,
                None => homes.push(HomeShare { error: c * share.error, ..*share }),
            }
        }
        let home: f64 = homes.iter().map(|h| h.error * h.error).sum();
        (value, Margin { read: read.sqrt(), whole: (read + home).sqrt() })
    }

    /// The ± of the measuring, squared: of places that were measured one by one the sum of
    /// the squares, and of those read together what they share besides.
    fn read_error_squared(&self, sum: &Sum) -> f64 {
        let counted: Vec<usize> = (0..sum.0.len()).filter(|i| sum.0[*i] != 0.0).collect();
        let mut squared = 0.0;
        for &i in &counted {
            let alone = self.places[i].droop.error.powi(2);
            for &j in &counted {
                let shared = if i == j { alone } else { self.margins.shared(i, j) };
                squared += sum.0[i] * sum.0[j] * shared;
            }
        }
        squared.max(0.0)
    }
}

impl Sum {
    pub(crate) fn plus(&self, times: f64, other: &Self) -> Self {
        let size = self.0.len().max(other.0.len());
        let of = |s: &Self, i: usize| s.0.get(i).copied().unwrap_or_default();
        let all = (0..size).map(|i| of(self, i) + times * of(other, i)).collect();
        Self(all, self.1 + times * other.1)
    }
}

impl Value {
    /// The value on a leg; none when a line it needs was not read there.
    pub(crate) fn of(&self, toile: &Toile<'_>, view: PieceView, leg: Leg) -> Option<Sum> {
        let at = |line: HangLine, share: f64| toile.at(line, view, leg, share);
        Some(match self {
            Self::Inner(line) => at(*line, 0.0)?,
            Self::Middle(line) => at(*line, 0.5)?,
            Self::Side(line) => at(*line, 1.0)?,
            Self::Bow(line) => {
                at(*line, 0.5)?.plus(-0.5, &at(*line, 0.0)?).plus(-0.5, &at(*line, 1.0)?)
            }
            Self::Tilt(line) => at(*line, 1.0)?.plus(-1.0, &at(*line, 0.0)?),
            Self::Mean(line) => {
                let all = at(*line, 0.0)?.plus(1.0, &at(*line, 0.5)?).plus(1.0, &at(*line, 1.0)?);
                Sum::default().plus(1.0 / 3.0, &all)
            }
            Self::Less(a, b) => a.of(toile, view, leg)?.plus(-1.0, &b.of(toile, view, leg)?),
            Self::Times(times, a) => Sum::default().plus(*times, &a.of(toile, view, leg)?),
            Self::Seen(view, a) => a.of(toile, *view, leg)?,
            Self::LeftLessRight(a) => {
                a.of(toile, view, Leg::Left)?.plus(-1.0, &a.of(toile, view, Leg::Right)?)
            }
            Self::Begin(mm) => Sum(Vec::new(), *mm),
        })
    }

    /// The lines and views it needs.
    pub(crate) fn needs(&self, view: PieceView) -> Vec<(PieceView, HangLine)> {
        match self {
            Self::Inner(l)
            | Self::Middle(l)
            | Self::Side(l)
            | Self::Bow(l)
            | Self::Tilt(l)
            | Self::Mean(l) => vec![(view, *l)],
            Self::Less(a, b) => [a.needs(view), b.needs(view)].concat(),
            Self::Times(_, a) | Self::LeftLessRight(a) => a.needs(view),
            Self::Seen(view, a) => a.needs(*view),
            Self::Begin(_) => Vec::new(),
        }
    }

    /// The value in words.
    pub(crate) fn words(&self) -> String {
        let end = |line: &HangLine| line.inner_end();
        match self {
            Self::Inner(l) => format!("{} line at the {}", l.name(), end(l)),
            Self::Middle(l) => format!("{} line in the middle", l.name()),
            Self::Side(l) => format!("{} line at the side seam", l.name()),
            Self::Bow(l) => {
                format!("bow of the {} line (middle less the mean of its ends)", l.name())
            }
            Self::Tilt(l) => format!("fall of the {} line from {} to side seam", l.name(), end(l)),
            Self::Mean(l) => format!("mean of the {} line", l.name()),
            Self::Less(a, b) => format!("{}, less {}", a.words(), b.words()),
            Self::Times(times, a) => format!("{times} × ({})", a.words()),
            Self::Seen(view, a) => format!("{} {}", view.piece(), a.words()),
            Self::LeftLessRight(a) => format!("{}, left less right", a.words()),
            Self::Begin(_) => "an amount to begin with".into(),
        }
    }

    /// The arithmetic with its numbers; for a difference both parts.
    pub(crate) fn shown(
        &self,
        toile: &Toile<'_>,
        view: PieceView,
        leg: Leg,
        unit: Unit,
    ) -> Option<String> {
        // What was not measured has no arithmetic.
        if matches!(self, Self::Begin(_)) {
            return None;
        }
        let (mm, error) = toile.measure(&self.of(toile, view, leg)?);
        let result = with_error(mm, error, unit);
        // A difference is that of its parts as they are read.
        let less = |a: f64, b: f64| {
            let result = with_error(as_shown(a, unit) - as_shown(b, unit), error, unit);
            (signed(a, unit), signed(b, unit), result)
        };
        Some(match self {
            Self::Less(a, b) => {
                let part = |v: &Self| Some(toile.measure(&v.of(toile, view, leg)?).0);
                let (one, other, result) = less(part(a)?, part(b)?);
                format!("{} {one} − {} {other} = {result}", a.words(), b.words())
            }
            Self::Times(times, a) => {
                format!("{}; {times} times that = {result}", a.shown(toile, view, leg, unit)?)
            }
            Self::LeftLessRight(a) => {
                let part = |leg: Leg| Some(toile.measure(&a.of(toile, view, leg)?).0);
                let (left, right, result) = less(part(Leg::Left)?, part(Leg::Right)?);
                format!("{}: left {left} − right {right} = {result}", a.words())
            }
            _ => format!("{} = {result}", self.words()),
        })
    }
}

/// A length with + for a droop and − for a rise.
pub(crate) fn signed(mm: f64, unit: Unit) -> String {
    let shown = show_measured(mm, unit);
    if mm <= 0.0 || shown.starts_with("0 ") { shown } else { format!("+{shown}") }
}

pub(crate) fn with_error(mm: f64, error: f64, unit: Unit) -> String {
    format!("{} ± {}", signed(mm, unit), show_margin(error, unit))
}
