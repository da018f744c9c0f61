//! The catalogue of trouser corrections. Each is one file: its parameter, what it
//! does to the pattern, and what it promises to keep. Mating seams follow where a
//! seam demands it, so that they match as they did.
//!
//! What each correction is for is common practice with no published source; how it
//! is drawn is ours.

pub(crate) mod bench;
mod darts;
mod handle;
pub(crate) mod shape;

use crate::{ChangeError, Outcome};
use bench::Bench;
pub use handle::Handle;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, round_range, show_length};
use hangtrue_pattern::words::Length;
use serde::{Deserialize, Serialize};
pub(crate) use waist_height::raise_waist;

/// What a correction is, for lists and tables.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct About {
    /// Its name in the trade's words, unique in the catalogue.
    pub name: &'static str,
    /// Where it stands in the catalogue.
    pub place: Chapter,
    /// What it is for, after "It …": common practice, no published source.
    pub what: &'static str,
    /// What its amount measures; more is more of what the name says.
    pub amount: &'static str,
    /// What it does to the paper, in whole sentences.
    pub effect: &'static str,
    /// The sensible range of the amount, mm. A correction accepts up to three
    /// times as much as long as the pattern can be drawn.
    pub range: (f64, f64),
    /// Whether the opposite amount brings the pattern back.
    pub inverse: bool,
    /// The pieces it changes; the dart corrections may be asked for another.
    pub works_on: &'static [&'static str],
}

impl About {
    /// The sensible range of the amount, mm, in round numbers of the unit.
    pub fn usual(&self, unit: Unit) -> (f64, f64) {
        round_range(self.range, unit)
    }
}

/// Amounts beyond this many times the sensible range are refused unseen.
const BEYOND: f64 = 3.0;

/// What every correction of the catalogue provides.
trait Recipe {
    /// What it is.
    const ABOUT: About;

    /// The correction with this amount, mm, and its other parameters as usual.
    fn with(amount: f64) -> Self;

    /// The pieces it changes.
    fn works_on(&self) -> Vec<&str> {
        Self::ABOUT.works_on.to_vec()
    }

    /// The dart it is made at, for a correction of one dart.
    fn dart(&mut self) -> Option<AtDart<'_>> {
        None
    }

    /// Makes the correction on the bench and promises what it keeps.
    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError>;
}

/// Which dart a correction of one dart is made at, to be chosen.
pub struct AtDart<'a> {
    /// The piece.
    pub piece: &'a mut String,
    /// The dart; none for the one nearest the centre.
    pub dart: &'a mut Option<String>,
}

/// A line of the catalogue.
#[derive(Debug, Clone, Copy)]
pub struct Listed {
    /// What the correction is.
    pub about: About,
    /// Makes it with an amount, mm, its other parameters as usual.
    pub with: fn(f64) -> Correction,
}

macro_rules! catalogue {
    ($($module:ident :: $Kind:ident),+ $(,)?) => {
        $(mod $module; pub use $module::$Kind;)+

        /// A correction of the pattern.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        pub enum Correction {
            $(#[doc = concat!("See [`", stringify!($Kind), "`].")] $Kind($Kind)),+
        }

        /// All corrections, in the order of the catalogue.
        pub const CATALOGUE: &[Listed] = &[
            $(Listed {
                about: <$Kind as Recipe>::ABOUT,
                with: |amount| Correction::$Kind(<$Kind as Recipe>::with(amount)),
            }),+
        ];

        impl Correction {
            /// What it is.
            pub fn about(&self) -> About {
                match self { $(Self::$Kind(_) => <$Kind as Recipe>::ABOUT),+ }
            }

            /// Its amount, mm.
            pub fn amount(&self) -> f64 {
                match self { $(Self::$Kind(c) => c.amount),+ }
            }

            /// The pieces it changes.
            pub fn works_on(&self) -> Vec<&str> {
                match self { $(Self::$Kind(c) => c.works_on()),+ }
            }

            /// The same correction by another amount, mm.
            #[must_use]
            pub fn with_amount(&self, amount: f64) -> Self {
                let mut other = self.clone();
                match &mut other { $(Self::$Kind(c) => c.amount = amount),+ }
                other
            }

            /// The dart it is made at, for a correction of one dart.
            pub fn dart(&mut self) -> Option<AtDart<'_>> {
                match self { $(Self::$Kind(c) => c.dart()),+ }
            }

            fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
                match self { $(Self::$Kind(c) => c.work(bench)),+ }
            }
        }
    };
}

catalogue! {
    full_seat::FullSeat, flat_seat::FlatSeat, low_seat::LowSeat,
    lean_to_side::LeanToSide,
    sway_back::SwayBack, tilted_front::TiltedFront, high_hip::HighHip,
    full_tummy::FullTummy, flat_tummy::FlatTummy,
    crotch_depth::CrotchDepth, crotch_length_back::CrotchLengthBack,
    crotch_length_front::CrotchLengthFront, hook_back::HookBack, hook_front::HookFront,
    centre_lean::CentreLean,
    thigh_front::ThighFront, thigh_inner::ThighInner, thigh_outer::ThighOuter,
    thin_thigh::ThinThigh, knock_knee::KnockKnee, bow_leg::BowLeg, full_calf::FullCalf,
    calf_length::CalfLength,
    centre_back_waist::CentreBackWaist, waist_at_sides::WaistAtSides, waist_at_darts::WaistAtDarts, waist_height::WaistHeight,
    hip_at_side::HipAtSide, hip_at_back::HipAtBack, side_swung::SideSwung,
    leg_above_knee::LegAboveKnee, leg_below_knee::LegBelowKnee, knee_level::KneeLevel,
    leg_width::LegWidth, hem_width::HemWidth, hem_level::HemLevel,
    dart_length::DartLength, dart_width::DartWidth,
    dart_moved::DartMoved, dart_split::DartSplit, dart_to_seam::DartToSeam,
}

/// The chapter of the catalogue: the part of the body or of the paper a correction is
/// for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Chapter {
    /// The seat.
    Seat,
    /// The crotch.
    Crotch,
    /// The tummy.
    Tummy,
    /// Waist and hip.
    WaistAndHip,
    /// Thigh, knee and calf.
    Leg,
    /// Length, width and hem.
    Length,
    /// The darts.
    Darts,
}

impl Chapter {
    /// All, in the order of the catalogue.
    pub const ALL: [Self; 7] = [
        Self::Seat,
        Self::Crotch,
        Self::Tummy,
        Self::WaistAndHip,
        Self::Leg,
        Self::Length,
        Self::Darts,
    ];

    /// Its heading.
    pub fn heading(self) -> &'static str {
        match self {
            Self::Seat => "Seat",
            Self::Crotch => "Crotch",
            Self::Tummy => "Tummy",
            Self::WaistAndHip => "Waist and hip",
            Self::Leg => "Thigh, knee and calf",
            Self::Length => "Length, width and hem",
            Self::Darts => "Darts",
        }
    }

    /// The corrections for it.
    pub fn corrections(self) -> impl Iterator<Item = &'static Listed> {
        CATALOGUE.iter().filter(move |listed| listed.about.place == self)
    }
}

impl Correction {
    /// The correction of that name, in large or small letters, with this amount, mm.
    ///
    /// # Errors
    /// [`ChangeError::Unknown`] with the names there are.
    pub fn named(name: &str, amount: f64) -> Result<Self, ChangeError> {
        let name = name.trim();
        // The names of older lists still answer.
        let meant = match name.to_ascii_lowercase().as_str() {
            "back hook" => "back crotch curve",
            "front hook" => "front crotch curve",
            _ => name,
        };
        let found = CATALOGUE.iter().find(|l| l.about.name.eq_ignore_ascii_case(meant));
        found.map(|l| (l.with)(amount)).ok_or_else(|| {
            let known: Vec<&str> = CATALOGUE.iter().map(|l| l.about.name).collect();
            ChangeError::Unknown {
                kind: "correction",
                name: name.to_owned(),
                known: known.join(", "),
            }
        })
    }

    /// Whether this and another correction give the same pattern in either order:
    /// claimed for those that change different pieces only.
    pub fn any_order_with(&self, other: &Self) -> bool {
        let mine = self.works_on();
        other.works_on().iter().all(|piece| !mine.contains(piece))
    }

    /// Applies the correction. Amount 0 changes nothing.
    ///
    /// # Errors
    /// [`ChangeError`] when the amount is out of reach, the pattern does not have
    /// what the correction works on, or a promise would not be kept.
    pub fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let About { name, range, .. } = self.about();
        let amount = self.amount();
        let (low, high) = (BEYOND * range.0.min(0.0), BEYOND * range.1.max(0.0));
        if !(low..=high).contains(&amount) {
            return Err(ChangeError::OutOfReach {
                what: name.to_owned(),
                asked: Length(amount),
                low: Length(low),
                high: Length(high),
            });
        }
        if amount == 0.0 {
            return Ok(Outcome::plain(pattern.clone()));
        }
        let mut bench = Bench::new(pattern);
        self.work(&mut bench)?;
        bench.finish()
    }

    /// The correction in a few words.
    pub fn words(&self, unit: Unit) -> String {
        let name = self.about().name;
        let mut letters = name.chars();
        let first = letters.next().map(char::to_uppercase).into_iter().flatten();
        let capital: String = first.chain(letters).collect();
        format!("{capital} by {}", show_length(self.amount(), unit))
    }
}

#[cfg(test)]
mod tests;
