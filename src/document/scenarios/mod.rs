//! Scenarios made rather than typed: out of a load profile, out of hours by outdoor temperature, or every combination of zones.
//!
//! All of them are pure: they look at a project and return states, or a sentence that says what stands in the way. A project
//! takes them by `SetScenarios`.
//!
//! - `switched`: the zones and their flows, those that can be shut and those that cannot;
//! - `nearest`: the set of open zones whose flows come nearest to a wanted flow;
//! - `profile`, `bins`, `combinations`: the three ways; `naming`: names, short and unlike each other.

mod bins;
mod combinations;
mod naming;
mod nearest;
mod profile;
mod switched;

pub use bins::{Bin, of_bins};
pub use combinations::{MOST_COMBINED, of_combinations};
pub use naming::added_scenarios;
pub use profile::of_profile;

use super::validity::LEAP_YEAR_HOURS;

/// Whether so many hours can be those of a year's states.
fn check_hours(hours: f64) -> Result<(), String> {
    if hours > 0.0 && hours <= LEAP_YEAR_HOURS * (1.0 + 1e-9) {
        return Ok(());
    }
    Err(format!("{hours} are no hours of a year: type more than 0 and at most {LEAP_YEAR_HOURS}"))
}
