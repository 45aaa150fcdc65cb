//! The day that stands on what is printed: the one that is given, or today.

use super::failure::Failure;
use crate::document::date_flaw;
use crate::report::today;

/// The day that is given, or today.
pub(super) fn day(given: Option<&String>) -> Result<String, Failure> {
    match given {
        Some(date) => match date_flaw(date) {
            None => Ok(date.clone()),
            Some(flaw) => Err(Failure::Value { option: format!("--date {date}"), flaw }),
        },
        None => Ok(today()),
    }
}
