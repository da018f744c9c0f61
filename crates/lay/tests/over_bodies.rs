//! Lays of pieces of the survey's bodies (ANSUR II, see `tests/data/README.md`).

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use hangtrue_adjust::{AllowanceSet, ClothLay, Closure, Document, Nap, UsualLay, WaistFinish};
use hangtrue_cut::{Cloth, CutSet, pieces_to_cut};
use hangtrue_lay::{Bed, Effort, Lay, find, on_shelves, parts_to_lay};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Leg, Pattern};
use hangtrue_tests::bodies::ten_blocks;

/// The pieces of first-fitting trousers with fly and straight band.
fn pieces(pattern: &Pattern) -> CutSet {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::FirstFitting);
    document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    pieces_to_cut(pattern, &document).unwrap()
}

fn cloths() -> Vec<ClothLay> {
    let open = UsualLay::of(Unit::Mm).lay(1400.0);
    vec![
        open.clone(),
        ClothLay { folded: true, ..open.clone() },
        ClothLay { nap: Nap::OneWay, width: 1150.0, ..open.clone() },
        ClothLay { repeat: Some(240.0), apart: 6.0, ..open.clone() },
        ClothLay { folded: true, repeat: Some(90.0), width: 1500.0, ..open },
    ]
}

fn laid(set: &CutSet, cloth: &ClothLay, seed: u64, rounds: usize) -> Lay {
    let bed = Bed::of(cloth).unwrap();
    let parts = parts_to_lay(set, Cloth::Main, &bed).unwrap();
    find(bed, parts, Effort { seed, rounds }, &mut |_| true).unwrap()
}

/// Every piece is there, none over another or an edge, none the wrong way or off the print.
#[test]
fn nothing_is_wrong_with_what_is_found() {
    for pattern in ten_blocks(0.0).iter().step_by(4) {
        let set = pieces(pattern);
        for cloth in cloths() {
            let lay = laid(&set, &cloth, 3, 60);
            let faults = lay.faults();
            assert!(faults.is_empty(), "{cloth:?}: {:?}", faults.all);
            let count: usize = lay.parts.iter().map(hangtrue_lay::Part::count).sum();
            assert_eq!(count, 5, "two backs, two fronts, one band");
            let plain = on_shelves(lay.bed, lay.parts.clone()).unwrap();
            println!("{:.0} beside {:.0} on shelves, filled {:.3}", lay.length(), plain.length(), lay.filled().unwrap());
        }
    }
}
