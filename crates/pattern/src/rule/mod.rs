//! The rules by which reference lines are placed. Each is one file: what it hangs from,
//! how it is placed, how it reads. Window, command and project file follow from that.

mod part;
mod site;
mod written;

use crate::units::Unit;
use crate::{End, PatternError, Piece, Place, SeamPlace};
use hangtrue_geometry::Chain;
pub use part::{Part, PartValue, Pulled};
pub(crate) use site::{Site, ends_on};

/// What every rule provides.
trait LineRule: Default + Clone {
    /// What it is.
    const ABOUT: About;

    /// Where the line runs.
    ///
    /// # Errors
    /// [`PatternError`] when the piece lacks what it hangs from, or no cloth lies there.
    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError>;

    /// The rule as a sentence, lengths in the maker's unit.
    fn sentence(&self, unit: Unit) -> String;

    /// What it hangs from and by how much, to be shown, chosen, pulled and renamed.
    fn parts(&mut self) -> Vec<Part<'_>>;

    /// One to start from, hung from what the piece has.
    fn fresh(from: &Fresh<'_>) -> Option<Self>;

    /// The seams by which alone the line moves; none when whatever seam comes in its
    /// way may cut it off elsewhere.
    fn seams_alone(&self) -> Option<Vec<&str>> {
        None
    }

    /// The other lines it hangs from.
    fn lines(&self) -> Vec<&str> {
        Vec::new()
    }
}

/// What a rule is, for lists and the command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct About {
    /// Its name in a list.
    pub name: &'static str,
    /// What it does and how it is written, for the command's help.
    pub help: &'static str,
    /// The word by which the command is asked for it.
    pub word: &'static str,
    /// How it is written in words: `{0}` stands for the first of its parts.
    pub form: &'static str,
    /// An example so written.
    pub example: &'static str,
}

/// What a rule is made from when it is chosen.
#[derive(Debug, Clone, Copy)]
pub struct Fresh<'a> {
    /// The piece it is to lie on.
    pub piece: &'a Piece,
    /// The names of the lines that lie on it.
    pub lines: &'a [&'a str],
    /// A round length down a seam, mm.
    pub far: f64,
    /// A shorter one, mm.
    pub near: f64,
}

/// A line of the list of rules.
#[derive(Debug, Clone, Copy)]
pub struct Listed {
    /// What the rule is.
    pub about: About,
    /// The rule with nothing filled in.
    pub blank: fn() -> Rule,
    /// One to start from on a piece; none when the piece lacks what it needs.
    pub fresh: fn(&Fresh<'_>) -> Option<Rule>,
}

impl Fresh<'_> {
    fn corner(&self) -> Option<Place> {
        self.piece.corners().next().map(|corner| Place::Corner(corner.0.to_owned()))
    }

    /// The name of a seam of the piece, counted round from its first.
    fn seam(&self, index: usize) -> Option<String> {
        let seams = &self.piece.seams;
        seams.get(index % seams.len().max(1)).map(|s| s.name.clone())
    }

    fn seam_place(&self, index: usize) -> Option<SeamPlace> {
        Some(SeamPlace { seam: self.seam(index)?, from: End::Start, distance: self.far })
    }
}

macro_rules! rules {
    ($($module:ident :: $Kind:ident),+ $(,)?) => {
        $(mod $module; pub use $module::$Kind;)+

        /// How a reference line is placed. It is placed anew after every change, unless
        /// it lies on the cloth of a toile: see [`crate::ReferenceLine::cloth`].
        #[derive(Debug, Clone, PartialEq)]
        pub enum Rule {
            $(#[doc = concat!("See [`", stringify!($Kind), "`].")] $Kind($Kind)),+
        }

        /// All rules, in the order of the list.
        pub const RULES: &[Listed] = &[
            $(Listed {
                about: <$Kind as LineRule>::ABOUT,
                blank: || Rule::$Kind($Kind::default()),
                fresh: |from| <$Kind as LineRule>::fresh(from).map(Rule::$Kind),
            }),+
        ];

        $(impl From<$Kind> for Rule {
            fn from(rule: $Kind) -> Self {
                Self::$Kind(rule)
            }
        })+

        impl Rule {
            /// What it is.
            pub fn about(&self) -> About {
                match self { $(Self::$Kind(_) => <$Kind as LineRule>::ABOUT),+ }
            }

            /// The rule as a sentence, lengths in the maker's unit.
            pub fn sentence(&self, unit: Unit) -> String {
                match self { $(Self::$Kind(r) => r.sentence(unit)),+ }
            }

            /// What it hangs from and by how much, to be read or changed.
            pub fn parts(&mut self) -> Vec<Part<'_>> {
                match self { $(Self::$Kind(r) => r.parts()),+ }
            }

            /// The other lines it hangs from.
            pub fn lines(&self) -> Vec<&str> {
                match self { $(Self::$Kind(r) => r.lines()),+ }
            }

            pub(crate) fn seams_alone(&self) -> Option<Vec<&str>> {
                match self { $(Self::$Kind(r) => r.seams_alone()),+ }
            }

            pub(crate) fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
                match self { $(Self::$Kind(r) => r.placed(site)),+ }
            }
        }

        written::as_struct_variants!($($Kind),+);
    };
}

rules! {
    equal_depth::EqualDepth,
    below::Below,
    square_to_grain::SquareToGrain,
    parallel_to::ParallelTo,
    follow::Follow,
    through::Through,
    between::Between,
    bowed::Bowed,
}

#[cfg(test)]
mod tests;
