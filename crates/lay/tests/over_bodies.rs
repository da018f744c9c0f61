//! Lays of pieces of the survey's bodies (ANSUR II, see `tests/data/README.md`). All fifty
//! pairs on eight cloths are laid by `examples/lays_over_bodies.rs`.

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use crate::common;
use crate::common::{cloths, laid, pieces};
use hangtrue_adjust::{
    Change, ClothLay, Method, Nap, Pinch, PinchChange, Replay, Shrinkage, UsualLay,
};
use hangtrue_cut::{Cloth, pieces_to_cut};
use hangtrue_lay::{Bed, Fault, Lay, LayError, Layers, Place, needed, on_shelves, parts_to_lay};
use hangtrue_pattern::names;
use hangtrue_pattern::units::Unit;
use hangtrue_tests::bodies::ten_blocks;
use proptest::prelude::*;

/// Every piece is there, none over another or an edge, none the wrong way or off the print,
/// and less cloth is taken than by boxes on shelves.
#[test]
fn nothing_is_wrong_with_what_is_found() {
    for pattern in ten_blocks(0.0).iter().step_by(4) {
        let set = pieces(pattern, (0.0, 0.0));
        for cloth in cloths() {
            let lay = laid(&set, &cloth, 3, 60);
            let faults = lay.faults();
            assert!(faults.is_empty(), "{cloth:?}: {:?}", faults.all);
            let count: usize = lay.parts.iter().map(hangtrue_lay::Part::count).sum();
            assert_eq!(count, 5, "two backs, two fronts, one band");
            let plain = on_shelves(lay.bed, lay.parts.clone()).unwrap();
            assert!(plain.faults().all.iter().all(|f| matches!(f, Fault::Unmatched { .. })));
            if cloth.repeat.is_none() {
                assert!(lay.length() < plain.length(), "{} {}", lay.length(), plain.length());
            }
            assert!(lay.filled().unwrap() < 1.0);
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_lay_and_more_rounds_no_longer_one() {
    let set = pieces(&ten_blocks(0.0)[2], (0.0, 0.0));
    for cloth in cloths() {
        let (few, again) = (laid(&set, &cloth, 9, 50), laid(&set, &cloth, 9, 50));
        assert_eq!(few, again);
        let more = laid(&set, &cloth, 9, 300);
        assert!(more.length() <= few.length(), "{} {}", more.length(), few.length());
    }
}

#[test]
fn what_is_put_wrong_by_hand_is_told() {
    let set = pieces(&ten_blocks(0.0)[0], (0.0, 0.0));
    let cloth = ClothLay { nap: Nap::OneWay, ..UsualLay::of(Unit::Mm).lay(1500.0) };
    let good = laid(&set, &cloth, 1, 40);
    let with = |index: usize, change: &dyn Fn(&mut Place)| {
        let mut lay: Lay = good.clone();
        if let Some(place) = &mut lay.places[index] {
            change(place);
        }
        lay.faults()
    };
    let first = good.places[0].unwrap();
    let over = with(1, &|p| (p.x, p.y) = (first.x + 20.0, first.y + 5.0));
    let is_over = |f: &Fault| matches!(f, Fault::Over { first: 0, second: 1, .. });
    assert!(over.all.iter().any(is_over), "{:?}", over.all);
    assert!(!over.shown.is_empty() && over.names(0) && over.names(1));
    let outside = with(0, &|p| p.y -= 12.0);
    let by = outside.all.iter().find_map(|f| match f {
        Fault::Outside { part: 0, by } => Some(*by),
        _ => None,
    });
    assert!(by.is_some_and(|by| by <= 12.0 && by > 0.0) || first.y > good.bed.low + 12.0);
    let turned = with(0, &|p| p.turned = true);
    assert!(turned.all.contains(&Fault::WrongWay { part: 0 }));
    let mut missing = good.clone();
    missing.places[2] = None;
    assert_eq!(missing.faults().all, [Fault::Missing { part: 2 }]);
}

/// Folded, a pair is laid once and the band on the fold or through one layer; open, both hands.
#[test]
fn fold_and_open_cloth_take_what_they_must() {
    let set = pieces(&ten_blocks(0.0)[0], (0.0, 0.0));
    let usual = UsualLay::of(Unit::Mm).lay(1500.0);
    let folded = ClothLay { folded: true, ..usual.clone() };
    let parts = |cloth: &ClothLay, of| parts_to_lay(&set, of, &Bed::of(cloth).unwrap()).unwrap();
    let open = parts(&usual, Cloth::Main);
    assert_eq!(open.iter().filter(|p| p.face_down).count(), 2);
    let folded_parts = parts(&folded, Cloth::Main);
    assert_eq!(folded_parts.len(), 3);
    let band = folded_parts.iter().find(|p| p.layers == Layers::Upper).unwrap();
    assert!(band.may_lie_on_fold() && band.face_down);
    // Half of it lies on the fold.
    let (whole, half) = (band.shape(false, false).size, band.shape(false, true).size);
    assert!((whole.y - 2.0 * half.y).abs() < 1e-6 && (whole.x - half.x).abs() < 1e-6);
    // A back is no mirror image of itself.
    assert!(!folded_parts.iter().any(|p| p.layers == Layers::Both && p.may_lie_on_fold()));
    assert_eq!(parts(&usual, Cloth::Lining).len(), 4);
    assert_eq!(parts(&usual, Cloth::Interfacing).len(), 1);
    let narrow = ClothLay { width: 600.0, ..folded };
    let refused = parts_to_lay(&set, Cloth::Main, &Bed::of(&narrow).unwrap());
    assert!(matches!(refused, Err(LayError::TooWide { .. })), "{refused:?}");
    for wrong in [
        ClothLay { width: 0.0, ..usual.clone() },
        ClothLay { repeat: Some(f64::NAN), ..usual.clone() },
        ClothLay { selvedge: -1.0, ..usual.clone() },
        ClothLay { apart: 1e9, ..usual.clone() },
        ClothLay { washed: Shrinkage { lengthwise: 100.0, crosswise: 0.0 }, ..usual },
    ] {
        assert!(Bed::of(&wrong).is_err(), "{wrong:?}");
    }
}

/// The pieces lie as large as the cloth will shrink from, and the length says what of it is
/// for that.
#[test]
fn shrinkage_makes_the_pieces_larger_and_is_told() {
    let pattern = &ten_blocks(0.0)[0];
    let (plain, larger) = (pieces(pattern, (0.0, 0.0)), pieces(pattern, (5.0, -3.0)));
    assert_eq!(plain.pattern, larger.pattern, "the fitted pattern stays as it is");
    let usual = UsualLay::of(Unit::Mm).lay(1500.0);
    let bed = Bed::of(&usual).unwrap();
    let size = |set| parts_to_lay(set, Cloth::Main, &bed).unwrap()[0].shape(false, false).size;
    let (before, after) = (size(&plain), size(&larger));
    assert!((after.x * 0.95 - before.x).abs() < 0.1, "{after:?} {before:?}");
    assert!((after.y * 1.03 - before.y).abs() < 0.1, "{after:?} {before:?}");
    let band = |set: &hangtrue_cut::CutSet| set.pieces.last().unwrap().area();
    assert!((band(&larger) * 0.95 * 1.03 - band(&plain)).abs() < 1e-3);
    assert!(larger.pieces.iter().all(|p| p.hints.iter().any(|h| h.to_string().contains("5 %"))));
    let lay = laid(&larger, &usual, 1, 20);
    let washed = Shrinkage { lengthwise: 4.0, crosswise: 0.0 };
    let cloth = ClothLay { washed, ..usual };
    let told = needed(&lay, &cloth, larger.shrinkage, 50.0);
    assert!((told.in_pieces - 0.05 * told.laid).abs() < 1e-6);
    assert!((told.for_washing - told.laid * (1.0 / 0.96 - 1.0)).abs() < 1e-6);
    assert!(told.bought >= told.laid + told.for_washing && told.bought % 50.0 == 0.0);
}

/// A pinch made after the lay moves its pieces: places stay, what is over an edge or another
/// piece is told, and what is laid anew is laid of the pattern as it then is.
#[test]
fn a_pinch_after_the_lay_changes_every_laid_back() {
    let mut document = hangtrue_tests::bodies::project();
    document.cutting = common::plan((0.0, 0.0)).cutting;
    let cloth = UsualLay::of(Unit::Mm).lay(1500.0);
    let set = |d: &hangtrue_adjust::Document| {
        pieces_to_cut(Replay::new(d.clone()).current().unwrap(), d).unwrap()
    };
    let before = laid(&set(&document), &cloth, 1, 30);
    let kept = before.to_keep();
    assert_eq!(kept.len(), before.parts.len());
    let [_, slash, _] = Method::all(Unit::Mm);
    let pinch = Pinch::in_the_middle("seat", names::BACK, names::THIGH, 8.0);
    document.push("pinch", Change::Pinch(PinchChange { pinch, method: slash }));
    let bed = Bed::of(&cloth).unwrap();
    let parts = parts_to_lay(&set(&document), Cloth::Main, &bed).unwrap();
    let after = Lay::kept(bed, parts, &kept);
    for (index, part) in after.parts.iter().enumerate() {
        let (old, new) = (before.places[index].unwrap(), after.places[index].unwrap());
        assert!((old.x - new.x).abs() < 0.01 && (old.y - new.y).abs() < 0.01);
        if part.piece == names::BACK {
            assert_ne!(before.parts[index], *part);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// On any cloth nothing is wrong with what is found.
    #[test]
    fn on_any_cloth_all_lie_inside_and_apart(
        width in 1000.0..2000.0f64,
        folded in any::<bool>(),
        one_way in any::<bool>(),
        repeat in proptest::option::of(20.0..700.0f64),
        selvedge in 0.0..40.0f64,
        apart in 0.0..15.0f64,
        shrinks in -5.0..8.0f64,
        seed in any::<u64>(),
    ) {
        let set = pieces(&ten_blocks(0.0)[(seed % 7) as usize], (shrinks, -shrinks / 2.0));
        let nap = if one_way { Nap::OneWay } else { Nap::BothWays };
        let cloth = ClothLay {
            folded, nap, repeat, selvedge, apart, ..UsualLay::of(Unit::Mm).lay(width)
        };
        let bed = Bed::of(&cloth).unwrap();
        match parts_to_lay(&set, Cloth::Main, &bed) {
            Err(LayError::TooWide { .. }) => prop_assert!(width < 1500.0),
            Err(other) => prop_assert!(false, "{other}"),
            Ok(_) => {
                let lay = laid(&set, &cloth, seed, 12);
                prop_assert!(lay.faults().is_empty(), "{:?}", lay.faults().all);
                prop_assert!(lay.places.iter().all(Option::is_some));
            }
        }
    }
}
