//! Square to the grain through a place.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::Unit;
use crate::{PatternError, Place};
use hangtrue_geometry::Chain;

rule! {
    /// Square to the grain through a place.
    pub struct SquareToGrain {
        /// The place it passes through.
        pub through: Place,
    }
}

impl LineRule for SquareToGrain {
    const ABOUT: About = About {
        name: "Square to the grain",
        help: "Square to the grain through a corner or a place",
        word: "square-through",
        form: "{0}",
        example: "60 mm from waist of side",
    };

    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        site.level_through(site.point(&self.through)?, &self.through)
    }

    fn sentence(&self, unit: Unit) -> String {
        format!("Square to the grain, through {}.", self.through.words(unit))
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![Part::new("it", PartValue::Place(&mut self.through))]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        Some(Self { through: from.corner()? })
    }
}
