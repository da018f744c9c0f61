//! Closing a round.

use crate::args::CloseArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::CloseRound;
use std::time::{SystemTime, UNIX_EPOCH};

pub fn run(args: &CloseArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    if ["start", "now"].contains(&args.name.as_str())
        || opened.document.changes.iter().any(|e| e.name == args.name)
    {
        return Err(Failure::Asked(format!(
            "the name “{}” is taken; give the round another",
            args.name
        )));
    }
    let date = match &args.date {
        None => today(),
        Some(text) if is_date(text) => text.clone(),
        Some(text) => {
            return Err(Failure::Asked(format!(
                "“{text}” is not a date; write it like 2026-11-25: year, month, day"
            )));
        }
    };
    let round = CloseRound { date, note: args.note.clone() };
    opened.document.close_round(&args.name, round);
    opened.save()?;
    output::line(&format!(
        "Round “{}” is kept. Compare later with: hangtrue compare {} --from \"{0}\"",
        args.name,
        args.project.display()
    ))
}

/// Whether the text is a day of the calendar, year-month-day.
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return false };
    let number = |text: &str, digits: usize| {
        let plain = text.len() == digits && text.bytes().all(|b| b.is_ascii_digit());
        if plain { text.parse::<i64>().ok() } else { None }
    };
    let (Some(y), Some(m), Some(d)) = (number(year, 4), number(month, 2), number(day, 2)) else {
        return false;
    };
    let leap = y % 4 == 0 && (y % 100 != 0 || y % 400 == 0);
    let last = match m {
        2 => 28 + i64::from(leap),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    (1..=12).contains(&m) && (1..=last).contains(&d)
}

/// Today's date by the system clock, UTC, year-month-day.
fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let (year, month, day) = civil(i64::try_from(seconds / 86_400).unwrap_or(0));
    format!("{year:04}-{month:02}-{day:02}")
}

/// The civil date of a day number counted from 1970-01-01. Formula: H. Hinnant,
/// "chrono-Compatible Low-Level Date Algorithms" (2013), `civil_from_days`.
fn civil(days: i64) -> (i64, i64, i64) {
    let z = days + 719_468;
    let era = z.div_euclid(146_097);
    let doe = z.rem_euclid(146_097);
    let yoe = (doe - doe / 1_460 + doe / 36_524 - doe / 146_096) / 365;
    let doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    let mp = (5 * doy + 2) / 153;
    let day = doy - (153 * mp + 2) / 5 + 1;
    let month = if mp < 10 { mp + 3 } else { mp - 9 };
    (yoe + era * 400 + i64::from(month <= 2), month, day)
}

#[cfg(test)]
mod tests {
    use super::{civil, is_date};

    #[test]
    fn a_date_is_a_day_of_the_calendar() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29"] {
            assert!(is_date(good), "{good}");
        }
        for bad in ["frog", "2026-2-3", "2023-02-29", "1900-02-29", "2026-13-01", "2026-04-31", ""]
        {
            assert!(!is_date(bad), "{bad}");
        }
    }

    #[test]
    fn known_days() {
        assert_eq!(civil(0), (1970, 1, 1));
        assert_eq!(civil(11_016), (2000, 2, 29));
        assert_eq!(civil(19_723), (2024, 1, 1));
    }
}
