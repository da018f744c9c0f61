//! Droops read from a photo as the table that the reading takes.

use hangtrue_adjust::worn::{Hang, HangStation, LegSeen, View};
use hangtrue_pattern::names;

/// The first line of the table.
const HEAD: &str = "line,view,leg,at,droop,error\n";

/// The lines as the table of droops (`line,view,leg,at,droop,error`, in mm) that
/// [`read_droops`](crate::droops::read_droops) reads. Lines the reading has no name
/// for, and photos from the side, are left out.
///
/// A bow is sure where a tilt is not (the level may be off, the sag is not), so the
/// middle carries the error of the sag, and the two ends share that of the fall.
pub fn droop_table(hangs: &[Hang]) -> String {
    let mut table = HEAD.to_owned();
    for hang in hangs {
        let Some(line) = name_in_reading(&hang.line) else { continue };
        let view = match hang.view {
            View::Back => "back",
            View::Front => "front",
            View::LeftSide | View::RightSide => continue,
        };
        let last = hang.stations.len() - 1;
        for (i, station) in hang.stations.iter().enumerate() {
            let end = if i == 0 || i == last { Some(hang.fall.error) } else { None };
            let error = end.map_or(station.sag.error, |e| e * std::f64::consts::FRAC_1_SQRT_2);
            for (leg, at) in places(hang, station) {
                table += &format!(
                    "{line},{view},{leg},{:.1}%,{:.2} mm,{error:.2} mm\n",
                    100.0 * at,
                    station.below_last.value
                );
            }
        }
    }
    table
}

fn name_in_reading(line: &str) -> Option<&'static str> {
    match line {
        names::FULL_HIP => Some("hip"),
        names::THIGH => Some("thigh"),
        names::KNEE => Some("knee"),
        "waist" => Some("waist"),
        "hem" => Some("hem"),
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
