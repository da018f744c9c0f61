//! How the screen is shared between the table and what lies at its sides.

use egui::Vec2;

/// Points of the list at the left and of the card at the right, at letters of 100 %;
/// larger letters need more, by the square root because words wrap.
const LIST: f32 = 250.0;
const CARD: f32 = 425.0;

/// With less of the width for the table than this, list and card lie in one place and
/// are turned to one after the other; the table then keeps half of the width at least.
const BOTH: f32 = 0.42;

/// What a panel takes besides, points.
const EDGE: f32 = 10.0;

/// Points of height below which a screen is low: as many, and more for each 100 % of the
/// letters. On a higher one a panel between the row of stages and the tape shows ten lines.
const LOW: f32 = 220.0;
const LOW_MORE: f32 = 432.0;

/// How wide the panels are, points of the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Panels {
    pub list: f32,
    pub card: f32,
    /// They lie in one place, as wide as the card.
    pub one_place: bool,
    /// There is little height besides: what is needed less often lies in menus, the row of
    /// stages is one list, and the panel reaches down to the edge of the screen.
    pub low: bool,
}

impl Panels {
    /// The panels of a screen so wide, with letters so large (1.0 to 2.0).
    pub fn of(screen: Vec2, letters: f32) -> Self {
        let (screen, low) = (screen.x, screen.y < LOW + LOW_MORE * letters);
        let (list, card) = (LIST * letters.sqrt(), CARD * letters.sqrt());
        if screen - list - card >= BOTH * screen {
            return Self { list, card, one_place: false, low: false };
        }
        Self { list, card: card.min(screen / 2.0 - EDGE), one_place: true, low }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::vec2;

    #[test]
    fn the_table_keeps_its_width() {
        for screen in [760.0, 1024.0, 1280.0, 1440.0, 1920.0] {
            for letters in [1.0, 1.3, 1.6, 2.0] {
                let Panels { list, card, one_place, .. } = Panels::of(vec2(screen, 900.0), letters);
                let table = if one_place { screen - card } else { screen - list - card };
                let least = if one_place { 0.5 } else { BOTH };
                assert!(table >= least * screen - 0.01, "{screen} {letters}: {table}");
            }
        }
        let small = Panels::of(vec2(1024.0, 700.0), 2.0);
        assert!(small.one_place && small.low);
        assert!(!Panels::of(vec2(1440.0, 900.0), 1.0).one_place);
    }
}
