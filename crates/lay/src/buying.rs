//! How much cloth to buy.

use crate::Lay;
use hangtrue_adjust::{ClothLay, Shrinkage};

/// The cloth needed for a lay, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needed {
    /// The length that is laid.
    pub laid: f64,
    /// Of it, what the pieces are cut longer for the cloth's loss after cutting; less than
    /// none where they are cut shorter. As much of the length as of each piece's.
    pub in_pieces: f64,
    /// What is bought besides, for what washing takes before it is cut.
    pub for_washing: f64,
    /// All of it, rounded up to what is bought.
    pub bought: f64,
}

/// The cloth needed; lengths are bought by the next of `bought_by`.
pub fn needed(lay: &Lay, cloth: &ClothLay, pieces: Shrinkage, bought_by: f64) -> Needed {
    let laid = lay.length();
    let all = cloth.length_to_buy(laid);
    // What comes to a whole number but for the last digits is that number.
    let bought = (all / bought_by - 1e-9).ceil().max(0.0) * bought_by;
    let in_pieces = laid * (1.0 - 1.0 / pieces.times().0);
    Needed { laid, in_pieces, for_washing: all - laid, bought }
}
