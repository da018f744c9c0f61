//! What a change did: kept measures, changed measures, what the paper cannot hold.

use crate::ChangeError;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{INCH, Unit, show_change, show_difference, show_length, show_number};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::words::Words;
use serde::Serialize;

/// A kept measure may move by this much, mm.
pub const KEPT: f64 = 0.1;

/// A measure before and after a change, mm (mm² for areas, degrees for angles:
/// the name says so).
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Compared {
    /// Name of the measure, in the trade's words.
    pub measure: String,
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

/// Ends of the names of what is no length.
const AREA: &str = " (mm²)";
const ANGLE: &str = " (degrees)";

impl Compared {
    /// Shows the measure in the maker's unit: lengths in it, areas in cm² or in²,
    /// angles in degrees. A length's change within `exact` mm is none.
    pub fn shown(&self, unit: Unit, exact: f64) -> Shown {
        let number = |name: String, per: f64, sign: &str| Shown {
            measure: name,
            before: format!("{}{sign}", show_number(self.before / per, 1)),
            after: format!("{}{sign}", show_number(self.after / per, 1)),
            change: format!("{}{sign}", show_change(self.change() / per, 1)),
        };
        if let Some(name) = self.measure.strip_suffix(AREA) {
            return match unit {
                Unit::Mm | Unit::Cm => number(format!("{name} (cm²)"), 100.0, ""),
                _ => number(format!("{name} (in²)"), INCH * INCH, ""),
            };
        }
        if let Some(name) = self.measure.strip_suffix(ANGLE) {
            return number(name.to_owned(), 1.0, "°");
        }
        Shown {
            measure: self.measure.clone(),
            before: show_length(self.before, unit),
            after: show_length(self.after, unit),
            change: show_difference(self.change(), unit, exact),
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
    /// Remarks and warnings in words.
    pub notes: Vec<Words>,
}

impl Outcome {
    /// An outcome that promises nothing.
    pub fn plain(pattern: Pattern) -> Self {
        Self { pattern, kept: vec![], changed: vec![], residue: vec![], notes: vec![] }
    }

    /// Fails when a promised measure is not kept.
    ///
    /// # Errors
    /// [`ChangeError::NotKept`] with the first broken measure.
    pub(crate) fn hold_to_promise(self) -> Result<Self, ChangeError> {
        match self.kept.iter().find(|k| !k.kept()) {
            None => Ok(self),
            Some(k) => Err(ChangeError::NotKept {
                measure: k.measure.clone(),
                before: Length(k.before),
                after: Length(k.after),
            }),
        }
    }
}
