//! Why a block was not drafted.

use crate::PatternError;
use crate::measures::{Measure, MeasureError};
use hangtrue_geometry::words::{Length, Words};

/// A refusal to draft. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DraftError {
    /// The measures are not those of a body.
    #[error(transparent)]
    Measures(#[from] MeasureError),
    /// An entry of the plan lies outside its limits.
    #[error("the {what} of {} is out of range: it lies between {} and {}", Length(*value), Length(*low), Length(*high))]
    Plan {
        /// The entry, in words.
        what: &'static str,
        /// Its value, mm.
        value: f64,
        /// Lowest accepted, mm.
        low: f64,
        /// Highest accepted, mm.
        high: f64,
    },
    /// A share of the plan lies outside its limits.
    #[error("the {what} of {value:.2} is out of range: it lies between {low:.2} and {high:.2}")]
    Share {
        /// The entry, in words.
        what: &'static str,
        /// Its value, 1 the whole.
        value: f64,
        /// Lowest accepted.
        low: f64,
        /// Highest accepted.
        high: f64,
    },
    /// With these measures no trouser-shaped block closes.
    #[error(
        "the {measure} of {value} does not go with the {other} of {other_value}: {why}; measure both again, or change the ease"
    )]
    Disagree {
        /// The measure to look at first.
        measure: Measure,
        /// Its value, mm.
        value: Length,
        /// The measure it does not go with.
        other: Measure,
        /// Its value, mm.
        other_value: Length,
        /// What cannot be drawn.
        why: Words,
    },
    /// The drawn pieces are not sound.
    #[error("the block could not be drawn: {0}")]
    Pattern(#[from] PatternError),
}

impl DraftError {
    /// The measure to look at first, when the fault lies in one.
    pub fn measure(&self) -> Option<Measure> {
        match self {
            Self::Measures(e) => Some(e.measure()),
            Self::Disagree { measure, .. } => Some(*measure),
            Self::Plan { .. } | Self::Share { .. } | Self::Pattern(_) => None,
        }
    }

    /// A short word for machine tables.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Measures(MeasureError::Missing { .. }) => "missing",
            Self::Measures(MeasureError::NotFinite { .. }) => "not_finite",
            Self::Measures(MeasureError::Absurd { .. }) => "out_of_range",
            Self::Measures(MeasureError::Contradiction { .. }) => "contradiction",
            Self::Plan { .. } | Self::Share { .. } => "plan",
            Self::Disagree { .. } => "disagree",
            Self::Pattern(_) => "pattern",
        }
    }
}
