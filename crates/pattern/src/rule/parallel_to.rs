//! Parallel with an edge of the piece.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::PatternError;
use crate::units::{Unit, show_length};
use hangtrue_geometry::Chain;
use hangtrue_geometry::words;
use hangtrue_geometry::words::Length;

rule! {
    /// Parallel with an edge of the piece, inside it.
    pub struct ParallelTo {
        /// The seam whose edge it follows.
        pub seam: String,
        /// The distance inside, mm.
        pub distance: f64,
    }
}

/// How much longer than twice its distance the line is drawn at either end before it is
/// cut where it leaves the piece, mm.
const REACH: f64 = 50.0;

impl LineRule for ParallelTo {
    const ABOUT: About = About {
        name: "Parallel with a seam",
        help: "Parallel with a seam, so far inside",
        word: "parallel",
        form: "{0} inside {1}",
        example: "40 mm inside hem",
    };

    /// The edge of the seam offset into the piece and cut where it leaves the piece.
    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let (piece, seam) = (site.piece, site.piece.seam(&self.seam)?);
        let said = |why| site.said(why);
        let inside = seam
            .edge()
            .and_then(|edge| edge.offset(self.distance * piece.orientation()))
            .map_err(said)?;
        // Lengthen both ends so that the line reaches its neighbours, then cut.
        let reach = self.distance.abs() * 2.0 + REACH;
        let long = inside
            .lengthened(reach)
            .and_then(|c| c.reversed().lengthened(reach))
            .map_err(said)?
            .reversed();
        site.within(&long)?.ok_or_else(|| {
            let far = Length(self.distance);
            site.cannot(words![far, " inside the ", &seam.name, " there is no cloth"])
        })
    }

    fn sentence(&self, unit: Unit) -> String {
        let far = show_length(self.distance, unit);
        format!("{far} inside the {}, parallel with it.", self.seam)
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("Inside by", PartValue::Length(&mut self.distance)),
            Part::new("seam", PartValue::Seam(&mut self.seam)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        Some(Self { seam: from.seam(0)?, distance: from.near })
    }
}
