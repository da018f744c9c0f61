//! Numbers that stay numbers until they are shown: the one place where a length
//! or an angle becomes words.
//!
//! Errors and notes carry [`Length`]s. Whoever shows them says in which unit, with
//! [`InUnit::in_unit`]; shown without, lengths are in mm. The unit is handed down
//! beside the formatter (`Formatter` has no room for it), on this thread and for
//! as long as the one thing is being shown, so that an error inside an error is in
//! the same unit. What a maker has named is plain text and never looked into.

use crate::units::{INCH, Unit, show_fine, show_length, show_number};
use serde::{Deserialize, Serialize, Serializer};
use std::cell::RefCell;
use std::fmt;

/// A length, mm. Shown with one decimal of mm, or as many as are asked for:
/// `{:.2}`. The first of a pair, `{:#}`, leaves the unit to the second: `10.0 to
/// 12.5 mm`; inches always name theirs.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Length(pub f64);

/// A length too small for the unit's fractions, an accuracy, mm: never shown as none.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Fine(pub f64);

/// An angle, degrees. Shown with one decimal, or as many as are asked for.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Angle(pub f64);

/// How lengths are shown just now, and what was shown so.
struct Showing {
    unit: Unit,
    /// Decimals of an inch, once fractions no longer tell two lengths apart.
    decimals: Option<usize>,
    /// Each length, what its last decimal is worth (both mm), and how it was shown.
    shown: Vec<(f64, f64, String)>,
}

thread_local! {
    static SHOWING: RefCell<Showing> =
        const { RefCell::new(Showing { unit: Unit::Mm, decimals: None, shown: Vec::new() }) };
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = f.precision().unwrap_or(1);
        let first_of_pair = f.alternate();
        let text = SHOWING.with_borrow_mut(|showing| {
            let text = self.as_shown(showing.unit, showing.decimals, places, first_of_pair);
            if showing.unit.denominator().is_some() {
                let step = 0.1_f64.powi(i32::try_from(places).unwrap_or(0));
                showing.shown.push((self.0, step, text.clone()));
            }
            text
        });
        f.write_str(&text)
    }
}

impl Length {
    fn as_shown(self, unit: Unit, decimals: Option<usize>, places: usize, bare: bool) -> String {
        let (number, name) = match (unit, decimals) {
            (Unit::Mm, _) => (show_number(self.0, places), " mm"),
            (Unit::Cm, _) => (show_number(self.0 / 10.0, places + 1), " cm"),
            (_, Some(decimals)) => return show_number(self.0 / INCH, decimals) + " in",
            (_, None) => return show_length(self.0, unit),
        };
        if bare { number } else { number + name }
    }
}

impl fmt::Display for Fine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&show_fine(self.0, SHOWING.with_borrow(|showing| showing.unit)))
    }
}

impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", show_number(self.0, f.precision().unwrap_or(1)))
    }
}

/// Puts back how lengths were shown before, whatever happens between.
struct Before(Option<Showing>);

impl Drop for Before {
    fn drop(&mut self) {
        if let Some(before) = self.0.take() {
            SHOWING.set(before);
        }
    }
}

/// Shows what carries lengths in a unit: every error, and [`Words`]. A text is none:
/// what stands in it cannot be turned any more.
pub trait InUnit: fmt::Display {
    /// The words, lengths in this unit. In inches, two lengths that differ are
    /// shown finer than the unit's fractions until they are told apart.
    fn in_unit(&self, unit: Unit) -> String {
        let (mut text, mut alike) = shown_at(self, unit, None);
        for (unit, decimals) in finer(unit) {
            if !alike {
                break;
            }
            (text, alike) = shown_at(self, unit, decimals);
        }
        text
    }
}

impl<T: std::error::Error + ?Sized> InUnit for T {}

impl InUnit for Words {}

/// The fractions finer than a unit's, then decimals of an inch.
fn finer(unit: Unit) -> impl Iterator<Item = (Unit, Option<usize>)> {
    let fractions = [Unit::Sixteenths, Unit::ThirtySeconds].map(|unit| (unit, None));
    let decimals = [2, 3, 4].map(|decimals| (Unit::ThirtySeconds, Some(decimals)));
    fractions.into_iter().filter(move |f| f.0.denominator() > unit.denominator()).chain(decimals)
}

/// The words, and whether two lengths that mm would tell apart look alike.
fn shown_at<T: fmt::Display + ?Sized>(
    what: &T,
    unit: Unit,
    decimals: Option<usize>,
) -> (String, bool) {
    let before = Before(Some(SHOWING.replace(Showing { unit, decimals, shown: Vec::new() })));
    let text = what.to_string();
    let shown = SHOWING.with_borrow_mut(|showing| std::mem::take(&mut showing.shown));
    drop(before);
    let alike = shown.iter().enumerate().any(|(i, (a, step, text))| {
        let rest = &shown[i + 1..];
        rest.iter().any(|(b, finest, other)| {
            text == other && (a - b).abs() >= step.max(*finest) * (1.0 - NEARLY)
        })
    });
    (text, alike)
}

/// A difference of one step may be short of it by this share, from rounding.
const NEARLY: f64 = 1e-6;

/// A part of what is said.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// Words and names; never looked into.
    Text(String),
    /// A length and its decimals of mm.
    Length(Length, usize),
    /// An accuracy.
    Fine(Fine),
    /// An angle and its decimals.
    Angle(Angle, usize),
    /// What was refused, with its own numbers.
    Why(Why),
}

/// A refusal told within other words; two are the same when they say the same.
#[derive(Debug, Clone)]
pub struct Why(std::sync::Arc<dyn std::error::Error + Send + Sync>);

impl PartialEq for Why {
    fn eq(&self, other: &Self) -> bool {
        self.0.to_string() == other.0.to_string()
    }
}

/// What is said of a change, its numbers kept as numbers; see [`words!`]. In a
/// file it is a text, lengths in mm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Words(Vec<Part>);

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |f| f.to_uppercase().chain(letters).collect())
}

/// Words of parts one after the other: `words!["loses ", Length(4.0)]`.
#[macro_export]
macro_rules! words {
    ($($part:expr),+ $(,)?) => { $crate::words::Words::default()$(.and($part))+ };
}

impl Words {
    /// These words and what follows.
    #[must_use]
    pub fn and(mut self, more: impl Into<Self>) -> Self {
        self.0.append(&mut more.into().0);
        self
    }

    /// Why something was refused.
    pub fn why(error: impl std::error::Error + Send + Sync + 'static) -> Self {
        Self(vec![Part::Why(Why(std::sync::Arc::new(error)))])
    }

    /// The parts.
    pub fn parts(&self) -> &[Part] {
        &self.0
    }

    /// Whether a text stands in the words, lengths in mm.
    pub fn contains(&self, text: &str) -> bool {
        self.to_string().contains(text)
    }
}

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|part| match part {
            Part::Text(text) => f.write_str(text),
            Part::Length(length, places) => write!(f, "{length:.places$}"),
            Part::Fine(fine) => write!(f, "{fine}"),
            Part::Angle(angle, places) => write!(f, "{angle:.places$}"),
            Part::Why(why) => write!(f, "{}", why.0),
        })
    }
}

impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Self(vec![Part::Text(text)])
    }
}

impl From<&String> for Words {
    fn from(text: &String) -> Self {
        text.clone().into()
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

impl From<Length> for Words {
    fn from(length: Length) -> Self {
        (length, 1).into()
    }
}

impl From<(Length, usize)> for Words {
    fn from((length, places): (Length, usize)) -> Self {
        Self(vec![Part::Length(length, places)])
    }
}

impl From<Fine> for Words {
    fn from(fine: Fine) -> Self {
        Self(vec![Part::Fine(fine)])
    }
}

impl From<Angle> for Words {
    fn from(angle: Angle) -> Self {
        Self(vec![Part::Angle(angle, 1)])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_first_letter_is_made_large() {
        assert_eq!(capital("élan"), "Élan");
        assert_eq!(capital(""), "");
    }

    #[test]
    fn a_name_is_never_turned_and_a_length_always_is() {
        let said = words!["the pinch “", "10 mm tuck", "” takes ", Length(9.525)];
        assert_eq!(said.to_string(), "the pinch “10 mm tuck” takes 9.5 mm");
        assert_eq!(said.in_unit(Unit::Eighths), "the pinch “10 mm tuck” takes 3/8 in");
        assert_eq!(said.in_unit(Unit::Cm), "the pinch “10 mm tuck” takes 0.95 cm");
        assert_eq!(said.to_string(), said.in_unit(Unit::Mm));
        let sure = words!["within ", Fine(0.42)];
        assert_eq!(sure.in_unit(Unit::Mm), "within 0.42 mm");
        assert_eq!(sure.in_unit(Unit::Cm), "within 0.042 cm");
        assert_eq!(sure.in_unit(Unit::Eighths), "within 0.017 in");
    }

    #[test]
    fn lengths_that_differ_are_told_apart() {
        let said = words![Length(10.0), " within ", Length(9.0)];
        assert_eq!(said.in_unit(Unit::Eighths), "≈13/32 in within ≈11/32 in");
        let near = words![(Length(700.3), 2), " became ", (Length(700.42), 2)];
        assert_eq!(near.in_unit(Unit::Eighths), "27.57 in became 27.58 in");
        let same = words![Length(9.525), " within ", Length(9.525)];
        assert_eq!(same.in_unit(Unit::Eighths), "3/8 in within 3/8 in");
    }

    #[test]
    fn the_first_of_a_pair_leaves_the_unit_to_the_second() {
        struct Pair;
        impl InUnit for Pair {}
        impl fmt::Display for Pair {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{:#.0} to {:.0}", Length(0.0), Length(254.0))
            }
        }
        assert_eq!(Pair.to_string(), "0 to 254 mm");
        assert_eq!(Pair.in_unit(Unit::Cm), "0.0 to 25.4 cm");
        assert_eq!(Pair.in_unit(Unit::Sixteenths), "0 in to 10 in");
    }

    proptest! {
        #[test]
        fn two_lengths_a_tenth_apart_never_look_alike(a in -900.0..900.0f64, by in 0.1..3.0f64) {
            for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
                let said = words![Length(a), "|", Length(a + by)].in_unit(unit);
                let (first, second) = said.split_once('|').unwrap();
                prop_assert_ne!(first, second);
            }
        }
    }
}
