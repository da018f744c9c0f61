//! Dates as they are written on paper.

use chrono::{DateTime, Local, NaiveDate};

/// Later seconds are no date: the end of the year 9999.
const LATEST: i64 = 253_402_300_799;

/// Today's date where the maker is, year-month-day; that of `SOURCE_DATE_EPOCH` where
/// it is set, so that a page can be made again the same (reproducible-builds.org).
pub fn today() -> String {
    let set = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|s| s.parse::<i64>().ok());
    let set = set.map(|seconds| seconds.clamp(0, LATEST));
    written(set.and_then(date_at).unwrap_or_else(|| Local::now().date_naive()))
}

/// The date so many seconds after the beginning of 1970 in the world's common time.
fn date_at(seconds: i64) -> Option<NaiveDate> {
    DateTime::from_timestamp(seconds, 0).map(|moment| moment.date_naive())
}

fn written(date: NaiveDate) -> String {
    date.format("%Y-%m-%d").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Day numbers as `date -d @$((n * 86400)) -u +%F` gives them.
    #[test]
    fn days_are_dated() {
        for (days, date) in
            [(0, "1970-01-01"), (59, "1970-03-01"), (11_016, "2000-02-29"), (20_782, "2026-11-25")]
        {
            assert_eq!(written(date_at(days * 86_400).unwrap()), date);
        }
        assert_eq!(written(date_at(LATEST).unwrap()), "9999-12-31");
    }
}
