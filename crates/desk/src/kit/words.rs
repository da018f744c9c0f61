//! Small helpers for words on the desk.

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |f| f.to_uppercase().chain(letters).collect())
}

/// Today's date in the world's common time, year-month-day.
pub fn today() -> String {
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
        assert_eq!(capital("élan"), "Élan");
    }
}
