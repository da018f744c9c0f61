//! Reference lines: rules, not drawings.

use crate::units::Unit;
use crate::{End, Rule, names};
use hangtrue_geometry::words;
use hangtrue_geometry::words::{InUnit, Length, Words};
use hangtrue_geometry::{Chain, Point};
use serde::{Deserialize, Serialize};

/// A place on a named seam, by sewn distance from one of its ends.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeamPlace {
    /// The seam.
    pub seam: String,
    /// The end measured from.
    pub from: End,
    /// Sewn distance from that end, mm.
    pub distance: f64,
}

/// What a rule hangs from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Place {
    /// A named corner.
    Corner(String),
    /// A place on a seam.
    Seam(SeamPlace),
    /// The apex of a named dart.
    Apex(String),
    /// A fixed point on the paper, mm.
    Point(Point),
}

/// Where a line is drawn, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Purpose {
    /// Goes to the cloth, to be read on the body.
    Cloth(String),
    /// Stays on the paper.
    Paper(String),
}

impl Purpose {
    /// The reason in words.
    pub fn reason(&self) -> &str {
        match self {
            Self::Cloth(why) | Self::Paper(why) => why,
        }
    }

    /// Whether the line is traced through to the cloth.
    pub fn to_cloth(&self) -> bool {
        matches!(self, Self::Cloth(_))
    }
}

/// A reference line of a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReferenceLine {
    /// Name; lines of the same name on two pieces are read together.
    pub name: String,
    /// The piece it lies on.
    pub piece: String,
    /// How it is placed.
    pub rule: Rule,
    /// Cloth or paper, and why.
    pub purpose: Purpose,
    /// Where it last lay, kept for when the rule cannot be met. Computed, never
    /// saved.
    #[serde(skip)]
    pub last: Option<Chain>,
    /// Where it lies on the cloth, when a change that answered a toile moved the edge
    /// its rule hangs from: the line stays where it was marked on the cloth until it is
    /// marked anew, so that the next toile shows the same line of cloth. Computed, never
    /// saved.
    #[serde(skip)]
    pub cloth: Option<Chain>,
}

impl Default for Place {
    fn default() -> Self {
        Self::Corner(String::new())
    }
}

impl Place {
    /// The place in words.
    pub fn words(&self, unit: Unit) -> String {
        self.said().in_unit(unit)
    }

    /// The place in words, its lengths still lengths.
    pub fn said(&self) -> Words {
        match self {
            Self::Corner(name) => words!["the ", name],
            Self::Apex(name) => words!["the point of the ", name],
            Self::Seam(place) => place.said(),
            Self::Point(p) => {
                words!["the point ", Length(p.x), " across, ", Length(p.y), " up"]
            }
        }
    }
}

impl SeamPlace {
    /// The place in words.
    pub fn words(&self, unit: Unit) -> String {
        self.said().in_unit(unit)
    }

    /// The place in words, its lengths still lengths.
    pub fn said(&self) -> Words {
        // A drafted seam runs from one known corner to another; see `names`.
        let (start, end) = match self.seam.as_str() {
            names::WAIST => ("the side", "the centre"),
            names::CROTCH => ("the waist", "the crotch point"),
            names::INSEAM => ("the crotch point", "the hem"),
            names::HEM => ("the inseam", "the side"),
            names::SIDE => ("the hem", "the waist"),
            _ => ("its start", "its end"),
        };
        let from = match self.from {
            End::Start => start,
            End::End => end,
        };
        words![Length(self.distance), " along the ", &self.seam, " from ", from]
    }
}
