//! The arguments of `scenarios`.

use super::arguments::UnitSet;
use clap::Args;
use std::path::PathBuf;

/// What is printed of the scenarios.
#[derive(Debug, Args)]
pub(super) struct ScenariosArguments {
    /// Project file
    pub file: PathBuf,
    /// Name of the circulator whose settings are compared; needed only where several run
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// Units of the printed numbers; JSON and CSV name theirs
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
    /// Print every number as JSON instead of the tables
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Print one row a scenario and zone as CSV instead of the tables
    #[arg(long)]
    pub csv: bool,
}
