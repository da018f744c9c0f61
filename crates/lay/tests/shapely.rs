//! Lays against shapely (pinned in `tests/requirements.txt`), by the true cut lines of the
//! pieces where they lie: `tests/oracle/lays.py`.

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use crate::common::{cloths, laid, pieces};
use hangtrue_lay::Layers;
use hangtrue_tests::bodies::ten_blocks;
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
    let (mut asked, mut ours) = (Vec::new(), Vec::new());
    for pattern in ten_blocks(0.0).iter().step_by(4) {
        let set = pieces(pattern, (2.0, 1.0));
        for cloth in cloths() {
            let lay = laid(&set, &cloth, 5, 40);
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
            assert!(lay.parts.iter().all(|p| (p.layers == Layers::Open) != cloth.folded));
            ours.push((once, lay.bed.apart));
        }
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
    assert!(ours.len() >= 15 && area < 1e-3, "{} {area}", ours.len());
}
