//! How a line hangs on a toile that fits, as a toile settled on the body tells: used in
//! place of the closed form where somebody settled one. Predicted, not seen.

use super::droop::{HangLine, PieceView};
use hangtrue_pattern::Leg;

/// A line of the settled toile on one leg.
#[derive(Debug, Clone, PartialEq)]
pub struct SettledHome {
    /// The line.
    pub line: HangLine,
    /// On back or front.
    pub view: PieceView,
    /// The wearer's leg.
    pub leg: Leg,
    /// Its places from the inner end to the side, at least two, in their order.
    pub places: Vec<SettledPlace>,
}

/// A place of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SettledPlace {
    /// How far across: 0 at the inner end, 1 at the side seam.
    pub at: f64,
    /// How far below its place at the side seam it hangs, mm.
    pub below_side: f64,
    /// ± of that, mm.
    pub error: f64,
}

impl SettledHome {
    /// How far below its place at the side seam the line hangs, and ±, mm; straight
    /// between its places. None outside them.
    pub fn at(&self, share: f64) -> Option<(f64, f64)> {
        let after = self.places.iter().position(|p| p.at >= share)?;
        let b = self.places[after];
        if b.at - share < 1e-9 {
            return Some((b.below_side, b.error));
        }
        let a = *self.places.get(after.checked_sub(1)?)?;
        let t = (share - a.at) / (b.at - a.at);
        let between = |a: f64, b: f64| a + t * (b - a);
        Some((between(a.below_side, b.below_side), between(a.error, b.error)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_runs_straight_between_its_places_and_says_nothing_beyond() {
        let place = |at, below_side, error| SettledPlace { at, below_side, error };
        let home = SettledHome {
            line: HangLine::Thigh,
            view: PieceView::Back,
            leg: Leg::Left,
            places: vec![place(0.0, 2.0, 4.0), place(0.5, 20.0, 6.0), place(0.9, 1.0, 4.0)],
        };
        assert_eq!(home.at(0.0), Some((2.0, 4.0)));
        assert_eq!(home.at(0.25), Some((11.0, 5.0)));
        assert_eq!(home.at(0.5), Some((20.0, 6.0)));
        assert_eq!((home.at(0.95), home.at(-0.1)), (None, None));
    }
}
