//! How high the lens is best held, said where the photo is taken in.

use super::{Wearer, name_in_reading};
use hangtrue_adjust::reading::HangLine;
use hangtrue_adjust::worn::Hang;
use hangtrue_pattern::words::{Length, Words};
use hangtrue_pattern::{names, words};

/// A lens this much above or below the thigh line is worth a word, mm.
const FAR: f64 = 250.0;

/// Before the photo is taken: where to hold the lens.
pub fn lens_advice(wearer: Option<&Wearer>) -> Words {
    let why = ": a line as high as the lens looks straight however deep the body is, and how deep no photo shows.";
    match wearer.and_then(|w| w.height_of(HangLine::Thigh)) {
        Some(height) => words![
            "Best as high as the thigh line, about ",
            (Length(height), 0),
            " above the floor",
            why
        ],
        None => words!["Best as high as the thigh line, a hand under the fork", why],
    }
}

/// After it is read: how far the lens was from the thigh line, where that is far.
pub fn lens_was(hangs: &[Hang]) -> Option<Words> {
    let thigh = hangs.iter().find(|h| name_in_reading(&h.line) == Some(HangLine::Thigh))?;
    let off = thigh.below_lens;
    let way = if off > 0.0 { "above" } else { "below" };
    (off.abs() > FAR).then(|| {
        words![
            "The lens was ",
            (Length(off.abs()), 0),
            format!(" {way} the {} line; held as high as that, it is read surer.", names::THIGH)
        ]
    })
}
