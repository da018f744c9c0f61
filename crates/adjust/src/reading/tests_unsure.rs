//! What is unsure together, and what then stands side by side.

use super::tests::{bow, pattern, settled_as_home, table, toile};
use super::*;
use HangLine::Thigh;
use PieceView::Back;

fn read(droops: &[Droop], together: &[ReadTogether]) -> ToileReading {
    let pattern = pattern();
    let homes = settled_as_home(&pattern);
    let observed = Observed { droops, homes: &homes, together, ..Observed::default() };
    read_toile(observed, &table(), &pattern, &pattern, Unit::Mm).unwrap()
}

fn is_thigh(d: &Droop) -> bool {
    (d.line, d.view) == (Thigh, Back)
}

/// A surplus under the seat of 14 mm, each place of the thigh line ± 9 mm.
fn wide() -> Vec<Droop> {
    let surplus = |l, v, _, s| if (l, v) == (Thigh, Back) { 14.0 * bow(s) } else { 0.0 };
    let wide = |d: Droop| if is_thigh(&d) && d.at < 1.0 { Droop { error: 9.0, ..d } } else { d };
    toile(surplus).into_iter().map(wide).collect()
}

/// The thigh line of each leg read together: what makes a place unsure tilts the whole line
/// about its side end.
fn tilted(droops: &[Droop]) -> Vec<ReadTogether> {
    let of_leg = |leg: Leg| {
        let places: Vec<Droop> =
            droops.iter().copied().filter(|d| is_thigh(d) && d.leg == leg).collect();
        let moved = |d: &Droop| 18.0 * (1.0 - d.at);
        let row = |a: &Droop| places.iter().map(|b| moved(a) * moved(b)).collect();
        ReadTogether { spread: places.iter().map(row).collect(), places }
    };
    Leg::BOTH.map(of_leg).to_vec()
}

const SURPLUS: &str = "surplus length under the seat";

#[test]
fn a_line_that_may_tilt_as_a_whole_is_sure_of_its_bow() {
    let mut droops = wide();
    let alone = read(&droops, &[]);
    let surplus = |r: &ToileReading| r.meanings.iter().find(|m| m.rule == SURPLUS).cloned();
    let unsure = surplus(&alone).map_or(f64::INFINITY, |m| m.error);
    // The ± of each place as the tilt has it: 9 mm in the middle, 18 at the inseam.
    for d in droops.iter_mut().filter(|d| is_thigh(d) && d.at < 1.0) {
        d.error = 18.0 * (1.0 - d.at);
    }
    let together = tilted(&droops);
    let sure = surplus(&read(&droops, &together)).unwrap();
    println!("bow ± {:.1} one by one, ± {:.1} together", unsure, sure.error);
    // A tilt makes no bow: of the reading nothing is left, of home 4 mm a place.
    assert!(sure.sure && sure.error < 0.7 * unsure, "{sure:?}");
    // A place that is not told by itself still counts in the bow.
    let told: Vec<Droop> =
        droops.iter().copied().filter(|d| !(is_thigh(d) && d.at == 0.0)).collect();
    let left = read(&told, &together);
    assert_eq!(surplus(&left).unwrap().amount, sure.amount);
    let places = |r: &ToileReading| r.lines.iter().map(|l| l.places.len()).sum::<usize>();
    assert_eq!(places(&left) + 2, places(&read(&droops, &together)), "but is not told");
}

#[test]
fn what_is_too_unsure_to_tell_stands_side_by_side_and_what_is_sure_does_not() {
    let unsure: Vec<Droop> =
        wide().into_iter().map(|d| Droop { error: d.error.max(8.0) * 1.8, ..d }).collect();
    let reading = read(&unsure, &[]);
    assert!(reading.meanings.iter().all(|m| !m.sure), "{:?}", reading.meanings);
    let said = reading.side_by_side().unwrap();
    assert!(said.contains(SURPLUS) && said.contains("or nothing at all"), "{said}");
    assert!(reading.open.len() > 1, "{said}");
    let sure: Vec<Droop> = wide().into_iter().map(|d| Droop { error: 1.0, ..d }).collect();
    let reading = read(&sure, &[]);
    assert!(reading.meanings[0].sure && reading.meanings[0].rule == SURPLUS);
    assert_eq!(reading.side_by_side(), None);
}
