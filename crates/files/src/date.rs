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

/// The date of a day number counted from 1970-01-01, year-month-day. Formula: H. Hinnant,
/// "chrono-Compatible Low-Level Date Algorithms" (2013), `civil_from_days`.
fn date_of(days: u64) -> String {
    let z = days + 719_468;
    let era = z / 146_097;
    let doe = z % 146_097;
    let yoe = (doe - doe / 1_460 + doe / 36_524 - doe / 146_096) / 365;
    let doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    let mp = (5 * doy + 2) / 153;
    let day = doy - (153 * mp + 2) / 5 + 1;
    let month = if mp < 10 { mp + 3 } else { mp - 9 };
    let year = yoe + era * 400 + u64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
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
