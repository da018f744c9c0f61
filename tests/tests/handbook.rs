//! Worked examples of published books (named in `handbook.rs`) against our block.

#![allow(clippy::unwrap_used)]

use hangtrue_tests::handbook::{drafted, row};

/// What is given is drawn: no comparison with the books, whose figures they are.
#[test]
fn waist_knee_and_bottom_are_drawn_as_given() {
    for (e, made) in drafted().unwrap() {
        let r = row(&e, &made);
        for (book, ours) in [Some(r.waist), r.knee, r.bottom].into_iter().flatten() {
            assert!((book - ours).abs() < 0.001, "{}: {book} {ours}", e.place);
        }
    }
}

/// Hertzer, “Pants”: knee and bottom lie evenly to both sides of the leg's centre line.
#[test]
fn the_leg_lies_evenly_to_both_sides_of_the_crease() {
    for (e, made) in drafted().unwrap() {
        let off = row(&e, &made).beside_crease;
        assert!(off < 1e-6, "{}: {off}", e.place);
    }
}

/// Hertzer, “Pants”: the seat line lies 3 1/4 numbers above the fork. Ours is derived from the
/// survey and kept within limits of the rise: within 3/8 in of his on every example.
#[test]
fn the_seat_line_lies_where_hertzer_has_it() {
    for (e, made) in drafted().unwrap().into_iter().filter(|d| d.0.place.starts_with("Hertzer")) {
        let (book, ours) = row(&e, &made).seat_line;
        assert!((book - ours).abs() < 0.375, "{}: {book} {ours}", e.place);
    }
}

/// Hertzer slopes every back by 15° from his base line; ours leans less from the crease, and
/// where his waist is near the seat no dart is left to draw (docs/block.md says why).
#[test]
fn slope_and_darts_differ_as_the_docs_say() {
    for (e, made) in drafted().unwrap().into_iter().filter(|d| d.0.place.starts_with("Hertzer")) {
        let r = row(&e, &made);
        assert!((4.0..15.0).contains(&r.slope.1), "{}: {}", e.place, r.slope.1);
        assert!(r.darts < 1.0, "{}: {}", e.place, r.darts);
    }
}
