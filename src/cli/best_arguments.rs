//! The arguments of `best`.

use super::arguments::UnitSet;
use clap::Args;
use std::path::PathBuf;

/// What is searched for, and what is told of it.
#[derive(Debug, Args)]
#[command(
    after_help = "Exit codes: 0 settings were found: the best, or where none serves those that starve no zone; 1 every \
                        setting starves a zone or is too loud, or the input is wrong; 3 what was found did not hold when it was \
                        solved again."
)]
pub(super) struct BestArguments {
    /// Project file
    pub file: PathBuf,
    /// Name of the circulator to set; needed only where several run
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// Move the presettings of the balancing valves too
    #[arg(long)]
    pub presettings: bool,
    /// Demand every combination of open zones besides the scenarios
    #[arg(long)]
    pub every_combination: bool,
    /// Hold the settings against pipes, fluid and valves that are not just as drawn
    #[arg(long)]
    pub robust: bool,
    /// Tell what would move the limit, with what it gains
    #[arg(long)]
    pub why: bool,
    /// Units of the printed numbers; JSON names its own
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
    /// Print every number as JSON instead of the text
    #[arg(long)]
    pub json: bool,
    /// Save the project with the settings found to another file, if they hold
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Let --save replace a file that is there; never the project file itself
    #[arg(long, requires = "save")]
    pub replace: bool,
}
