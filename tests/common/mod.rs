//! Reads the check tables in `tests/data` (lines that begin with `#` tell how a table was made) and compares with them.

use serde::de::DeserializeOwned;
use std::fmt::Display;

/// The rows of a table; a table that does not fit its row type stops the test.
pub fn rows<Row: DeserializeOwned>(table: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    let rows: Result<Vec<Row>, csv::Error> = reader.deserialize().collect();
    assert!(rows.is_ok(), "unreadable table: {:?}", rows.err());
    rows.unwrap_or_default()
}

/// Fails unless `found` lies within `allowed` of `expected`.
#[track_caller]
pub fn check(what: impl Display, found: f64, expected: f64, allowed: f64) {
    let off = (found - expected).abs();
    assert!(off <= allowed, "{what}: found {found}, expected {expected}, off by {off:e}, allowed {allowed:e}");
}
