//! Lays against shapely (pinned in `tests/requirements.txt`), by the true cut lines of the
//! pieces where they lie: `tests/oracle/lays.py`.

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use crate::common::{cloths, laid, pieces, with_fly};
use hangtrue_adjust::{ClothLay, UsualLay};
use hangtrue_cut::{Cloth, CutSet};
use hangtrue_lay::{Bed, Lay, Layers, parts_to_lay};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Plan, draft};
use hangtrue_tests::bodies::{bodies, ten_blocks};
use hangtrue_tests::{ask, points_of};
use serde::Deserialize;
use serde_json::json;

#[derive(Deserialize)]
struct Answer {
    over: f64,
    near: f64,
    outside: f64,
    valid: bool,
    area: f64,
}

#[test]
fn shapely_finds_no_piece_over_another_or_over_an_edge() {
    let mut lays = Vec::new();
    for pattern in ten_blocks(0.0).iter().step_by(4) {
        let set = pieces(pattern, (2.0, 1.0));
        lays.extend(cloths().into_iter().map(|cloth| (set.clone(), laid(&set, &cloth, 5, 40))));
    }
    judged(&lays, 15);
}

/// The widths of cloth, mm.
const WIDTHS: [f64; 4] = [900.0, 1150.0, 1400.0, 1500.0];

/// 50 pairs on cloths of four widths, open and folded: some minutes, so by name alone
/// (`cargo test -p hangtrue-lay --test all shapely:: -- --ignored --nocapture`).
#[test]
#[ignore = "some minutes"]
fn shapely_finds_nothing_wrong_with_fifty_pairs_on_four_widths() {
    let drafted = bodies().into_iter().step_by(29);
    let sets: Vec<CutSet> = drafted
        .filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern))
        .take(50)
        .map(|pattern| with_fly(&pattern))
        .collect();
    assert_eq!(sets.len(), 50);
    for folded in [false, true] {
        for width in WIDTHS {
            let cloth = ClothLay { folded, ..UsualLay::of(Unit::Mm).lay(width) };
            let bed = Bed::of(&cloth).unwrap();
            let fits = sets.iter().filter(|set| parts_to_lay(set, Cloth::Main, &bed).is_ok());
            let lays: Vec<(CutSet, Lay)> =
                fits.map(|set| (set.clone(), laid(set, &cloth, 1, 300))).collect();
            let how = if folded { "folded" } else { "open" };
            println!("{width} mm {how}, {} too wide:", 50 - lays.len());
            assert!(folded || lays.len() == 50, "open, every pair fits");
            judged(&lays, lays.len());
        }
    }
}

/// Looks at every lay by the true cut lines of its pieces.
fn judged(lays: &[(CutSet, Lay)], least: usize) {
    let (mut asked, mut ours) = (Vec::new(), Vec::new());
    for (set, lay) in lays {
        let parts = lay.laid().map(|(index, _, place)| {
            let part = &lay.parts[index];
            let cut = set.piece(&part.piece).unwrap().cut.to_path();
            let to = lay.to_cloth(index).unwrap();
            json!({"cut": points_of(&(to * cut)), "on_fold": place.on_fold})
        });
        asked.push(json!({
            "parts": parts.collect::<Vec<_>>(),
            "low": lay.bed.low, "high": lay.bed.high, "length": lay.length(),
        }));
        let once: f64 = lay.parts.iter().map(|p| p.area).sum();
        assert!(lay.parts.iter().all(|p| (p.layers == Layers::Open) != lay.bed.folded));
        ours.push((once, lay.bed.apart));
    }
    let answers: Vec<Answer> = ask("lays.py", &json!({"lays": asked})).unwrap();
    assert_eq!(answers.len(), ours.len());
    let (mut outside, mut nearest, mut area) = (f64::MIN, f64::MAX, 0.0f64);
    for (answer, (once, apart)) in answers.iter().zip(&ours) {
        assert!(answer.valid);
        assert_eq!(answer.over, 0.0);
        // Both polygons may be off by what they follow their lines within.
        assert!(answer.near >= apart - 2.0 * hangtrue_lay::FOLLOWED_WITHIN, "{}", answer.near);
        assert!(answer.outside <= hangtrue_lay::FOLLOWED_WITHIN, "{}", answer.outside);
        outside = outside.max(answer.outside);
        nearest = nearest.min(answer.near);
        area = area.max((answer.area - once).abs() / once);
    }
    println!(
        "{} lays: {outside:.3} mm outside at most, {nearest:.3} mm apart at least",
        ours.len()
    );
    println!("areas differ by {area:.1e} of themselves at most");
    assert!(ours.len() >= least && area < 1e-3, "{} {area}", ours.len());
}
