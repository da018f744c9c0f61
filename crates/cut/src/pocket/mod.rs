//! Pockets: what of the body pieces is cut away or marked for them, and their own pieces.
//! They are placed by rule from the seams, so they follow every change; the shapes are
//! common practice, no published source.

mod away;
mod back;
mod bag;
mod front;

use crate::making::{Making, Makings};
use crate::widths::base_name;
use crate::{CutError, Quantity};
use hangtrue_adjust::{Closure, Document};
use hangtrue_pattern::{Pattern, Piece, names};

/// Adds the pieces and marks of the pockets.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
) -> Result<(), CutError> {
    use hangtrue_adjust::{BackPocket, FrontPocket};
    let pockets = &document.cutting.pockets;
    if pockets.front != FrontPocket::None {
        if matches!(document.cutting.closure, Closure::SideZip { .. }) {
            return Err(CutError::Piece {
                piece: "front pocket".to_owned(),
                why: "a side zip opens the same seam; choose another opening, or no front pocket"
                    .to_owned(),
            });
        }
        for piece in of_base(pattern, names::FRONT) {
            front::add(makings, piece, document)?;
        }
    }
    if pockets.back != BackPocket::None {
        for piece in of_base(pattern, names::BACK) {
            back::add(makings, piece, document)?;
        }
    }
    Ok(())
}

fn of_base<'a>(pattern: &'a Pattern, base: &'a str) -> impl Iterator<Item = &'a Piece> {
    pattern.pieces.iter().map(|p| &**p).filter(move |p| base_name(p) == base)
}

/// The name of a pocket's piece: with the leg behind it where the legs are parted.
fn named(name: &str, piece: &Piece) -> String {
    match piece.leg() {
        Some(leg) => format!("{name} {}", leg.word()),
        None => name.to_owned(),
    }
}

/// How many there are of what is cut once for each leg.
fn for_each_leg(piece: &Piece) -> Quantity {
    if piece.leg().is_some() { Quantity::One } else { Quantity::Pair }
}

/// A piece made for a piece of the pattern.
fn of_piece(mut making: Making, piece: &Piece) -> Making {
    making.of = Some(piece.name.clone());
    making
}
