//! Measures that draw nothing are kept, and say what they say of the others.

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use hangtrue_pattern::block::DraftNote;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Draft, Measure, Measures, Plan, draft, units::Unit};

/// An invented body.
fn body(more: &[(Measure, f64)]) -> Measures {
    let five = [
        (Measure::WaistGirth, 760.0),
        (Measure::HipGirth, 1000.0),
        (Measure::WaistHeight, 1040.0),
        (Measure::InsideLegHeight, 780.0),
        (Measure::CrotchLength, 700.0),
    ];
    five.iter().chain(more).copied().collect()
}

fn drafted(more: &[(Measure, f64)]) -> Draft {
    draft(&body(more), &Plan::default()).unwrap()
}

fn told(draft: &Draft) -> Vec<&DraftNote> {
    let is_compared = |n: &&DraftNote| {
        matches!(n, DraftNote::SeatedRiseDiffers { .. } | DraftNote::WaistTilts { .. })
    };
    draft.report.notes.iter().filter(is_compared).collect()
}

#[test]
fn the_block_is_not_drawn_by_what_is_only_kept() {
    let plain = drafted(&[]);
    let kept = Measure::ALL.into_iter().filter(|m| !m.draws_the_block());
    for measure in kept {
        let value = match measure {
            Measure::SeatedRise => 330.0,
            Measure::Stature => 1650.0,
            _ => 1015.0,
        };
        let with = drafted(&[(measure, value)]);
        assert_eq!(with.pattern, plain.pattern, "{measure}");
        assert!(measure.kept().is_some_and(|said| said.contains("not drawn by it")), "{measure}");
    }
    let drawing = Measure::ALL.into_iter().filter(|m| m.draws_the_block());
    assert!(drawing.into_iter().all(|m| m.kept().is_none()));
}

#[test]
fn a_seated_rise_that_does_not_fit_the_crotch_is_told() {
    assert!(told(&drafted(&[(Measure::SeatedRise, 275.0)])).is_empty());
    let off = drafted(&[(Measure::SeatedRise, 340.0)]);
    let words = told(&off)[0].in_unit(Unit::Mm);
    assert!(words.contains("340") && words.contains("260"), "{words}");
}

#[test]
fn a_waist_that_tilts_is_told_with_both_its_ends() {
    let level = [(Measure::WaistHeightFront, 1035.0), (Measure::WaistHeightBack, 1044.0)];
    assert!(told(&drafted(&level)).is_empty());
    let tilted = [(Measure::WaistHeightFront, 1022.0), (Measure::WaistHeightBack, 1051.0)];
    let tilted = drafted(&tilted);
    let words = told(&tilted)[0].in_unit(Unit::Mm);
    assert!(words.contains("18 mm lower at the centre front"), "{words}");
    assert!(words.contains("11 mm higher at the centre back"), "{words}");
    assert!(words.contains("not drawn by that") && words.contains("Tie a tape"), "{words}");
    let refused = body(&[(Measure::WaistHeightFront, 880.0)]).check().unwrap_err();
    assert_eq!(refused.other(), Some(Measure::WaistHeight));
}
