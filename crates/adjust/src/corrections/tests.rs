//! Every correction on the small hand-made pattern.

use super::*;
use crate::{Change, sample, walk_all};

fn middle(range: (f64, f64)) -> f64 {
    0.4 * range.1
}

#[test]
fn names_are_unique_and_found() {
    for (index, listed) in CATALOGUE.iter().enumerate() {
        let name = listed.about.name;
        assert!(CATALOGUE[..index].iter().all(|l| l.about.name != name), "{name}");
        assert_eq!(Correction::named(name, 3.0).unwrap().about().name, name);
    }
    assert!(Correction::named("no such", 1.0).unwrap_err().to_string().contains("full seat"));
}

#[test]
fn each_changes_the_sample_and_keeps_what_it_promises() {
    let pattern = sample::pattern();
    let apart = |p: &Pattern| walk_all(p).unwrap().into_iter().map(|w| w.difference).collect();
    let before: Vec<f64> = apart(&pattern);
    for listed in CATALOGUE {
        let correction = (listed.with)(middle(listed.about.range));
        let outcome = correction.apply(&pattern).unwrap_or_else(|e| panic!("{correction:?}: {e}"));
        assert!(!outcome.kept.is_empty() && !outcome.changed.is_empty(), "{correction:?}");
        let after: Vec<f64> = apart(&outcome.pattern);
        for (a, b) in before.iter().zip(after) {
            assert!((a - b).abs() < 1e-6, "{correction:?}: {a} {b}");
        }
    }
}

#[test]
fn absurd_amounts_are_refused() {
    let pattern = sample::pattern();
    for listed in CATALOGUE {
        for amount in [1e4, -1e4, f64::NAN, f64::INFINITY] {
            let refused = (listed.with)(amount).apply(&pattern);
            assert!(
                matches!(refused, Err(ChangeError::OutOfReach { .. })),
                "{}",
                listed.about.name
            );
        }
    }
}

#[test]
fn a_turned_grain_makes_no_difference() {
    let pattern = sample::pattern();
    let turn = hangtrue_geometry::Affine::rotate(0.3);
    let mut turned = pattern.clone();
    for piece in &mut turned.pieces {
        for seam in &mut piece.seams {
            *seam = seam.moved(turn);
        }
        piece.grain.from = turn * piece.grain.from;
        piece.grain.to = turn * piece.grain.to;
    }
    for listed in CATALOGUE {
        let correction = (listed.with)(middle(listed.about.range));
        let (a, b) = (correction.apply(&pattern).unwrap(), correction.apply(&turned).unwrap());
        for (p, q) in a.pattern.pieces.iter().zip(&b.pattern.pieces) {
            for (s, t) in p.seams.iter().zip(&q.seams) {
                let apart = (turn * s.start()).distance(t.start());
                assert!(apart < 1e-5, "{} {} {apart}", listed.about.name, s.name);
                assert!((s.sewn_length() - t.sewn_length()).abs() < 1e-5);
            }
        }
    }
}

#[test]
fn a_correction_is_a_change_that_is_written_and_read() {
    let change = Change::Correct(Correction::named("full seat", 6.35).unwrap());
    let text = crate::ron_text::written(&change).unwrap();
    assert_eq!(crate::ron_text::read::<Change>(&text).unwrap(), change);
    assert_eq!(change.words(Unit::Eighths), "Full seat by 1/4 in");
    assert!(change.apply(&sample::pattern()).is_ok());
}

#[test]
fn every_correction_has_one_place_in_the_catalogue() {
    let placed: usize = Chapter::ALL.iter().map(|p| p.corrections().count()).sum();
    assert_eq!(placed, CATALOGUE.len());
    assert!(Chapter::ALL.iter().all(|p| p.corrections().count() > 1));
}

/// What a draft says of a waist that tilts names corrections there are, and each moves the
/// waist at that centre by the amount, the side left where it is.
#[test]
fn a_tilted_waist_is_sent_to_corrections_that_lower_it() {
    use hangtrue_pattern::{block::DraftNote, names};
    let said = DraftNote::WaistTilts { front: Some(-18.0), back: Some(-12.0) }.to_string();
    let pattern = sample::pattern();
    for (name, piece) in [("tilted front waist", names::FRONT), ("sway back", names::BACK)] {
        assert!(said.contains(&format!("“{name}”")), "{said}");
        let correction = Correction::named(name, 10.0).unwrap();
        let after = correction.apply(&pattern).unwrap().pattern;
        let corner =
            |pattern: &Pattern, corner| pattern.piece(piece).unwrap().corner(corner).unwrap();
        let moved = |name| corner(&after, name).distance(corner(&pattern, name));
        assert!((moved(names::WAIST_CENTRE) - 10.0).abs() < 0.5, "{name}");
        assert!(moved(names::WAIST_SIDE) < 0.01, "{name}");
    }
}

#[test]
fn every_correction_can_be_taken_hold_of_and_its_handle_goes_with_the_amount() {
    let pattern = sample::pattern();
    for listed in CATALOGUE {
        let name = listed.about.name;
        let at = |amount: f64| {
            let change = Change::Correct((listed.with)(amount));
            let after = change.apply(&pattern).unwrap().pattern;
            Handle::of(&change, &pattern, &after)
        };
        let amount = 0.5 * listed.about.range.1;
        let handle = at(amount).unwrap_or_else(|| panic!("{name} moves nothing"));
        assert!(handle.per_mm.hypot() >= 0.05, "{name}: {handle:?}");
        // From nothing it is taken hold of where it will go.
        let idle = at(0.0).unwrap_or_else(|| panic!("{name} cannot be begun by hand"));
        let piece = pattern.piece(&idle.piece).unwrap();
        let on_seam = piece.nearest(idle.at).unwrap().2;
        let on_dart = piece.darts().map(|d| d.2.apex.distance(idle.at)).fold(f64::MAX, f64::min);
        assert!(on_seam.min(on_dart) < 0.01, "{name}: {idle:?}");
    }
}
