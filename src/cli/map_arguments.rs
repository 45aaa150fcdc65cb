//! The arguments of `map`.

use super::arguments::UnitSet;
use crate::study::settings::Axes;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Which plane is mapped, and what becomes of it.
#[derive(Debug, Args)]
pub(super) struct MapArguments {
    /// Project file
    pub file: PathBuf,
    /// Name of the circulator whose settings are mapped; needed only where several run
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// The two settings on the axes
    #[arg(long, value_enum, default_value_t)]
    pub axes: AxesSet,
    /// The head limit to hold instead of the present one
    #[arg(long, value_name = "HEAD", allow_hyphen_values = true)]
    pub at_head_limit: Option<String>,
    /// The slope to hold instead of the present one, % of the head limit
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub at_slope: Option<String>,
    /// The speed cap to hold instead of the present one, % of full speed
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub at_speed_cap: Option<String>,
    /// Demand every combination of open zones besides the scenarios
    #[arg(long)]
    pub every_combination: bool,
    /// Write the cells of the map as CSV to a file, or to standard output with -
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Draw the map; the file's ending, .svg or .png, says as what
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Width of the picture, pixels
    #[arg(long, value_name = "PX", default_value_t = 1200, requires = "picture")]
    pub width: u32,
    /// Draw on a dark ground
    #[arg(long, requires = "picture")]
    pub dark: bool,
    /// Let --csv and --picture replace files that are there; never the project file itself
    #[arg(long)]
    pub replace: bool,
    /// Units of printed and drawn numbers, and of numbers given without a unit; CSV names its own
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
}

/// Two of the three settings.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(super) enum AxesSet {
    /// The head limit up, the slope along
    #[default]
    LimitOverSlope,
    /// The head limit up, the speed cap along
    LimitOverCap,
    /// The slope up, the speed cap along
    SlopeOverCap,
}

impl AxesSet {
    pub fn chosen(self) -> Axes {
        match self {
            Self::LimitOverSlope => Axes::LimitOverSlope,
            Self::LimitOverCap => Axes::LimitOverCap,
            Self::SlopeOverCap => Axes::SlopeOverCap,
        }
    }
}
