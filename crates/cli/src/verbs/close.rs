//! Closing a round.

use crate::args::CloseArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{Change, CloseRound};
use std::time::{SystemTime, UNIX_EPOCH};

pub fn run(args: &CloseArgs) -> Result<(), Failure> {
    let mut opened = Opened::open(&args.project)?;
    if ["start", "now"].contains(&args.name.as_str())
        || opened.document.changes.iter().any(|e| e.name == args.name)
    {
        return Err(Failure::Asked(format!(
            "the name “{}” is taken; give the round another",
            args.name
        )));
    }
    let date = args.date.clone().unwrap_or_else(today);
    let round = CloseRound { date, note: args.note.clone() };
    opened.document.push(&args.name, Change::CloseRound(round));
    opened.save(&args.project)?;
    output::line(&format!(
        "Round “{}” is kept. Compare later with: hangtrue compare {} --from \"{0}\"",
        args.name,
        args.project.display()
    ))
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
    use super::civil;

    #[test]
    fn known_days() {
        assert_eq!(civil(0), (1970, 1, 1));
        assert_eq!(civil(11_016), (2000, 2, 29));
        assert_eq!(civil(19_723), (2024, 1, 1));
    }
}
