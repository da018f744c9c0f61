//! Reference lines: rules, not drawings.

use crate::units::{Unit, show_length};
use crate::{End, names};
use hangtrue_geometry::{Chain, Point};
use serde::{Deserialize, Serialize};

/// A place on a named seam, by sewn distance from one of its ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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

/// How a reference line is placed. It is placed anew after every change, unless it
/// lies on the cloth of a toile: see [`ReferenceLine::cloth`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Rule {
    /// Square to the grain through a place.
    SquareToGrain {
        /// The place it passes through.
        through: Place,
    },
    /// At the same sewn depth along two seams, each measured from a given end;
    /// straight between.
    EqualDepth {
        /// First seam and the end its depth is measured from.
        first: (String, End),
        /// Second seam and the end its depth is measured from.
        second: (String, End),
        /// The depth, mm.
        depth: f64,
    },
    /// Square to the grain, so far below a place, measured along the grain.
    Below {
        /// The place it is measured from.
        place: Place,
        /// The distance below it, mm.
        drop: f64,
    },
    /// Parallel with an edge of the piece, inside it.
    ParallelTo {
        /// The seam whose edge it follows.
        seam: String,
        /// The distance inside, mm.
        distance: f64,
    },
    /// Straight through two places on seams.
    Through {
        /// One place.
        first: SeamPlace,
        /// The other.
        second: SeamPlace,
    },
    /// Between two other lines of the piece, at a fraction of the way along the
    /// seams that both lines meet; straight between.
    Between {
        /// The upper or first line.
        first: String,
        /// The other line.
        second: String,
        /// 0 on the first line, 1 on the second.
        fraction: f64,
    },
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

impl Place {
    /// The place in words.
    pub fn words(&self, unit: Unit) -> String {
        match self {
            Self::Corner(name) => format!("the {name}"),
            Self::Apex(name) => format!("the point of the {name}"),
            Self::Seam(place) => place.words(unit),
            Self::Point(p) => {
                format!(
                    "the point {} across, {} up",
                    show_length(p.x, unit),
                    show_length(p.y, unit)
                )
            }
        }
    }
}

impl SeamPlace {
    /// The place in words.
    pub fn words(&self, unit: Unit) -> String {
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
        format!("{} along the {} from {from}", show_length(self.distance, unit), self.seam)
    }
}

impl Rule {
    /// The rule as a sentence, lengths in the maker's unit.
    pub fn sentence(&self, unit: Unit) -> String {
        match self {
            Self::SquareToGrain { through } => {
                format!("Square to the grain, through {}.", through.words(unit))
            }
            Self::EqualDepth { first, second, depth } => format!(
                "{} down along the {} and along the {}, straight between.",
                show_length(*depth, unit),
                first.0,
                second.0
            ),
            Self::Below { place, drop } => {
                format!(
                    "{} below {}, square to the grain.",
                    show_length(*drop, unit),
                    place.words(unit)
                )
            }
            Self::ParallelTo { seam, distance } => {
                format!("{} inside the {}, parallel with it.", show_length(*distance, unit), seam)
            }
            Self::Through { first, second } => {
                format!("Straight through {} and {}.", first.words(unit), second.words(unit))
            }
            Self::Between { first, second, fraction } => format!(
                "{:.0} % of the way from the {first} line to the {second} line.",
                fraction * 100.0
            ),
        }
    }
}
