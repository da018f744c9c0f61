//! Droops read from a photo as the table that the reading takes.

use hangtrue_adjust::reading::{self, Droop, HangLine, Leg};
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
    let one = |told: StationDroop| {
        let StationDroop { line, view, leg, at, mm, error } = told;
        let legs = Leg::BOTH.into_iter().filter(move |l| leg == "both" || leg == l.word());
        legs.map(move |leg| Droop { line, view, leg, at, mm, error })
    };
    hangs.iter().flat_map(told).flat_map(one).collect()
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

/// The stations of one line. A bow is sure where a tilt is not (the level may be
/// off, the sag is not), so the middle carries the error of the sag, and the two
/// ends share that of the fall.
fn told(hang: &Hang) -> Vec<StationDroop> {
    let view = match hang.view {
        View::Back => reading::PieceView::Back,
        View::Front => reading::PieceView::Front,
        View::LeftSide | View::RightSide => return Vec::new(),
    };
    let Some(line) = name_in_reading(&hang.line) else { return Vec::new() };
    let last = hang.stations.len().saturating_sub(1);
    let stations = hang.stations.iter().enumerate();
    stations
        .flat_map(|(i, station)| {
            let end = if i == 0 || i == last { Some(hang.fall.error) } else { None };
            let error = end.map_or(station.sag.error, |e| e * std::f64::consts::FRAC_1_SQRT_2);
            let mm = station.below_last.value;
            places(hang, station).into_iter().map(move |(leg, at)| StationDroop {
                line,
                view,
                leg,
                at,
                mm,
                error,
            })
        })
        .collect()
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
