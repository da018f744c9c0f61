//! Style on the fitted block: where the waist lies, how the leg falls, how long it is. Each
//! is a change like any other and stands in the list; switched off, the fitted pattern is as
//! it was. Each is one file, with what it promises to keep.
//!
//! What each style is is common practice with no published source; how it is drawn is ours.

mod leg;

use crate::corrections::bench::Bench;
use crate::{ChangeError, Outcome};
use hangtrue_geometry::units::round_in;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, round_range, show_length};
use hangtrue_pattern::words::{Length, capital};
use serde::{Deserialize, Serialize};

/// What a style is, for lists.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AboutStyle {
    /// Its name, unique in the list.
    pub name: &'static str,
    /// What it does to the trousers, after "It …".
    pub what: &'static str,
    /// What its amount measures.
    pub amount: &'static str,
    /// What it does to the paper, in whole sentences.
    pub effect: &'static str,
    /// The least and the most of its amount, mm.
    pub range: (f64, f64),
    /// The amount to begin with, in mm and in inches.
    pub usual: (f64, f64),
    /// Whether it changes the pattern by an amount of nothing too.
    pub without_amount: bool,
}

impl AboutStyle {
    /// The range of the amount, mm, in round numbers of the unit.
    pub fn usual_range(&self, unit: Unit) -> (f64, f64) {
        round_range(self.range, unit)
    }

    /// The amount to begin with, round in the unit, mm.
    pub fn usual_in(&self, unit: Unit) -> f64 {
        round_in(unit, self.usual)
    }
}

/// What every style of the list provides.
trait Look {
    /// What it is.
    const ABOUT: AboutStyle;

    /// The style by this amount, mm.
    fn with(amount: f64) -> Self;

    /// Makes it on the bench and promises what it keeps.
    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError>;
}

/// A line of the list.
#[derive(Debug, Clone, Copy)]
pub struct ListedStyle {
    /// What the style is.
    pub about: AboutStyle,
    /// Makes it by an amount, mm.
    pub with: fn(f64) -> Style,
}

macro_rules! styles {
    ($($module:ident :: $Kind:ident),+ $(,)?) => {
        $(mod $module; pub use $module::$Kind;)+

        /// A style of the pattern.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        pub enum Style {
            $(#[doc = concat!("See [`", stringify!($Kind), "`].")] $Kind($Kind)),+
        }

        /// All styles, from the waist down.
        pub const STYLES: &[ListedStyle] = &[
            $(ListedStyle {
                about: <$Kind as Look>::ABOUT,
                with: |amount| Style::$Kind(<$Kind as Look>::with(amount)),
            }),+
        ];

        impl Style {
            /// What it is.
            pub fn about(&self) -> AboutStyle {
                match self { $(Self::$Kind(_) => <$Kind as Look>::ABOUT),+ }
            }

            /// Its amount, mm.
            pub fn amount(&self) -> f64 {
                match self { $(Self::$Kind(c) => c.amount),+ }
            }

            /// The same style by another amount, mm.
            #[must_use]
            pub fn with_amount(&self, amount: f64) -> Self {
                let mut other = self.clone();
                match &mut other { $(Self::$Kind(c) => c.amount = amount),+ }
                other
            }

            fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
                match self { $(Self::$Kind(c) => c.work(bench)),+ }
            }
        }
    };
}

styles! {
    rise::Rise,
    slim_leg::SlimLeg, straight_leg::StraightLeg, wide_leg::WideLeg,
    flared_leg::FlaredLeg, tapered_leg::TaperedLeg,
    cropped_leg::CroppedLeg, turn_up::TurnUp,
    front_pleat::FrontPleat,
}

impl Style {
    /// The style of that name, in large or small letters, by this amount, mm.
    ///
    /// # Errors
    /// [`ChangeError::Unknown`] with the names there are.
    pub fn named(name: &str, amount: f64) -> Result<Self, ChangeError> {
        let name = name.trim();
        let found = STYLES.iter().find(|l| l.about.name.eq_ignore_ascii_case(name));
        found.map(|l| (l.with)(amount)).ok_or_else(|| {
            let known: Vec<&str> = STYLES.iter().map(|l| l.about.name).collect();
            ChangeError::Unknown { kind: "style", name: name.to_owned(), known: known.join(", ") }
        })
    }

    /// Applies the style.
    ///
    /// # Errors
    /// [`ChangeError`] when the amount is out of reach, the pattern does not have what the
    /// style works on, or a promise would not be kept.
    pub fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let (about, amount) = (self.about(), self.amount());
        let (low, high) = about.range;
        if !(low..=high).contains(&amount) {
            return Err(ChangeError::OutOfReach {
                what: about.name.to_owned(),
                asked: Length(amount),
                low: Length(low),
                high: Length(high),
            });
        }
        if amount == 0.0 && !about.without_amount {
            return Ok(Outcome::plain(pattern.clone()));
        }
        let mut bench = Bench::new(pattern);
        self.work(&mut bench)?;
        bench.finish()
    }

    /// The style in a few words.
    pub fn words(&self, unit: Unit) -> String {
        format!("{} by {}", capital(self.about().name), show_length(self.amount(), unit))
    }
}

#[cfg(test)]
mod tests;
