//! Trousers, cloths and lays for tests.

#![allow(clippy::unwrap_used, dead_code)] // a test stops at the first fault, and uses a part

use hangtrue_adjust::{
    AllowanceSet, Closure, ClothLay, Document, Nap, Shrinkage, UsualLay, WaistFinish,
};
use hangtrue_cut::{Cloth, CutSet, pieces_to_cut};
use hangtrue_lay::{Bed, Effort, Lay, find, parts_to_lay};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;

/// The plan of first-fitting trousers pulled on, with a straight band, lined and interfaced, for
/// a cloth that shrinks by so much in length and width.
pub fn plan((lengthwise, crosswise): (f64, f64)) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::FirstFitting);
    document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    document.cutting.closure = Closure::None;
    document.cutting.lining = true;
    document.cutting.interfacing = true;
    document.cutting.shrinkage = Shrinkage { lengthwise, crosswise };
    document
}

/// The pieces cut by that plan.
pub fn pieces(pattern: &Pattern, shrinks: (f64, f64)) -> CutSet {
    pieces_to_cut(pattern, &plan(shrinks)).unwrap()
}

/// First-fitting trousers with a fly and a band that overlaps, as the example lays them.
pub fn with_fly(pattern: &Pattern) -> CutSet {
    let mut document = plan((0.0, 0.0));
    document.cutting.closure = Closure::Fly { over: hangtrue_pattern::Leg::Left };
    (document.cutting.lining, document.cutting.interfacing) = (false, false);
    pieces_to_cut(pattern, &document).unwrap()
}

/// Open and folded, with and without a nap and a print.
pub fn cloths() -> Vec<ClothLay> {
    let open = UsualLay::of(Unit::Mm).lay(1400.0);
    vec![
        open.clone(),
        ClothLay { folded: true, ..open.clone() },
        ClothLay { nap: Nap::OneWay, width: 1150.0, ..open.clone() },
        ClothLay { repeat: Some(240.0), apart: 6.0, ..open.clone() },
        ClothLay { folded: true, repeat: Some(90.0), width: 1500.0, ..open },
    ]
}

/// The lay that is found.
pub fn laid(set: &CutSet, cloth: &ClothLay, seed: u64, rounds: usize) -> Lay {
    let bed = Bed::of(cloth).unwrap();
    let parts = parts_to_lay(set, Cloth::Main, &bed).unwrap();
    find(bed, parts, Effort { seed, rounds }, &mut |_| true).unwrap()
}
