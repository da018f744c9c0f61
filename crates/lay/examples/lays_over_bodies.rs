//! Lays for 50 pairs of back and front, drafted for bodies of the survey (ANSUR II, see
//! `tests/data/README.md`), on cloths of four widths, open and folded, beside boxes on
//! shelves. Prints the table of `docs/lay.md`:
//!
//!     cargo run --release -p hangtrue-lay --example lays_over_bodies [ROUNDS]

#![allow(clippy::unwrap_used, clippy::expect_used)] // a run stops at the first fault

use hangtrue_adjust::{AllowanceSet, Closure, ClothLay, Document, UsualLay, WaistFinish};
use hangtrue_cut::{Cloth, CutSet, pieces_to_cut};
use hangtrue_lay::{Bed, Effort, find, on_shelves, parts_to_lay};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Leg, Pattern, Plan, draft};
use hangtrue_tests::bodies::bodies;
use std::time::Instant;

const PAIRS: usize = 50;
const WIDTHS: [f64; 4] = [900.0, 1150.0, 1400.0, 1500.0];

fn pieces(pattern: &Pattern) -> CutSet {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::FirstFitting);
    document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    pieces_to_cut(pattern, &document).unwrap()
}

fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    of.get(of.len() / 2).copied().unwrap_or(f64::NAN)
}

/// What a row of the table tells.
#[derive(Default)]
struct Row {
    laid: usize,
    too_wide: usize,
    faults: usize,
    shorter: usize,
    at_least: usize,
    lengths: Vec<f64>,
    gains: Vec<f64>,
    filled: Vec<f64>,
    seconds: Vec<f64>,
}

fn main() {
    let rounds = std::env::args().nth(1).map_or(2000, |r| r.parse().expect("a number of rounds"));
    let drafted = bodies().into_iter().step_by(29);
    let sets: Vec<CutSet> = drafted
        .filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern))
        .take(PAIRS)
        .map(|pattern| pieces(&pattern))
        .collect();
    println!("{} pairs, {rounds} rounds", sets.len());
    for folded in [false, true] {
        for width in WIDTHS {
            let cloth = ClothLay { folded, ..UsualLay::of(Unit::Mm).lay(width) };
            let mut row = Row::default();
            for set in &sets {
                lay_one(set, &cloth, rounds, &mut row);
            }
            told(&cloth, &row);
        }
    }
}

fn lay_one(set: &CutSet, cloth: &ClothLay, rounds: usize, row: &mut Row) {
    let bed = Bed::of(cloth).unwrap();
    let Ok(parts) = parts_to_lay(set, Cloth::Main, &bed) else {
        row.too_wide += 1;
        return;
    };
    let begun = Instant::now();
    let lay = find(bed, parts.clone(), Effort { seed: 1, rounds }, &mut |_| true).unwrap();
    row.seconds.push(begun.elapsed().as_secs_f64());
    row.faults += lay.faults().all.len();
    let plain = on_shelves(bed, parts).unwrap();
    let (found, shelves) = (lay.length(), plain.length());
    row.laid += 1;
    row.shorter += usize::from(found < shelves - 0.5);
    // No lay is shorter than its longest piece.
    let longest = plain.laid().map(|(_, shape, _)| shape.size.x).fold(0.0, f64::max);
    row.at_least += usize::from(shelves < longest + 0.5);
    row.lengths.push(found);
    row.gains.push(100.0 * (shelves - found) / shelves);
    row.filled.push(100.0 * lay.filled().unwrap());
}

fn told(cloth: &ClothLay, row: &Row) {
    let how = if cloth.folded { "folded" } else { "open" };
    println!(
        "| {:.0} cm | {how} | {} | {} | {} | {} | {} | {:.0} mm | {:.1} % | {:.0} % | {:.2} s |",
        cloth.width / 10.0,
        row.laid,
        row.too_wide,
        row.faults,
        row.shorter,
        row.at_least,
        median(row.lengths.clone()),
        median(row.gains.clone()),
        median(row.filled.clone()),
        median(row.seconds.clone()),
    );
}
