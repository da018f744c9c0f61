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
use hangtrue_pattern::{Pattern, Piece, names, words};
use std::borrow::Cow;

/// Adds the pieces and marks of the pockets.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
) -> Result<(), CutError> {
    use hangtrue_adjust::{BackPocket, FrontPocket};
    let pockets = &document.cutting.pockets;
    if pockets.front != FrontPocket::None {
        for piece in of_base(pattern, names::FRONT).filter(|p| !is_opened(p, document)) {
            front::add(makings, piece, document)?;
        }
        if let Closure::SideZip { leg } = document.cutting.closure {
            makings.notes.push(words![
                "The zip opens the side of the ",
                leg.word(),
                " leg: the front pocket is on the ",
                leg.other().word(),
                " leg alone, and left and right are cut apart."
            ]);
        }
    }
    if pockets.back != BackPocket::None {
        for piece in of_base(pattern, names::BACK) {
            back::add(makings, piece, document)?;
        }
    }
    Ok(())
}

/// Whether a side zip opens the front.
fn is_opened(front: &Piece, document: &Document) -> bool {
    matches!(document.cutting.closure, Closure::SideZip { leg } if front.leg() == Some(leg))
}

/// The pattern with left and right apart where a front pocket lies beside a side zip: the
/// pocket is then on the other leg alone (common practice, no published source).
///
/// # Errors
/// [`CutError::Pattern`] when a piece has the name a parted one would get.
pub(crate) fn apart_beside_zip<'a>(
    pattern: &'a Pattern,
    document: &Document,
) -> Result<Cow<'a, Pattern>, CutError> {
    use hangtrue_adjust::FrontPocket;
    let zip = matches!(document.cutting.closure, Closure::SideZip { .. });
    if !zip || document.cutting.pockets.front == FrontPocket::None || pattern.is_apart() {
        return Ok(Cow::Borrowed(pattern));
    }
    Ok(Cow::Owned(pattern.apart()?))
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
