//! Equally deep along two seams.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::{Unit, show_length};
use crate::{End, PatternError, names};
use hangtrue_geometry::Chain;

rule! {
    /// At the same sewn depth along two seams, each measured from a given end;
    /// straight between.
    pub struct EqualDepth {
        /// First seam and the end its depth is measured from.
        pub first: (String, End),
        /// Second seam and the end its depth is measured from.
        pub second: (String, End),
        /// The depth, mm.
        pub depth: f64,
    }
}

impl LineRule for EqualDepth {
    const ABOUT: About = About {
        name: "Equally deep along two seams",
        help: "At this depth along two seams",
        word: "equal-depth",
        form: "{0} on {1}, {2}",
        example: "5 3/4 in on side from waist, crotch from waist",
    };

    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let at = |(seam, from): &(String, End)| site.on_seam(seam, *from, self.depth);
        Ok(Chain::line(at(&self.first)?, at(&self.second)?))
    }

    fn sentence(&self, unit: Unit) -> String {
        format!(
            "{} down along the {} and along the {}, straight between.",
            show_length(self.depth, unit),
            self.first.0,
            self.second.0
        )
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("Depth", PartValue::Length(&mut self.depth)),
            Part::new("first seam", PartValue::SeamFrom(&mut self.first)),
            Part::new("second seam", PartValue::SeamFrom(&mut self.second)),
        ]
    }

    /// Down side and centre from the waist, on a piece that has both.
    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        let has = |seam| from.piece.seam(seam).is_ok();
        let (first, second) = if has(names::SIDE) && has(names::CROTCH) {
            ((names::SIDE.to_owned(), End::End), (names::CROTCH.to_owned(), End::Start))
        } else {
            ((from.seam(1)?, End::Start), (from.seam(4)?, End::End))
        };
        Some(Self { first, second, depth: from.far })
    }

    fn seams_alone(&self) -> Option<Vec<&str>> {
        Some(vec![&self.first.0, &self.second.0])
    }
}
