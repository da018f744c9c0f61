//! A predicted droop in words.

use hangtrue_drape::HangingLine;
use hangtrue_pattern::units::{Unit, show_length};

/// Predictions are told to this, mm: finer than their ± would say too much.
const TOLD: f64 = 1.0;

/// A droop as it is told: to a whole mm.
pub fn round_droop(mm: f64) -> f64 {
    (mm / TOLD).round() * TOLD
}

/// `25 mm low ± 3 mm`, `6 mm high ± 3 mm`, or that it is level within its ±.
pub fn droop_words(droop: f64, plus_minus: f64, unit: Unit) -> String {
    let wide = plus_minus_words(plus_minus, unit);
    if droop.abs() <= plus_minus {
        return format!("level within {wide}");
    }
    format!("{} {wide}", place_words(droop, plus_minus, unit))
}

/// `25 mm low`, `6 mm high`, or `level`, where the ± stands beside it already.
pub fn place_words(droop: f64, plus_minus: f64, unit: Unit) -> String {
    if droop.abs() <= plus_minus {
        return "level".to_owned();
    }
    let way = if droop > 0.0 { "low" } else { "high" };
    format!("{} {way}", shown(droop.abs(), unit))
}

/// `± 3 mm`: never told smaller than it is.
pub fn plus_minus_words(plus_minus: f64, unit: Unit) -> String {
    let wide = match unit.denominator() {
        None => plus_minus.ceil(),
        Some(parts) => {
            let step = hangtrue_pattern::units::INCH / f64::from(parts);
            (plus_minus / step).ceil() * step
        }
    };
    format!("± {}", shown(wide, unit))
}

fn shown(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => show_length(round_droop(mm), unit).replace(".0 ", " "),
        _ => show_length(mm, unit).trim_start_matches('≈').to_owned(),
    }
}

/// The places of a line between its ends, from the inner end to the side: at a quarter,
/// half way and at three quarters.
pub fn places_words(line: &HangingLine, unit: Unit) -> [String; 3] {
    let at = |k: usize| {
        let droop = line.stations.get(k).map_or(0.0, |s| s.droop);
        droop_words(droop, line.plus_minus, unit)
    };
    [at(1), at(2), at(3)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_droop_is_told_with_its_way_and_never_finer_than_its_plus_minus() {
        assert_eq!(droop_words(24.6, 3.0, Unit::Mm), "25 mm low ± 3 mm");
        assert_eq!(droop_words(-6.2, 3.2, Unit::Mm), "6 mm high ± 4 mm");
        assert_eq!(droop_words(2.9, 3.0, Unit::Mm), "level within ± 3 mm");
        assert_eq!(droop_words(25.4, 3.0, Unit::Sixteenths), "1 in low ± 1/8 in");
        assert_eq!(place_words(-6.2, 3.2, Unit::Mm), "6 mm high");
        assert_eq!(place_words(2.9, 3.0, Unit::Mm), "level");
        assert_eq!(plus_minus_words(3.2, Unit::Mm), "± 4 mm");
        assert_eq!(droop_words(25.4, 3.3, Unit::Sixteenths), "1 in low ± 3/16 in");
    }
}
