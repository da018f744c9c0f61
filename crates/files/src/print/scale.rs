//! Prints that are smaller than the pattern, to be read and never to be cut.

use hangtrue_pattern::units::{INCH, Unit};

/// How much smaller.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reduced {
    /// One half.
    Half,
    /// One quarter.
    Quarter,
}

impl Reduced {
    /// Every one, the largest first.
    pub const ALL: [Self; 2] = [Self::Half, Self::Quarter];

    /// One mm of the pattern is so many mm on this paper.
    pub fn times(self) -> f64 {
        match self {
            Self::Half => 0.5,
            Self::Quarter => 0.25,
        }
    }

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::Half => "half scale",
            Self::Quarter => "quarter scale",
        }
    }

    /// What stands on every sheet of it.
    pub fn banner(self) -> &'static str {
        match self {
            Self::Half => "HALF SCALE · NOT FOR CUTTING",
            Self::Quarter => "QUARTER SCALE · NOT FOR CUTTING",
        }
    }

    /// Length of the bar on every sheet as it is on the pattern, and of one of its steps, mm:
    /// round in the unit on the pattern and on the paper.
    pub fn bar(unit: Unit) -> (f64, f64) {
        if unit.denominator().is_some() { (8.0 * INCH, 2.0 * INCH) } else { (200.0, 50.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_pattern::units::show_length;

    #[test]
    fn the_bar_is_round_on_the_pattern_and_on_the_paper() {
        for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
            let (long, step) = Reduced::bar(unit);
            assert_eq!(long / step, 4.0);
            for reduced in Reduced::ALL {
                for mm in [long, step, long * reduced.times()] {
                    assert!(!show_length(mm, unit).contains('≈'), "{mm} in {unit:?}");
                }
            }
        }
    }
}
