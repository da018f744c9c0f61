//! How the screen is shared between the table and what lies at its sides.

/// Points of the list at the left and of the card at the right, at letters of 100 %;
/// larger letters need more, by the square root because words wrap.
const LIST: f32 = 250.0;
const CARD: f32 = 425.0;

/// With less of the width for the table than this, list and card lie in one place and
/// are turned to one after the other; the table then keeps half of the width at least.
const BOTH: f32 = 0.42;

/// How wide the panels are, points of the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Panels {
    pub list: f32,
    pub card: f32,
    /// They lie in one place, as wide as the card.
    pub one_place: bool,
}

impl Panels {
    /// The panels of a screen so wide, with letters so large (1.0 to 2.0).
    pub fn of(screen: f32, letters: f32) -> Self {
        let (list, card) = (LIST * letters.sqrt(), CARD * letters.sqrt());
        if screen - list - card >= BOTH * screen {
            return Self { list, card, one_place: false };
        }
        Self { list, card: card.min(screen / 2.0), one_place: true }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_keeps_its_width() {
        for screen in [760.0, 1024.0, 1280.0, 1440.0, 1920.0] {
            for letters in [1.0, 1.3, 1.6, 2.0] {
                let Panels { list, card, one_place } = Panels::of(screen, letters);
                let table = if one_place { screen - card } else { screen - list - card };
                let least = if one_place { 0.5 } else { BOTH };
                assert!(table >= least * screen - 0.01, "{screen} {letters}: {table}");
            }
        }
        assert!(!Panels::of(1440.0, 1.0).one_place && Panels::of(1024.0, 2.0).one_place);
    }
}
