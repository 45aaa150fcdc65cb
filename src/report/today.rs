//! Today, for what bears a date when none is given. Nothing else in the reports looks at a clock.

use jiff::ZonedDateTime;

/// Today where the reader is, as an ISO 8601 date such as 2026-01-31.
#[must_use]
pub fn today() -> String {
    ZonedDateTime::now().date().to_string()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_date_is_written_as_iso_8601_says() {
        let today = super::today();
        assert!(today.parse::<jiff::civil::Date>().is_ok_and(|date| date.to_string() == today), "{today}");
        assert_eq!(today.len(), "2026-01-31".len());
    }
}
