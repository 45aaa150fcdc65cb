//! The arguments of `index`.

use super::arguments::UnitSet;
use clap::Args;
use std::path::PathBuf;

/// Of which circulator the index is told.
#[derive(Debug, Args)]
pub(super) struct IndexArguments {
    /// Project file
    pub file: PathBuf,
    /// Name of the circulator; needed only where several run
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// Units of the printed numbers; JSON names its own
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
    /// Print every number as JSON instead of the text
    #[arg(long)]
    pub json: bool,
}
