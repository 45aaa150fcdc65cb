//! The search among settings: the best against a plain search by the study itself, the region and its contours, combinations,
//! robustness, remedies, presettings.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

mod systems;

#[path = "settings/best_setting.rs"]
mod best_setting;
#[path = "settings/combinations.rs"]
mod combinations;
#[path = "plans/copies.rs"]
mod copies;
#[path = "settings/judge.rs"]
mod judge;
#[path = "settings/off.rs"]
mod off;
#[path = "settings/remedies.rs"]
mod remedies;
#[path = "settings/setting_map.rs"]
mod setting_map;
