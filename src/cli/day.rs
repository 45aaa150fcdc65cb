//! The day that stands on what is printed: the one that is given, or today.

use super::failure::Failure;
use crate::document::{date_flaw, date_of_day};
use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds of a day.
const DAY_S: u64 = 86_400;

/// The day that is given, or that of the machine's clock at Greenwich.
pub(super) fn day(given: Option<&String>) -> Result<String, Failure> {
    match given {
        Some(date) => match date_flaw(date) {
            None => Ok(date.clone()),
            Some(flaw) => Err(Failure::Value { option: "--date".to_owned(), flaw }),
        },
        None => {
            let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
            Ok(date_of_day(u32::try_from(since.as_secs() / DAY_S).unwrap_or(0)))
        }
    }
}
