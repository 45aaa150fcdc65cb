//! Dates as text: year, month and day as ISO 8601 writes them, or nothing where nobody gave one.

/// Days of the months, and of February in a leap year.
const DAYS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const FEBRUARY_OF_A_LEAP_YEAR: u32 = 29;

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
}
