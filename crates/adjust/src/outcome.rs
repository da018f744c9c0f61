//! What a change did: kept measures, changed measures, what the paper cannot hold.

use crate::{ChangeError, Cost, FlatMeasure, Quantity};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{
    INCH, Unit, as_shown, rounded, show_change, show_difference, show_length, show_number,
};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use serde::Serialize;

/// A kept measure may move by this much, mm.
pub const KEPT: f64 = 0.1;

/// A measure that moves by less than this has not changed: rounding, in mm, mm² or
/// degrees.
const CHANGED: f64 = 1e-3;

/// A change of less than this is not told of, mm, mm² or degrees: a tape does not show it.
pub const SEEN: f64 = 0.05;

/// A measure before and after a change, in the unit of its
/// [quantity](FlatMeasure::quantity): mm, mm² or degrees.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Compared {
    /// What it is the measure of.
    pub measure: FlatMeasure,
    /// Before the change.
    pub before: f64,
    /// After it.
    pub after: f64,
}

impl Compared {
    /// After minus before.
    pub fn change(&self) -> f64 {
        self.after - self.before
    }

    /// Whether it moved by no more than [`KEPT`].
    pub fn kept(&self) -> bool {
        self.change().abs() <= KEPT
    }

    /// Whether it moved by more than rounding moves it.
    pub fn has_changed(&self) -> bool {
        self.change().abs() > CHANGED
    }
}

/// A measure's change as a maker reads it.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// Its name, with the unit for what is no length.
    pub measure: String,
    /// Before.
    pub before: String,
    /// After.
    pub after: String,
    /// After minus before.
    pub change: String,
}

impl Compared {
    /// Shows the measure in the maker's unit: lengths in it, areas in cm² or in²,
    /// angles in degrees. A length's change within `exact` mm is none.
    pub fn shown(&self, unit: Unit, exact: f64) -> Shown {
        let name = self.measure.to_string();
        let number = |name: String, per: f64, sign: &str| {
            let (before, after) = (rounded(self.before / per, 1), rounded(self.after / per, 1));
            Shown {
                measure: name,
                before: format!("{}{sign}", show_number(before, 1)),
                after: format!("{}{sign}", show_number(after, 1)),
                change: format!("{}{sign}", show_change(after - before, 1)),
            }
        };
        match (self.measure.quantity(), unit) {
            (Quantity::Area, Unit::Mm | Unit::Cm) => {
                return number(format!("{name} (cm²)"), 100.0, "");
            }
            (Quantity::Area, _) => return number(format!("{name} (in²)"), INCH * INCH, ""),
            (Quantity::Angle, _) => return number(name, 1.0, "°"),
            (Quantity::Length, _) => {}
        }
        let (before, after) = (as_shown(self.before, unit), as_shown(self.after, unit));
        let shown_change = after - before;
        Shown {
            measure: name,
            before: show_length(self.before, unit),
            after: show_length(self.after, unit),
            change: match unit {
                _ if self.change().abs() <= exact => show_difference(0.0, unit, exact),
                Unit::Mm => format!("{} mm", show_change(shown_change, 1)),
                Unit::Cm => format!("{} cm", show_change(shown_change / 10.0, 2)),
                // A change too small to be seen in the fraction is said to be under it.
                _ if shown_change.abs() < exact => {
                    let seen_from = INCH / f64::from(unit.denominator().unwrap_or(16)) / 2.0;
                    let unseen = self.change().abs().min(0.99 * seen_from);
                    show_difference(unseen.copysign(self.change()), unit, exact)
                }
                _ => show_difference(shown_change, unit, exact),
            },
        }
    }
}

/// Something flat paper cannot hold, left for the sewer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Residue {
    /// Where and what, in words.
    pub words: Words,
    /// How much, mm.
    pub amount: f64,
    /// It was taken although it was not pinned; else it was pinned and not taken.
    pub unpinned: bool,
}

impl Residue {
    /// What it is, in a sentence.
    pub fn sentence(&self) -> Words {
        let what = if self.unpinned { "Also taken: " } else { "Left over: " };
        words![what, Length(self.amount), " ", self.words.clone()]
    }
}

/// The result of a change.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The new pattern.
    pub pattern: Pattern,
    /// The measures the change promised to keep.
    pub kept: Vec<Compared>,
    /// The measures that changed.
    pub changed: Vec<Compared>,
    /// What the paper cannot hold.
    pub residue: Vec<Residue>,
    /// What it costs round the body; only where it was made for a body's pattern.
    pub costs: Vec<Cost>,
    /// Remarks and warnings in words.
    pub notes: Vec<Words>,
}

impl Outcome {
    /// An outcome that promises nothing.
    pub fn plain(pattern: Pattern) -> Self {
        Self {
            pattern,
            kept: vec![],
            changed: vec![],
            residue: vec![],
            costs: vec![],
            notes: vec![],
        }
    }

    /// Fails when a promised measure is not kept.
    ///
    /// # Errors
    /// [`ChangeError::NotKept`] with the first broken measure.
    pub(crate) fn hold_to_promise(self) -> Result<Self, ChangeError> {
        match self.kept.iter().find(|k| !k.kept()) {
            None => Ok(self),
            Some(k) => Err(ChangeError::NotKept {
                measure: k.measure.to_string(),
                before: Length(k.before),
                after: Length(k.after),
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_pattern::units::read_length;
    use proptest::prelude::*;

    fn read(text: &str) -> f64 {
        read_length(text.trim_start_matches('≈'), Unit::Mm).unwrap()
    }

    proptest! {
        #[test]
        fn a_row_adds_up_as_shown(before in 0.0..1500.0f64, by in -60.0..60.0f64) {
            let row = Compared { measure: FlatMeasure::Waist, before, after: before + by };
            for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
                let Shown { before, after, change, .. } = row.shown(unit, 0.05);
                let whole = read(&after) - read(&before);
                if change == "0" || change.contains("under") {
                    let step = unit.denominator().map_or(0.11, |d| INCH / f64::from(d) * 1.01);
                    prop_assert!(whole.abs() <= step, "{before} {after} {change}");
                } else {
                    prop_assert!((read(&change) - whole).abs() < 1e-4, "{before} {after} {change}");
                }
            }
            for measure in [FlatMeasure::Area("back".into()), FlatMeasure::CentreLean("back".into())] {
                let row = Compared { measure, ..row.clone() };
                let shown = row.shown(Unit::Mm, 0.05);
                let number = |t: &str| t.replace('−', "-").replace('°', "").parse::<f64>().unwrap();
                let whole = number(&shown.after) - number(&shown.before);
                prop_assert!((number(&shown.change) - whole).abs() < 1e-6);
            }
        }
    }
}
