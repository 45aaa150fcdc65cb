//! Dates as text: year, month and day as ISO 8601 writes them, or nothing where nobody gave one.

/// Days of the months, and of February in a leap year.
const DAYS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const FEBRUARY_OF_A_LEAP_YEAR: u32 = 29;
/// The last year that four digits can tell.
const LAST_YEAR: u32 = 9999;

/// What is wrong with a date and what to do; `None` for one that can be, and for an empty one.
#[must_use]
pub fn date_flaw(text: &str) -> Option<String> {
    const FORM: &str = "write year, month and day as in 2026-03-31, or leave it empty";
    if text.is_empty() {
        return None;
    }
    let Some([year, month, day]) = parts(text) else {
        return Some(format!("“{text}” is no date: {FORM}"));
    };
    let is_day = year >= 1 && day >= 1 && days_of(year, month).is_some_and(|last| day <= last);
    (!is_day).then(|| format!("there is no day {text}: {FORM}"))
}

/// The date so many days after the first of January 1970, for whoever has a clock.
#[must_use]
pub fn date_of_day(days: u32) -> String {
    let (mut year, mut left) = (1970, days);
    while year < LAST_YEAR && left >= days_of_year(year) {
        left -= days_of_year(year);
        year += 1;
    }
    for month in 1..=12 {
        let last = days_of(year, month).unwrap_or(0);
        if left < last {
            return format!("{year:04}-{month:02}-{:02}", left + 1);
        }
        left -= last;
    }
    format!("{LAST_YEAR}-12-31")
}

/// Year, month and day of a text of that form.
fn parts(text: &str) -> Option<[u32; 3]> {
    let mut found = [0; 3];
    let mut parts = text.split('-');
    for (number, digits) in found.iter_mut().zip([4, 2, 2]) {
        let part = parts.next()?;
        if part.len() != digits || !part.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        *number = part.parse().ok()?;
    }
    parts.next().is_none().then_some(found)
}

/// Days of a month; none for a month that is not in the calendar.
fn days_of(year: u32, month: u32) -> Option<u32> {
    let index = usize::try_from(month.checked_sub(1)?).ok()?;
    let days = *DAYS.get(index)?;
    Some(if month == 2 && is_leap(year) { FEBRUARY_OF_A_LEAP_YEAR } else { days })
}

fn days_of_year(year: u32) -> u32 {
    if is_leap(year) { 366 } else { 365 }
}

/// The Gregorian calendar's rule.
fn is_leap(year: u32) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        // Leap years of the Gregorian calendar: 2000 and 2024 are, 1900 and 2026 are not.
        for date in ["", "2026-03-31", "2000-02-29", "2024-02-29", "0001-01-01", "9999-12-31"] {
            assert_eq!(date_flaw(date), None, "{date}");
        }
        for day in ["2026-02-29", "1900-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00", "0000-01-01"] {
            assert!(date_flaw(day).is_some_and(|flaw| flaw.starts_with("there is no day")), "{day}");
        }
        for other in
            ["31.3.2026", "2026-3-31", "2026-03-31 ", "2026-03", "2026-03-31-01", "today", "２０２６-01-01", "-"]
        {
            assert!(date_flaw(other).is_some_and(|flaw| flaw.contains("is no date")), "{other}");
        }
    }

    #[test]
    fn days_since_1970_as_the_date_command_of_unix_counts_them() {
        let days = [(0, "1970-01-01"), (59, "1970-03-01"), (11_016, "2000-02-29"), (19_782, "2024-02-29")];
        for (day, date) in days.into_iter().chain([(20_454, "2026-01-01"), (20_543, "2026-03-31")]) {
            assert_eq!(date_of_day(day), date);
        }
        assert_eq!(date_flaw(&date_of_day(u32::MAX)), None);
    }
}
