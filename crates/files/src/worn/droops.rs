//! Droops read from a photo as the table that the reading takes.

use hangtrue_adjust::reading::{self, Droop, HangLine, Leg, ReadTogether};
use hangtrue_adjust::worn::{Hang, HangStation, LegSeen, View};
use hangtrue_pattern::names;

/// The first line of the table.
const HEAD: &str = "line,view,leg,at,droop,error\n";

/// The lines as the table of droops (`line,view,leg,at,droop,error`, in mm) that
/// [`read_droops`](crate::droops::read_droops) reads; what is left out of
/// [`droops_of`] is left out of it.
pub fn droop_table(hangs: &[Hang]) -> String {
    let mut table = HEAD.to_owned();
    for told in hangs.iter().flat_map(told) {
        let StationDroop { line, view, leg, at, mm, error } = told;
        table += &format!(
            "{},{},{leg},{:.1}%,{mm:.2} mm,{error:.2} mm\n",
            line.name(),
            view.piece(),
            100.0 * at,
        );
    }
    table
}

/// The droops of the lines. Lines the reading has no name for, and photos from the
/// side, are left out.
pub fn droops_of(hangs: &[Hang]) -> Vec<Droop> {
    hangs.iter().flat_map(told).flat_map(|told| told.of_each_leg().collect::<Vec<_>>()).collect()
}

/// One station as the reading takes it.
struct StationDroop {
    line: HangLine,
    view: reading::PieceView,
    leg: &'static str,
    at: f64,
    mm: f64,
    error: f64,
}

impl StationDroop {
    /// The droop of each leg it lies on.
    fn of_each_leg(&self) -> impl Iterator<Item = Droop> + '_ {
        let legs = Leg::BOTH.into_iter().filter(|l| self.leg == "both" || self.leg == l.word());
        let Self { line, view, at, mm, error, .. } = *self;
        legs.map(move |leg| Droop { line, view, leg, at, mm, error })
    }
}

/// The stations of one line that are told, each against the side. A line of which next to
/// nothing is told is left out.
fn told(hang: &Hang) -> Vec<StationDroop> {
    if tells_nothing(hang) {
        return Vec::new();
    }
    all(hang).into_iter().filter(|(i, _)| is_told(hang, *i)).map(|(_, droop)| droop).collect()
}

fn is_told(hang: &Hang, index: usize) -> bool {
    hang.stations.get(index).is_some_and(|s| s.not_told.is_none())
}

/// Whether next to nothing is told of a line, so that it is left out of the droops.
pub(super) fn tells_nothing(hang: &Hang) -> bool {
    (0..hang.stations.len()).filter(|i| is_told(hang, *i)).count() < FEWEST
}

/// All the stations of a line as the reading takes them, each with its index; none of a line
/// or a view it has no name for.
fn all(hang: &Hang) -> Vec<(usize, StationDroop)> {
    let view = match hang.view {
        View::Back => reading::PieceView::Back,
        View::Front => reading::PieceView::Front,
        View::LeftSide | View::RightSide => return Vec::new(),
    };
    let Some(line) = name_in_reading(&hang.line) else { return Vec::new() };
    let one = |i: usize| {
        let (mm, error) = told_at(hang, i);
        let places = places(hang, &hang.stations[i]).into_iter();
        places.map(move |(leg, at)| (i, StationDroop { line, view, leg, at, mm, error }))
    };
    (0..hang.stations.len()).flat_map(one).collect()
}

/// The lines with how their places are off together, those too that are not told by
/// themselves: a bow of a line is surer than each of its places.
pub fn read_together(hangs: &[Hang]) -> Vec<ReadTogether> {
    hangs.iter().filter_map(together_of).collect()
}

fn together_of(hang: &Hang) -> Option<ReadTogether> {
    let mut together = ReadTogether::default();
    let mut rows = Vec::new();
    for (index, droop) in all(hang) {
        for place in droop.of_each_leg() {
            together.places.push(place);
            rows.push(index);
        }
    }
    let shared = |i: usize, j: usize| hang.together.get(i).and_then(|row| row.get(j)).copied();
    for a in &rows {
        together.spread.push(rows.iter().map(|b| shared(*a, *b)).collect::<Option<_>>()?);
    }
    (!rows.is_empty()).then_some(together)
}

/// A line with fewer places told than this tells nothing: one of them is its own side.
const FEWEST: usize = 3;

/// The last end is what the line is told against: no surer than a pen, mm.
const PEN: f64 = 0.5;

/// A station's droop against the level through the last end and its ±, mm, as the
/// reading takes them.
pub fn told_at(hang: &Hang, index: usize) -> (f64, f64) {
    let told = hang.stations.get(index).map(|s| s.below_side);
    told.map_or((0.0, PEN), |w| (w.value, w.error.max(PEN)))
}

/// The reading's name for a line of the pattern.
pub fn name_in_reading(line: &str) -> Option<HangLine> {
    match line {
        names::HIP_BALANCE | names::HIP_BALANCE_BEFORE => Some(HangLine::Hip),
        names::THIGH => Some(HangLine::Thigh),
        names::KNEE => Some(HangLine::Knee),
        "waist" => Some(HangLine::Waist),
        "hem" => Some(HangLine::Hem),
        _ => None,
    }
}

/// On which leg a station lies and how far from its inner end. Over both legs the
/// middle belongs to both. From behind, the wearer's left is at the photo's left.
fn places(hang: &Hang, station: &HangStation) -> Vec<(&'static str, f64)> {
    let from_middle = (station.share - 0.5).abs() * 2.0;
    let at_left = if hang.view == View::Back { "left" } else { "right" };
    let at_right = if hang.view == View::Back { "right" } else { "left" };
    match hang.leg {
        LegSeen::Left => vec![("left", station.share)],
        LegSeen::Right => vec![("right", station.share)],
        LegSeen::Both if from_middle < 1e-9 => vec![("both", 0.0)],
        LegSeen::Both if station.share < 0.5 => vec![(at_left, from_middle)],
        LegSeen::Both => vec![(at_right, from_middle)],
    }
}
