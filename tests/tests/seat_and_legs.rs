//! What a full seat does to the lean, and a knock knee to the crease, on blocks of
//! the survey's bodies.

#![allow(clippy::unwrap_used)] // a helper of tests may stop a test

use hangtrue_adjust::{Change, Correction};
use hangtrue_pattern::names::{BACK, CROTCH_POINT, HEM_INSEAM, HEM_SIDE, WAIST};
use hangtrue_pattern::{Pattern, Piece};
use hangtrue_tests::bodies::ten_blocks;

fn corrected(pattern: &Pattern, name: &str, amount: f64) -> Option<Pattern> {
    let change = Change::Correct(Correction::named(name, amount).unwrap());
    change.apply(pattern).ok().map(|outcome| outcome.pattern)
}

/// What the darts of the back take together, mm, and the lean of its centre, degrees.
fn darts_and_lean(pattern: &Pattern) -> (f64, f64) {
    let back = pattern.piece(BACK).unwrap();
    let waist = back.seam(WAIST).unwrap();
    let mouth = |i: usize| waist.parts[i].end().distance(waist.parts[i + 1].start());
    let down = back.seam("crotch").unwrap().parts[0].start_direction();
    ((0..waist.darts.len()).map(mouth).sum(), down.x.abs().atan2(-down.y).to_degrees())
}

#[test]
fn a_full_seat_leans_more_and_a_flat_one_less() {
    let mut seen = 0;
    for pattern in ten_blocks(40.0) {
        let (darts, lean) = darts_and_lean(&pattern);
        for (name, more) in [("full seat", 1.0), ("flat seat", -1.0)] {
            let Some(after) = corrected(&pattern, name, 10.0) else { continue };
            let (then, leans) = darts_and_lean(&after);
            // A wedge of 20 mm across the seat turns the centre by 4 to 5 degrees (measured on
            // our blocks); the darts take a quarter of the length, give or take a shallow seat's.
            assert!((2.0..3.0).contains(&(more * (leans - lean))), "{name}: {lean} to {leans}");
            assert!(
                darts == 0.0 || (1.0..3.0).contains(&(more * (then - darts))),
                "{name}: {then}"
            );
            println!("{name}: dart {darts:.1} to {then:.1}, lean {lean:.1} to {leans:.1}");
            seen += 1;
        }
    }
    assert!(seen > 4, "{seen}");
}

#[test]
fn a_knock_knee_and_a_bow_leg_leave_the_hem_square() {
    for pattern in ten_blocks(0.0) {
        for name in ["knock knee", "bow leg"] {
            let Some(after) = corrected(&pattern, name, 20.0) else { continue };
            for (was, is) in pattern.pieces.iter().zip(&after.pieces) {
                let rise =
                    |p: &Piece| p.corner(HEM_SIDE).unwrap().y - p.corner(HEM_INSEAM).unwrap().y;
                assert!((rise(is) - rise(was)).abs() < 0.01, "{name}: {}", is.name);
                // The crotch points give what the inseams lack, by a few mm at the most.
                let up = is.corner(CROTCH_POINT).unwrap().y - was.corner(CROTCH_POINT).unwrap().y;
                println!("{name}, {}: crotch point {up:.1}", is.name);
                assert!(up.abs() < 5.0, "{name}: {up}");
            }
        }
    }
}

#[test]
fn a_knock_knee_and_a_bow_leg_keep_the_crease_in_the_middle() {
    let middle = |piece: &Piece| {
        let (a, b) = (piece.corner(HEM_INSEAM).unwrap(), piece.corner(HEM_SIDE).unwrap());
        (a.midpoint(b) - piece.grain.from).dot(piece.grain.square())
    };
    let mut seen = 0;
    for pattern in ten_blocks(0.0) {
        for name in ["knock knee", "bow leg"] {
            let Some(after) = corrected(&pattern, name, 20.0) else { continue };
            for piece in &after.pieces {
                assert!(middle(piece).abs() < 0.5, "{name}: {} {}", piece.name, middle(piece));
                seen += 1;
            }
        }
    }
    assert!(seen > 20, "{seen}");
}
