//! The order of sewing: what is sewn before what, by the pieces there are. It is common
//! practice with no published source, and is said to be; it names every piece that is made,
//! at the step where it is taken up, and none that is not.

mod finished;
mod openings;
mod pockets;
mod seams;
mod there;
mod toile;
mod waists;

use crate::CutSet;
use hangtrue_adjust::{AllowanceSet, Document};
use hangtrue_pattern::words::Words;
use there::There;

/// What the order is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SewnAs {
    /// A toile, sewn to be looked at and taken apart.
    Toile,
    /// The trousers that are worn.
    Finished,
}

impl SewnAs {
    /// Both, in the order of the work.
    pub const ALL: [Self; 2] = [Self::Toile, Self::Finished];

    /// What the allowances of a project are for: those of a finished pair, or a toile.
    pub fn of(document: &Document) -> Self {
        match document.cutting.set {
            Some(AllowanceSet::Finished) => Self::Finished,
            _ => Self::Toile,
        }
    }

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::Toile => "toile",
            Self::Finished => "finished pair",
        }
    }
}

/// Where the order comes from.
pub const ORDER_SOURCE: &str = "The order is common practice, no published source.";

/// The steps of the sewing, the first first.
#[derive(Debug, Clone, PartialEq)]
pub struct SewingOrder {
    /// What it is for.
    pub sewn_as: SewnAs,
    /// The steps.
    pub steps: Vec<SewingStep>,
}

/// One step of the sewing.
#[derive(Debug, Clone, PartialEq)]
pub struct SewingStep {
    /// What is done, in a word or two.
    pub title: String,
    /// How.
    pub words: Words,
    /// The pieces it is done with, by their names.
    pub pieces: Vec<String>,
    /// What to take care of, where it is done for the first time.
    pub care: Option<String>,
}

/// What can hurt, each told once, at the first step that needs it (common practice, no
/// published source).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Care {
    Pins,
    Needle,
    Iron,
    Snips,
    Zip,
}

impl Care {
    fn words(self) -> &'static str {
        match self {
            Self::Pins => "Pins come out before the machine reaches them, into the cushion.",
            Self::Needle => {
                "Fingers clear of the needle; foot off the pedal while you thread or turn."
            }
            Self::Iron => {
                "Keep your other hand and your face out of the steam; stand the iron up, and switch it off when you leave it."
            }
            Self::Snips => "Small scissors, points away from your hand; close them after.",
            Self::Zip => {
                "Unpick away from your hand; a metal zip holds the iron’s heat: let it cool."
            }
        }
    }
}

/// Steps being put together.
#[derive(Default)]
pub(crate) struct Steps {
    steps: Vec<SewingStep>,
    told: Vec<Care>,
}

impl Steps {
    /// Adds a step; of its cautions those that were not told yet.
    pub fn add(&mut self, title: &str, pieces: Vec<String>, words: Words, cares: &[Care]) {
        let new: Vec<Care> = cares.iter().copied().filter(|c| !self.told.contains(c)).collect();
        self.told.extend(&new);
        let care: Vec<&str> = new.into_iter().map(Care::words).collect();
        self.steps.push(SewingStep {
            title: title.to_owned(),
            words,
            pieces,
            care: (!care.is_empty()).then(|| care.join(" ")),
        });
    }
}

/// The order in which the pieces of a set are sewn.
pub fn sewing_order(set: &CutSet, document: &Document, sewn_as: SewnAs) -> SewingOrder {
    let there = There::of(set, document);
    let mut steps = Steps::default();
    match sewn_as {
        SewnAs::Toile => toile::steps(&mut steps, &there),
        SewnAs::Finished => finished::steps(&mut steps, &there),
    }
    SewingOrder { sewn_as, steps: steps.steps }
}
