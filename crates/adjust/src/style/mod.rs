//! Style on the fitted block: where the waist lies, how the leg falls, how long it is. Each
//! is a change like any other and stands in the list; switched off, the fitted pattern is as
//! it was. Each is one file, with what it promises to keep.
//!
//! What each style is is common practice with no published source; how it is drawn is ours.

mod leg;
mod pleats;

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
    /// What else is chosen of it.
    pub second: Option<SecondAmount>,
}

/// A second amount of a style, besides its own.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SecondAmount {
    /// What it measures.
    pub amount: &'static str,
    /// The least and the most, mm.
    pub range: (f64, f64),
    /// What to begin with, in mm and in inches.
    pub usual: (f64, f64),
}

impl SecondAmount {
    /// Its range, mm, in round numbers of the unit.
    pub fn usual_range(&self, unit: Unit) -> (f64, f64) {
        round_range(self.range, unit)
    }

    /// What to begin with, round in the unit, mm.
    pub fn usual_in(&self, unit: Unit) -> f64 {
        round_in(unit, self.usual)
    }
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

    /// Its second amount, mm, where it has one.
    fn second(&mut self) -> Option<&mut f64> {
        None
    }
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

            fn second_mut(&mut self) -> Option<&mut f64> {
                match self { $(Self::$Kind(c) => c.second()),+ }
            }
        }
    };
}

styles! {
    rise::Rise,
    slim_leg::SlimLeg, straight_leg::StraightLeg, wide_leg::WideLeg,
    flared_leg::FlaredLeg, tapered_leg::TaperedLeg,
    cropped_leg::CroppedLeg, turn_up::TurnUp,
    front_pleat::FrontPleat, two_front_pleats::TwoFrontPleats,
    back_yoke::BackYoke,
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

    /// Its second amount, mm; none where it has but one.
    pub fn second(&self) -> Option<f64> {
        self.clone().second_mut().map(|amount| *amount)
    }

    /// The same style by another second amount, mm, where it has one.
    #[must_use]
    pub fn with_second(&self, amount: f64) -> Self {
        let mut other = self.clone();
        if let Some(second) = other.second_mut() {
            *second = amount;
        }
        other
    }

    /// The same style by the amounts to begin with, round in the unit.
    #[must_use]
    pub fn usual_in(&self, unit: Unit) -> Self {
        let about = self.about();
        let usual = self.with_amount(about.usual_in(unit));
        about.second.map_or(usual.clone(), |second| usual.with_second(second.usual_in(unit)))
    }

    /// Applies the style.
    ///
    /// # Errors
    /// [`ChangeError`] when the amount is out of reach, the pattern does not have what the
    /// style works on, or a promise would not be kept.
    pub fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let (about, amount) = (self.about(), self.amount());
        let within = |asked: f64, (low, high): (f64, f64)| {
            if (low..=high).contains(&asked) {
                return Ok(());
            }
            Err(ChangeError::OutOfReach {
                what: about.name.to_owned(),
                asked: Length(asked),
                low: Length(low),
                high: Length(high),
            })
        };
        within(amount, about.range)?;
        if let (Some(second), Some(asked)) = (about.second, self.second()) {
            within(asked, second.range)?;
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
        let by = format!("{} by {}", capital(self.about().name), show_length(self.amount(), unit));
        match self.second() {
            Some(second) => format!("{by} and {}", show_length(second, unit)),
            None => by,
        }
    }
}

#[cfg(test)]
mod tests;
