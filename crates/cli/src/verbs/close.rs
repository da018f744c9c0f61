//! Closing a round.

use crate::args::CloseArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{CloseRound, TODAYS_PATTERN};
use hangtrue_files::today;

pub fn run(args: &CloseArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    if ["start", "now", "today", TODAYS_PATTERN].contains(&args.name.as_str())
        || opened.document.changes.iter().any(|e| e.name == args.name)
    {
        return Err(Failure::Asked(format!(
            "the name “{}” is taken; give the fitting another",
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
        "Fitting “{}” is closed, its pattern kept. Compare later with: hangtrue compare {} --from \"{0}\"",
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

#[cfg(test)]
mod tests {
    use super::is_date;

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
}
