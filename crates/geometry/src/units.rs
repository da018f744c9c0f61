//! Lengths as people write them: millimetres, centimetres, inches in fractions.

use serde::{Deserialize, Serialize};

/// 1 in in mm, exactly (the international inch).
pub const INCH: f64 = 25.4;

/// How lengths are shown to the maker. The model is always in mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Unit {
    /// Millimetres, one decimal.
    #[default]
    Mm,
    /// Centimetres, two decimals.
    Cm,
    /// Inches to the nearest 1/8.
    Eighths,
    /// Inches to the nearest 1/16.
    Sixteenths,
    /// Inches to the nearest 1/32.
    ThirtySeconds,
}

impl Unit {
    /// Into how many parts an inch is divided; none where lengths are not in inches.
    pub fn denominator(self) -> Option<u32> {
        match self {
            Self::Mm | Self::Cm => None,
            Self::Eighths => Some(8),
            Self::Sixteenths => Some(16),
            Self::ThirtySeconds => Some(32),
        }
    }

    /// The bare number's unit when the maker types none, mm.
    fn bare(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            _ => INCH,
        }
    }
}

/// Lengths that are read are kept to the nanometre: steps per mm.
const STEPS_PER_MM: f64 = 1e6;

/// A length that could not be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("“{text}” is not a length; write it like 9.5 mm, 12 cm, 7/16 or 5 3/4 in")]
pub struct LengthError {
    /// What was typed.
    pub text: String,
}

/// Reads a length: `9.5 mm`, `12cm`, `3/8`, `5 1/2 in`, `5-1/2"`, `−3/8`. A
/// number without a unit is in `unit`, but a fraction without a unit is in
/// inches. A decimal comma is read as a point.
///
/// # Errors
/// [`LengthError`] with the text as typed.
pub fn read_length(text: &str, unit: Unit) -> Result<f64, LengthError> {
    let wrong = || LengthError { text: text.trim().to_owned() };
    let plain = text.trim().to_lowercase().replace(['−', '–'], "-").replace(',', ".");
    let (negative, plain) = match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.strip_prefix('+').unwrap_or(&plain).trim_start()),
    };
    let endings = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("inches", INCH),
        ("inch", INCH),
        ("in", INCH),
        ("\"", INCH),
        ("″", INCH),
        ("m", 1000.0),
    ];
    let named = endings.iter().find_map(|(e, mm)| plain.strip_suffix(e).map(|n| (n, *mm)));
    let has_fraction = plain.contains('/') || plain.contains(['½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']);
    let (number, scale) = match named {
        Some(found) => found,
        None if has_fraction => (plain, INCH),
        None => (plain, unit.bare()),
    };
    if number.trim_start().starts_with('-') {
        return Err(wrong());
    }
    let value = read_number(number).ok_or_else(wrong)?;
    let mm = value * scale * if negative { -1.0 } else { 1.0 };
    // 3/8 in is 9.525 mm and shall stand so in a file, not as 9.524999….
    let mm = (mm * STEPS_PER_MM).round() / STEPS_PER_MM;
    if mm.is_finite() { Ok(mm) } else { Err(wrong()) }
}

/// A whole number, a decimal, a fraction, or whole and fraction.
fn read_number(text: &str) -> Option<f64> {
    let mut spaced = text.trim().to_owned();
    for (sign, fraction) in [
        ("½", " 1/2"),
        ("¼", " 1/4"),
        ("¾", " 3/4"),
        ("⅛", " 1/8"),
        ("⅜", " 3/8"),
        ("⅝", " 5/8"),
        ("⅞", " 7/8"),
    ] {
        spaced = spaced.replace(sign, fraction);
    }
    let words: Vec<&str> = spaced.split([' ', '-']).filter(|w| !w.is_empty()).collect();
    match words[..] {
        [one] if one.contains('/') => read_fraction(one),
        [one] => read_plain(one),
        [whole, fraction]
            if fraction.contains('/') && whole.chars().all(|c| c.is_ascii_digit()) =>
        {
            Some(read_plain(whole)? + read_fraction(fraction)?)
        }
        _ => None,
    }
}

fn read_plain(text: &str) -> Option<f64> {
    let digits = text.chars().all(|c| c.is_ascii_digit() || c == '.')
        && text.contains(|c: char| c.is_ascii_digit());
    if digits { text.parse().ok() } else { None }
}

fn read_fraction(text: &str) -> Option<f64> {
    let (top, bottom) = text.split_once('/')?;
    let (top, bottom): (u32, u32) = (top.trim().parse().ok()?, bottom.trim().parse().ok()?);
    if bottom == 0 { None } else { Some(f64::from(top) / f64::from(bottom)) }
}

/// A range of lengths, mm, as makers who work in that unit say it: in inches its ends
/// are the next eighths within it. A range that holds no two eighths stays as it is.
pub fn round_range((low, high): (f64, f64), unit: Unit) -> (f64, f64) {
    const EIGHTH: f64 = INCH / 8.0;
    let round = ((low / EIGHTH).ceil() * EIGHTH, (high / EIGHTH).floor() * EIGHTH);
    if unit.denominator().is_none() || round.0 >= round.1 { (low, high) } else { round }
}

/// Shows a length in the maker's unit: `9.5 mm`, `1.25 cm`, `5 1/2 in`. Inches
/// are rounded to the nearest step; a value that is not on a step is marked ≈.
pub fn show_length(mm: f64, unit: Unit) -> String {
    let sign = if mm < 0.0 { "−" } else { "" };
    match unit {
        Unit::Mm => signless_zero(sign, &format!("{:.1}", mm.abs()), "mm"),
        Unit::Cm => signless_zero(sign, &format!("{:.2}", mm.abs() / 10.0), "cm"),
        _ => show_inches(mm, unit.denominator().unwrap_or(16)),
    }
}

/// Shows a length of which the unit's fractions may show nothing, finer where they do.
pub fn show_or_finer(mm: f64, unit: Unit) -> String {
    let unseen = mm != 0.0 && as_shown(mm, unit) == 0.0;
    if unseen { show_fine(mm, unit) } else { show_length(mm, unit) }
}

/// A length that is round where lengths are shown so: so many mm, or so many inches; given
/// in mm.
pub fn round_in(unit: Unit, (mm, inches): (f64, f64)) -> f64 {
    if unit.denominator().is_some() { inches * INCH } else { mm }
}

/// The least that is shown of a length, mm.
pub fn least_shown(unit: Unit) -> f64 {
    unit.denominator().map_or(0.1, |parts| INCH / f64::from(parts))
}

/// A value as it reads with so many decimals.
pub fn rounded(value: f64, decimals: usize) -> f64 {
    format!("{value:.decimals$}").parse().unwrap_or(value)
}

/// A length as it reads in a unit, mm: what [`show_length`] shows of it. Of lengths shown
/// one by one the sum is that of what is read.
pub fn as_shown(mm: f64, unit: Unit) -> f64 {
    match unit.denominator() {
        None if unit == Unit::Cm => 10.0 * rounded(mm / 10.0, 2),
        None => rounded(mm, 1),
        Some(parts) => {
            let step = INCH / f64::from(parts);
            (mm / step).round() * step
        }
    }
}

/// Shows a measured length, beside whose ± no sign for a rounded one is needed.
pub fn show_measured(mm: f64, unit: Unit) -> String {
    show_length(mm, unit).trim_start_matches('≈').to_owned()
}

/// Shows how far off a measured length may be: rounded up, and never nothing, so that the
/// ± shown is never less than what is claimed.
pub fn show_margin(mm: f64, unit: Unit) -> String {
    let step = least_shown(unit);
    // A hair over a step is that step.
    show_measured((mm / step - 1e-9).ceil().max(1.0) * step, unit)
}

/// Shows a bare number with so many decimals; a zero has no sign.
pub fn show_number(value: f64, decimals: usize) -> String {
    let sign = if value < 0.0 { "−" } else { "" };
    let number = format!("{:.decimals$}", value.abs());
    let zero = number.chars().all(|c| c == '0' || c == '.');
    format!("{}{number}", if zero { "" } else { sign })
}

/// Shows a change with so many decimals: `+1.5`, `−0.2`, and `0.0` for none.
pub fn show_change(value: f64, decimals: usize) -> String {
    let number = show_number(value, decimals);
    let zero = number.chars().all(|c| c == '0' || c == '.');
    if value > 0.0 && !zero { format!("+{number}") } else { number }
}

/// Shows what is too small for the unit's fractions, an accuracy: `0.42 mm`,
/// `0.042 cm`, `0.017 in`.
pub fn show_fine(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{} mm", show_number(mm, 2)),
        Unit::Cm => format!("{} cm", show_number(mm / 10.0, 3)),
        _ => format!("{} in", show_number(mm / INCH, 3)),
    }
}

/// Shows a difference in the maker's unit: `+1.50 mm`, `−1/8 in`, `0` for none. In
/// inches a difference that is less than half a step but more than `exact` mm is
/// said to be under it, never shown as none.
pub fn show_difference(mm: f64, unit: Unit, exact: f64) -> String {
    if mm.abs() <= exact {
        return "0".to_owned();
    }
    let sign = if mm < 0.0 { "−" } else { "+" };
    match unit {
        Unit::Mm => format!("{} mm", show_change(mm, 2)),
        Unit::Cm => format!("{} cm", show_change(mm / 10.0, 3)),
        _ => {
            let step = INCH / f64::from(unit.denominator().unwrap_or(16));
            if mm.abs() < step / 2.0 {
                return format!("{sign} under {}", show_length(step, unit));
            }
            let shown = show_length(mm.abs(), unit);
            match shown.strip_prefix('≈') {
                Some(rest) => format!("≈{sign}{rest}"),
                None => format!("{sign}{shown}"),
            }
        }
    }
}

fn signless_zero(sign: &str, number: &str, unit: &str) -> String {
    let zero = number.chars().all(|c| c == '0' || c == '.');
    format!("{}{number} {unit}", if zero { "" } else { sign })
}

/// A length within this of a fraction step is shown as that step, mm.
const ON_STEP: f64 = 0.01;

fn show_inches(mm: f64, denominator: u32) -> String {
    let steps = (mm.abs() / INCH * f64::from(denominator)).round();
    let exact = (steps / f64::from(denominator) * INCH - mm.abs()).abs() <= ON_STEP;
    let steps = steps as u64;
    let (whole, rest) = (steps / u64::from(denominator), steps % u64::from(denominator));
    let mut text = String::new();
    if !exact {
        text.push('≈');
    }
    if mm < 0.0 && steps > 0 {
        text.push('−');
    }
    let reduce = gcd(rest, u64::from(denominator)).max(1);
    let fraction = format!("{}/{}", rest / reduce, u64::from(denominator) / reduce);
    text += &match (whole, rest) {
        (w, 0) => format!("{w}"),
        (0, _) => fraction,
        (w, _) => format!("{w} {fraction}"),
    };
    text + " in"
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn reads_what_people_write() {
        for (text, unit, mm) in [
            ("3/8", Unit::Mm, 9.525),
            ("9.5 mm", Unit::Sixteenths, 9.5),
            ("5 1/2 in", Unit::Mm, 139.7),
            ("5-1/2\"", Unit::Mm, 139.7),
            ("5½", Unit::Eighths, 139.7),
            ("12", Unit::Cm, 120.0),
            ("12", Unit::Mm, 12.0),
            ("2", Unit::Eighths, 50.8),
            ("1,5 cm", Unit::Mm, 15.0),
            ("−3/8", Unit::Mm, -9.525),
            ("1.1 m", Unit::Mm, 1100.0),
        ] {
            assert!((read_length(text, unit).unwrap() - mm).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn a_zero_has_no_sign() {
        assert_eq!(show_number(-0.04, 1), "0.0");
        assert_eq!(show_number(-1.25, 2), "−1.25");
        assert_eq!(show_change(0.04, 1), "0.0");
        assert_eq!(show_change(2.0, 1), "+2.0");
        assert_eq!(show_change(-2.0, 0), "−2");
    }

    #[test]
    fn inches_are_kept_as_the_shortest_number_of_mm() {
        assert_eq!(read_length("3/8", Unit::Mm).unwrap().to_string(), "9.525");
        assert_eq!(read_length("41 in", Unit::Mm).unwrap().to_string(), "1041.4");
        assert_eq!(read_length("1/32", Unit::Mm).unwrap().to_string(), "0.79375");
    }

    #[test]
    fn refuses_what_is_not_a_length() {
        for text in ["", "abc", "3/0", "1/2/3", "nan", "inf", "1e400 mm", "--3", "5 1 2", "mm"] {
            assert!(read_length(text, Unit::Mm).is_err(), "{text}");
        }
    }

    #[test]
    fn a_small_difference_is_not_none() {
        let inch = |mm| show_difference(mm, Unit::Sixteenths, 0.005);
        assert_eq!(inch(0.004), "0");
        assert_eq!(inch(-0.3), "− under 1/16 in");
        assert_eq!(inch(3.175), "+1/8 in");
        assert_eq!(inch(-3.3), "≈−1/8 in");
        assert_eq!(show_difference(0.25, Unit::Mm, 0.005), "+0.25 mm");
        assert_eq!(show_difference(-2.5, Unit::Cm, 0.005), "−0.250 cm");
    }

    #[test]
    fn shows_fractions_reduced() {
        assert_eq!(show_length(9.525, Unit::Eighths), "3/8 in");
        assert_eq!(show_length(139.7, Unit::Sixteenths), "5 1/2 in");
        assert_eq!(show_length(-9.525, Unit::ThirtySeconds), "−3/8 in");
        assert_eq!(show_length(10.0, Unit::Eighths), "≈3/8 in");
        assert_eq!(show_length(0.0, Unit::Eighths), "0 in");
        assert_eq!(show_length(-0.01, Unit::Mm), "0.0 mm");
    }

    #[test]
    fn a_range_is_round_in_inches_and_lies_within() {
        let eighth = INCH / 8.0;
        assert_eq!(round_range((-20.0, 20.0), Unit::Sixteenths), (-6.0 * eighth, 6.0 * eighth));
        assert_eq!(round_range((-4.0, 4.0), Unit::Eighths), (-eighth, eighth));
        assert_eq!(round_range((15.0, 40.0), Unit::ThirtySeconds), (5.0 * eighth, 12.0 * eighth));
        assert_eq!(round_range((1.0, 2.0), Unit::Eighths), (1.0, 2.0));
        assert_eq!(round_range((-20.0, 20.0), Unit::Cm), (-20.0, 20.0));
    }

    proptest! {
        #[test]
        fn what_is_shown_in_thirty_seconds_reads_back(steps in -4000i32..4000) {
            let mm = f64::from(steps) / 32.0 * INCH;
            let shown = show_length(mm, Unit::ThirtySeconds);
            prop_assert!((read_length(&shown, Unit::Mm).unwrap() - mm).abs() < 1e-9);
        }

        #[test]
        fn reading_never_panics(text in ".*") {
            let _ = read_length(&text, Unit::Mm);
        }
    }
}
