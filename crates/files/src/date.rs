//! Dates as they are written on paper.

use chrono::{DateTime, Local, NaiveDate};

/// How a date is written: year-month-day (ISO 8601).
const WRITTEN: &str = "%Y-%m-%d";

/// Today's date where the person is, year-month-day; that of `SOURCE_DATE_EPOCH` in the
/// world's common time where it is set, so that a page can be made again the same
/// (reproducible-builds.org).
pub fn today() -> String {
    let set = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|s| date_of(s.parse().ok()?));
    set.unwrap_or_else(|| Local::now().format(WRITTEN).to_string())
}

/// The date so many seconds after the start of 1970, in the world's common time; none
/// beyond the year 9999, whose dates are written with more digits.
fn date_of(seconds: i64) -> Option<String> {
    let date = DateTime::from_timestamp(seconds, 0)?.format(WRITTEN).to_string();
    is_date(&date).then_some(date)
}

/// Whether the text is a day of the calendar, written year-month-day with all its digits.
pub fn is_date(text: &str) -> bool {
    // The reader also takes a day without its nought, and years of more than four digits.
    let read = NaiveDate::parse_from_str(text, WRITTEN);
    let shaped = text.len() == "2026-11-25".len();
    shaped && read.is_ok_and(|date| date.format(WRITTEN).to_string() == text)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As `date -d @SECONDS -u +%F` gives them.
    #[test]
    fn seconds_are_dated() {
        for (days, date) in
            [(0, "1970-01-01"), (59, "1970-03-01"), (11_016, "2000-02-29"), (20_782, "2026-11-25")]
        {
            assert_eq!(date_of(86_400 * days + 86_399).as_deref(), Some(date));
        }
        assert_eq!(date_of(253_402_300_799).as_deref(), Some("9999-12-31"));
        assert_eq!((date_of(253_402_300_800), date_of(i64::MAX)), (None, None));
    }

    #[test]
    fn a_date_is_a_day_of_the_calendar() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29"] {
            assert!(is_date(good), "{good}");
        }
        for bad in [
            "frog",
            "2026-2-3",
            "2023-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-04-31",
            "",
            "+10000-01-01",
            "2026-11-25 ",
            " 2026-11-25",
            "+2026-11-25",
            "12026-11-25",
        ] {
            assert!(!is_date(bad), "{bad}");
        }
        assert!(is_date(&today()));
    }
}
