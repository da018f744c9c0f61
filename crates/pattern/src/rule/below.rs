//! Square to the grain, so far below a place.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::{Unit, show_length};
use crate::{PatternError, Place};
use hangtrue_geometry::Chain;

rule! {
    /// Square to the grain, so far below a place, measured along the grain.
    pub struct Below {
        /// The place it is measured from.
        pub place: Place,
        /// The distance below it, mm.
        pub drop: f64,
    }
}

impl LineRule for Below {
    const ABOUT: About = About {
        name: "So far below a place",
        help: "Square to the grain, so far below a corner",
        word: "below",
        form: "{0} below {1}",
        example: "55 mm below crotch point",
    };

    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let down = site.piece.grain.direction() * self.drop;
        site.level_through(site.point(&self.place)? - down, &self.place)
    }

    fn sentence(&self, unit: Unit) -> String {
        let (drop, place) = (show_length(self.drop, unit), self.place.words(unit));
        format!("{drop} below {place}, square to the grain.")
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("Below it by", PartValue::Length(&mut self.drop)),
            Part::new("it", PartValue::Place(&mut self.place)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        Some(Self { place: from.corner()?, drop: from.near })
    }
}
