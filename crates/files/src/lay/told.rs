//! What is told of a lay, in words.

use super::OnCloth;
use crate::print::NO_ALLOWANCE;
use hangtrue_adjust::Nap;
use hangtrue_cut::CutPiece;
use hangtrue_geometry::words;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_lay::{Layers, Part, Place};
use hangtrue_pattern::units::show_number;

/// Lengths that are nothing, mm.
const NOTHING: f64 = 0.5;

/// The usual caution where cloth is cut.
pub fn caution() -> &'static str {
    "Pin or weight the pieces, cut away from the hand that holds the cloth, and close shears or cover a rotary blade between cuts."
}

/// Length, what of it is for shrinkage, what to buy, and how much of the cloth is filled.
pub fn told(on: &OnCloth<'_>) -> Vec<Words> {
    let needed = on.needed;
    let how = if on.cloth.folded { " folded" } else { " open" };
    let mut said = Vec::from_iter(bare(on));
    said.extend(one_way(on));
    said.push(words![
        "Length of ",
        on.of.word(),
        ": ",
        Length(needed.laid),
        ", on ",
        Length(on.cloth.width),
        how
    ]);
    if needed.in_pieces.abs() > NOTHING {
        let how = if needed.in_pieces > 0.0 { " more" } else { " less" };
        said.push(words![
            "The pieces are cut for cloth that ",
            on.set.shrinkage_of(on.of).told(),
            ": ",
            Length(needed.in_pieces.abs()),
            how,
            " of that length"
        ]);
    }
    if needed.for_washing > NOTHING {
        said.push(words![
            "Washed before it is cut it ",
            on.cloth.washed.told(),
            ": ",
            Length(needed.for_washing),
            " more to buy"
        ]);
    } else if !on.cloth.washed.is_none() {
        said.push(words!["Washed before it is cut it ", on.cloth.washed.told()]);
    }
    said.push(words!["Buy ", Length(needed.bought)]);
    if let Some(filled) = on.lay.filled() {
        let filled = show_number(100.0 * filled, 0);
        said.push(words!["The pieces fill ", filled, " % of the cloth that is laid"]);
    }
    said
}

/// What of the cloth binds how the pieces lie.
fn one_way(on: &OnCloth<'_>) -> Option<Words> {
    if let Some(repeat) = on.cloth.repeat {
        return Some(words![
            "The print repeats after ",
            Length(repeat),
            ": all lie one way up, and the hems of all legs meet it alike"
        ]);
    }
    (on.cloth.nap == Nap::OneWay).then(|| words!["One way up: all pieces lie the same way"])
}

/// Which pieces of the cloth have no allowance: so much cloth is too little to sew them.
fn bare(on: &OnCloth<'_>) -> Option<Words> {
    let of_cloth = |piece: &&CutPiece| piece.to_cut.iter().any(|cut| cut.cloth == on.of);
    let pieces = on.set.pieces.iter().filter(of_cloth).filter(|piece| !piece.has_allowance);
    let names: Vec<&str> = pieces.map(|piece| piece.name.as_str()).collect();
    let names = names.join(", ");
    (!names.is_empty()).then(|| {
        words![NO_ALLOWANCE, format!(" on {names}: choose allowances before cloth is bought")]
    })
}

/// How a part lies, beyond its place; nothing where it lies as it is drawn.
pub fn how_it_lies(part: &Part, place: Place) -> String {
    let mut said = Vec::new();
    if place.on_fold {
        said.push("half, its middle on the fold");
    } else if part.layers == Layers::Upper {
        said.push("upper layer alone");
    }
    if part.face_down && !place.on_fold {
        said.push("face down");
    }
    if place.turned {
        said.push("turned by half");
    }
    said.join(", ")
}
