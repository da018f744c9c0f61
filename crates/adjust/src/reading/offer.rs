//! What was left over on the toile as a pinch to begin with: along the line that hung too
//! low, at the places that were measured. The amounts are what was left over there; whether
//! they are pinned is for whoever pinned them to say.

use super::droop::{HangLine, PieceView};
use super::left_over::{LineRead, Split, place_words};
use crate::{Pinch, PinchPath, Station, StationPlace};
use hangtrue_pattern::units::{Unit, show_margin, show_measured};
use hangtrue_pattern::{Leg, Pattern, names};

/// Stations nearer to an end of the line than this have run out, as a share.
pub(super) const RUN_OUT: f64 = 0.08;

/// A pinch is not pinned for less than this, mm.
pub(super) const LEAST_PINNED: f64 = 1.0;

/// Less that is left over is not offered, mm: about 1/8 in (our own choice). What is more may
/// be nothing all the same, and its ± says so.
const LEAST_OFFERED: f64 = 3.0;

/// A line of the toile along which there may be too much cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The line.
    pub line: HangLine,
    /// The piece.
    pub view: PieceView,
    /// The legs on which it was measured alike.
    pub legs: Vec<Leg>,
    /// The places at which cloth was left over, from the inner end.
    pub places: Vec<Split>,
}

/// Amounts nearer than this are alike on both legs, mm: what a tape does not show.
const ALIKE: f64 = 0.5;

impl Offer {
    /// In words: “back thigh, both legs: in the middle 18 mm low, 11 mm left over ± 2 mm”.
    pub fn words(&self, unit: Unit) -> String {
        let legs = match self.legs.as_slice() {
            [leg] => format!("{} leg", leg.word()),
            _ => "both legs".into(),
        };
        let places = self.places.iter().map(|p| {
            let way = if p.measured < 0.0 { "high" } else { "low" };
            let may_be_nothing = if p.left_over > p.error { "" } else { ", which may be nothing" };
            format!(
                "{} {} {way}, {} left over ± {}{may_be_nothing}",
                place_words(self.line, p.at),
                show_measured(p.measured.abs(), unit),
                show_measured(p.left_over, unit),
                show_margin(p.error, unit)
            )
        });
        let places: Vec<String> = places.collect();
        format!("{} {}, {legs}: {}", self.view.piece(), self.line.name(), places.join("; "))
    }

    /// The pinch on that piece of the pattern, its amounts what was left over; none where the
    /// line does not lie on it.
    pub fn pinch(&self, pattern: &Pattern, piece: &str, name: &str) -> Option<Pinch> {
        let marked = self.marked()?;
        let line = pattern.place_line(piece, marked).ok()?;
        let from_side = line.ends.first().is_some_and(|end| end.seam == names::SIDE);
        let station = |p: &Split| {
            let share = if from_side { 1.0 - p.at } else { p.at };
            Station { at: StationPlace::Share(share), amount: p.left_over }
        };
        let mut stations: Vec<Station> = self.places.iter().map(station).collect();
        if from_side {
            stations.reverse();
        }
        let path = PinchPath::Line(marked.into());
        Some(Pinch { name: name.into(), piece: piece.into(), path, stations })
    }

    /// The line as it is marked; none for one along which nothing is pinned.
    pub fn marked(&self) -> Option<&'static str> {
        match self.line {
            HangLine::Hip | HangLine::Thigh | HangLine::Knee => Some(self.line.name()),
            HangLine::Waist | HangLine::Hem => None,
        }
    }

    fn is_like(&self, other: &Self) -> bool {
        let near = |(a, b): (&Split, &Split)| {
            (a.at - b.at).abs() < super::SAME_PLACE && (a.left_over - b.left_over).abs() < ALIKE
        };
        (self.line, self.view) == (other.line, other.view)
            && self.places.len() == other.places.len()
            && self.places.iter().zip(&other.places).all(near)
    }
}

/// The lines that hang lower than on a toile that fits.
pub fn offers(lines: &[LineRead]) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for line in lines {
        let is_over = |p: &&Split| {
            let within = (RUN_OUT..=1.0 - RUN_OUT).contains(&p.at);
            within && p.left_over >= LEAST_OFFERED
        };
        let places: Vec<Split> = line.places.iter().filter(is_over).copied().collect();
        let offer = Offer { line: line.line, view: line.view, legs: vec![line.leg], places };
        if offer.places.is_empty() || offer.marked().is_none() {
            continue;
        }
        match offers.iter_mut().find(|o| o.is_like(&offer)) {
            Some(same) => same.legs.extend(offer.legs),
            None => offers.push(offer),
        }
    }
    offers
}

#[cfg(test)]
mod tests {
    use super::super::left_over::Says;
    use super::*;
    use crate::{UsualDepths, sample, usual_lines};

    fn split(at: f64, measured: f64, left_over: f64) -> Split {
        Split { at, measured, home: measured - left_over, left_over, error: 2.0 }
    }

    fn read(line: HangLine, leg: Leg, places: Vec<Split>) -> LineRead {
        let worst = places[places.len() / 2];
        let says = if worst.left_over.abs() > 2.0 { Says::Off(worst) } else { Says::Home };
        let view = PieceView::Back;
        LineRead { line, view, leg, places, home_known: true, home_settled: false, says }
    }

    #[test]
    fn what_is_left_over_is_offered_once_for_legs_alike_and_only_where_cloth_is_too_much() {
        let over = || vec![split(0.0, 5.0, 0.0), split(0.5, 18.0, 11.0), split(1.0, 0.0, 0.0)];
        let high = vec![split(0.0, 0.0, 0.0), split(0.5, -9.0, -12.0), split(1.0, 0.0, 0.0)];
        let lines = [
            read(HangLine::Thigh, Leg::Left, over()),
            read(HangLine::Thigh, Leg::Right, over()),
            read(HangLine::Knee, Leg::Left, high),
            read(HangLine::Waist, Leg::Left, over()),
        ];
        let offers = offers(&lines);
        let [offer] = offers.as_slice() else { panic!("{offers:?}") };
        assert_eq!(
            offer.words(Unit::Mm),
            "back thigh, both legs: in the middle 18.0 mm low, 11.0 mm left over ± 2.0 mm"
        );
    }

    /// A place is counted from the inner end on the toile; on paper from wherever the line
    /// begins.
    #[test]
    fn the_pinch_lies_where_the_toile_was_measured() {
        let mut pattern = sample::pattern();
        pattern.lines = usual_lines(&pattern, UsualDepths::default()).unwrap().into();
        let places = vec![split(0.25, 20.0, 14.0)];
        let offers = offers(&[read(HangLine::Thigh, Leg::Left, places)]);
        let pinch = offers[0].pinch(&pattern, names::BACK, "p").unwrap();
        let laid = pinch.lay(&pattern).unwrap();
        let at = laid.station_point(laid.largest().0);
        let inner = laid.ends.iter().find(|e| e.seam != names::SIDE).unwrap().point;
        let share = at.distance(inner) / laid.path.length();
        assert!((share - 0.25).abs() < 0.02, "{share}");
        assert!((laid.largest().1 - 14.0).abs() < 1e-9);
    }
}
