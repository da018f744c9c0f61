//! Straight through two places on seams.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::Unit;
use crate::{PatternError, SeamPlace};
use hangtrue_geometry::Chain;

rule! {
    /// Straight through two places on seams.
    pub struct Through {
        /// One place.
        pub first: SeamPlace,
        /// The other.
        pub second: SeamPlace,
    }
}

impl LineRule for Through {
    const ABOUT: About = About {
        name: "Through two places on seams",
        help: "Straight through two places",
        word: "through",
        form: "{0}, {1}",
        example: "60 mm from waist of side, 80 mm from waist of crotch",
    };

    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let at = |place: &SeamPlace| site.on_seam(&place.seam, place.from, place.distance);
        Ok(Chain::line(at(&self.first)?, at(&self.second)?))
    }

    fn sentence(&self, unit: Unit) -> String {
        let (first, second) = (self.first.words(unit), self.second.words(unit));
        format!("Straight through {first} and {second}.")
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("first place", PartValue::SeamPlace(&mut self.first)),
            Part::new("second place", PartValue::SeamPlace(&mut self.second)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        Some(Self { first: from.seam_place(1)?, second: from.seam_place(4)? })
    }

    fn seams_alone(&self) -> Option<Vec<&str>> {
        Some(vec![&self.first.seam, &self.second.seam])
    }
}
