//! Every style on the sample pattern.

use super::*;
use crate::{Change, sample, walk_all};
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, WAIST};

fn made(style: &Style) -> Outcome {
    let outcome = Change::Style(style.clone()).apply(&sample::pattern());
    outcome.unwrap_or_else(|why| panic!("{}: {why}", style.about().name))
}

fn length(pattern: &Pattern, piece: &str, seam: &str) -> f64 {
    pattern.piece(piece).unwrap().seam(seam).unwrap().sewn_length()
}

/// A style keeps what it says it keeps, and its seams match as they did.
#[test]
fn every_style_keeps_its_promises_and_its_seams_match() {
    let before = walk_all(&sample::pattern()).unwrap();
    for listed in STYLES {
        let about = listed.about;
        let (low, high) = about.range;
        let share = |part: f64| low + part * (high - low);
        for amount in [about.usual.0, share(0.25), share(0.75)] {
            let outcome = made(&(listed.with)(amount));
            assert!(!outcome.kept.is_empty(), "{} tells what it keeps", about.name);
            for kept in &outcome.kept {
                assert!(kept.change().abs() < 0.1, "{} by {amount}: {}", about.name, kept.measure);
            }
            outcome.pattern.check().unwrap();
            for (was, is) in before.iter().zip(walk_all(&outcome.pattern).unwrap()) {
                assert!((was.difference - is.difference).abs() < 1e-6, "{}", about.name);
            }
        }
    }
}

#[test]
fn legs_become_as_wide_as_asked() {
    let was = sample::pattern();
    let hem = |p: &Pattern| length(p, BACK, HEM) + length(p, FRONT, HEM);
    for (name, amount, grown) in [
        ("slim leg", 24.0, -24.0),
        ("wide leg", 60.0, 60.0),
        ("flared leg", 80.0, 80.0),
        ("tapered leg", 32.0, -32.0),
    ] {
        let now = made(&Style::named(name, amount).unwrap()).pattern;
        let by = hem(&now) - hem(&was);
        // The hem is level at both seams but for what matching the seams moves its corners.
        assert!((by - grown).abs() < 0.5, "{name}: {by} for {grown}");
    }
}

#[test]
fn a_straight_leg_is_as_wide_at_the_hem_as_at_the_knee() {
    let now = made(&Style::named("straight leg", 0.0).unwrap()).pattern;
    let bench = Bench::new(&now);
    let (knee, hem) = leg::girths(&bench).unwrap();
    assert!((knee - hem).abs() < 0.5, "{knee} {hem}");
    let now = made(&Style::named("Straight leg", 12.0).unwrap()).pattern;
    let (knee, hem) = leg::girths(&Bench::new(&now)).unwrap();
    assert!((hem - knee - 12.0).abs() < 0.5, "{knee} {hem}");
}

#[test]
fn a_lower_rise_and_a_cropped_leg_are_as_much_shorter() {
    let was = sample::pattern();
    let lower = made(&Style::named("rise", -30.0).unwrap()).pattern;
    let cropped = made(&Style::named("cropped leg", 90.0).unwrap()).pattern;
    for piece in [BACK, FRONT] {
        for (now, seams, by) in [(&lower, [SIDE, CROTCH], 30.0), (&cropped, [SIDE, INSEAM], 90.0)] {
            for seam in seams {
                let shorter = length(&was, piece, seam) - length(now, piece, seam);
                assert!((shorter - by).abs() < 1e-6, "{seam} of the {piece}: {shorter}");
            }
        }
        // What is left of the leg lies where it lay.
        let (old, new) = (was.piece(piece).unwrap(), cropped.piece(piece).unwrap());
        let edge = &old.seam(SIDE).unwrap().parts[0];
        let left = &new.seam(SIDE).unwrap().parts[0];
        for share in [0.0, 0.5, 1.0] {
            assert!(edge.nearest(left.point_at(share * left.length())).distance < 1e-6);
        }
        assert!((length(&was, piece, WAIST) - length(&cropped, piece, WAIST)).abs() < 1e-9);
    }
}

#[test]
fn what_is_beyond_reach_is_refused_by_name() {
    for listed in STYLES {
        let (low, high) = listed.about.range;
        for amount in [low - 1.0, high + 1.0, f64::NAN] {
            let why = (listed.with)(amount).apply(&sample::pattern()).unwrap_err().to_string();
            assert!(why.contains(listed.about.name), "{why}");
        }
    }
    assert!(Style::named("bell", 1.0).unwrap_err().to_string().contains("flared leg"));
}

#[test]
fn a_style_is_read_as_it_was_written() {
    for listed in STYLES {
        let change = Change::Style((listed.with)(listed.about.usual.0));
        let text = crate::ron_text::written(&change).unwrap();
        assert_eq!(crate::ron_text::read::<Change>(&text).unwrap(), change);
    }
}

/// The front's waist as it is sewn stays; what is put in lies in the pleats.
#[test]
fn pleats_take_what_is_put_in_and_the_dart() {
    let was = sample::pattern();
    let intakes = |p: &Pattern| {
        let waist = p.piece(FRONT).unwrap().seam(WAIST).unwrap().clone();
        (0..waist.darts.len()).map(|i| (waist.darts[i].name.clone(), waist.intake(i))).collect()
    };
    let dart: Vec<(String, f64)> = intakes(&was);
    let all = |now: &Pattern| -> Vec<(String, f64)> { intakes(now) };
    for (name, amount, count) in
        [("front pleat", 0.0, 1), ("front pleat", 30.0, 1), ("two front pleats", 50.0, 2)]
    {
        let now = made(&Style::named(name, amount).unwrap()).pattern;
        let pleats = all(&now);
        assert_eq!(pleats.len(), count, "{pleats:?}");
        assert!(pleats.iter().all(|(name, _)| hangtrue_pattern::names::is_pleat(name)));
        let sum: f64 = pleats.iter().map(|p| p.1).sum();
        assert!((sum - dart[0].1 - amount).abs() < 2.0, "{name} {amount}: {sum}");
        let twice = Change::Style(Style::named("front pleat", 30.0).unwrap()).apply(&now);
        assert!(matches!(twice, Err(ChangeError::NameTaken { .. })));
    }
    let none = Change::Style(Style::named("two front pleats", 5.0).unwrap()).apply(&was);
    assert!(matches!(none, Err(ChangeError::OutOfReach { .. })));
}

/// On a child (invented) the knots of the side seam lie close: the waist is cut lower all the same.
#[test]
fn the_rise_of_a_child_is_lowered_as_far_as_one_asks() {
    use hangtrue_pattern::measures::{Measure, Measures};
    let child: Measures = [
        (Measure::WaistGirth, 540.0),
        (Measure::HipGirth, 600.0),
        (Measure::WaistHeight, 660.0),
        (Measure::HipHeight, 550.0),
        (Measure::InsideLegHeight, 490.0),
        (Measure::CrotchLength, 460.0),
    ]
    .into_iter()
    .collect();
    let block = hangtrue_pattern::draft(&child, &hangtrue_pattern::Plan::default()).unwrap();
    let was = block.pattern;
    let style = Change::Style(Style::named("rise", -50.0).unwrap());
    let now = style.apply(&was).unwrap().pattern;
    for piece in [BACK, FRONT] {
        for seam in [SIDE, CROTCH] {
            let less = length(&was, piece, seam) - length(&now, piece, seam);
            assert!((less - 50.0).abs() < 1e-6, "{piece} {seam}: {less}");
        }
    }
    for walked in walk_all(&now).unwrap() {
        assert!(walked.difference.abs() < 0.1, "{}", walked.difference);
    }
}
