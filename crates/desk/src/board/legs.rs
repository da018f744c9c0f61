//! Left and right: which piece a change concerns once the legs are parted.

use hangtrue_adjust::Change;
use hangtrue_pattern::{Leg, Pattern};

/// The name a piece had before the parting.
pub(crate) fn undivided(pattern: &Pattern, piece: &str) -> String {
    let parted = pattern.piece(piece).ok().and_then(|p| p.parted.as_ref());
    parted.map_or_else(|| piece.to_owned(), |p| p.from.clone())
}

/// The piece on the table where what concerns `piece` is drawn: itself, or that of
/// the right leg when it names both.
pub(crate) fn drawn_piece(pattern: &Pattern, piece: &str) -> String {
    let right = || pattern.piece_for(Leg::Right, piece).map(ToOwned::to_owned);
    pattern.piece(piece).ok().map(|p| p.name.clone()).or_else(right).unwrap_or_else(|| piece.into())
}

/// A pinch on one leg as a pinch of that leg's piece, which its card knows.
pub(crate) fn named_on_leg(pattern: &Pattern, change: Change) -> Change {
    if let (Some(leg), Change::Pinch(pinch)) = (change.leg(), change.plain())
        && let Some(piece) = pattern.piece_for(leg, &pinch.pinch.piece)
    {
        let mut pinch = pinch.clone();
        piece.clone_into(&mut pinch.pinch.piece);
        return Change::Pinch(pinch);
    }
    change
}
