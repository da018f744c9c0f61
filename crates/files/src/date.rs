//! Dates as they are written on paper.

/// Later seconds are no date: the end of the year 9999.
const LATEST: u64 = 253_402_300_799;

/// Today's date in the world's common time, year-month-day; that of
/// `SOURCE_DATE_EPOCH` where it is set, so that a page can be made again the same
/// (reproducible-builds.org).
pub fn today() -> String {
    let set = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|s| s.parse::<u64>().ok());
    if let Some(seconds) = set {
        return date_of(seconds.min(LATEST) / 86_400);
    }
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    date_of(now.map_or(0, |d| d.as_secs()) / 86_400)
}

/// The date so many days after 1970-01-01, by the rules of the Gregorian
/// calendar: leap years every four, but not every hundred, yet every four
/// hundred.
fn date_of(mut days: u64) -> String {
    let leap = |y: u64| y.is_multiple_of(4) && (!y.is_multiple_of(100) || y.is_multiple_of(400));
    let mut year = 1970;
    while days >= 365 + u64::from(leap(year)) {
        days -= 365 + u64::from(leap(year));
        year += 1;
    }
    let february = 28 + u64::from(leap(year));
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year}-{month:02}-{:02}", days + 1)
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
            assert_eq!(date_of(days), date);
        }
    }
}
