//! The arguments of `picture`.

use super::arguments::UnitSet;
use super::map_arguments::AxesSet;
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use std::str::FromStr;

/// What is drawn, how, and where it goes.
#[derive(Debug, Args)]
pub(super) struct PictureArguments {
    /// Project file
    pub file: PathBuf,
    /// What to draw
    #[arg(long, value_enum, default_value_t, value_name = "WHAT")]
    pub of: Of,
    /// Where it goes; the file's ending, .svg or .png, says as what
    #[arg(long, value_name = "FILE")]
    pub save: PathBuf,
    /// Name of the circulator whose curves or settings are drawn; needed only where several run
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// Open and shut the zone valves as a scenario of the project says
    #[arg(long, value_name = "NAME")]
    pub scenario: Option<String>,
    /// The two settings on the axes of a map; limit-over-slope where none are given
    #[arg(long, value_enum)]
    pub axes: Option<AxesSet>,
    /// Width, pixels; 1200 where neither this nor --scale is given
    #[arg(long, value_name = "PX")]
    pub width: Option<u32>,
    /// Size as a multiple of 1000 pixels across, such as 2.5
    #[arg(long, value_name = "TIMES", conflicts_with = "width", allow_hyphen_values = true)]
    pub scale: Option<f64>,
    /// Size of a window that is pictured, points; 1280x800 where none is given
    #[arg(long, value_name = "SIZE")]
    pub window: Option<WindowSize>,
    /// Draw on a dark ground
    #[arg(long)]
    pub dark: bool,
    /// What is to stand in the heading instead of what the picture says of itself
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// The day that stands in the heading, such as 2026-03-31; today where none is given
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Let --save replace a file that is there; never the project file itself
    #[arg(long)]
    pub replace: bool,
    /// Units of the drawn numbers
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
}

/// What there are pictures of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum Of {
    /// Head and electric power over flow, with settings, limits and operating points
    #[default]
    Plot,
    /// The system as it is drawn, with what flows
    Drawing,
    /// The map of two settings
    Map,
    /// The whole window
    Window,
}

/// Width and height of a window, points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WindowSize(pub [u16; 2]);

/// Least and greatest side of a window, points.
const LEAST: [u16; 2] = [1024, 680];
const GREATEST: u16 = 4000;

impl FromStr for WindowSize {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let sides = text
            .split_once(['x', '×'])
            .and_then(|(across, down)| Some([across.trim().parse().ok()?, down.trim().parse().ok()?]));
        let fits =
            |[across, down]: &[u16; 2]| (LEAST[0]..=GREATEST).contains(across) && (LEAST[1]..=GREATEST).contains(down);
        sides.filter(fits).map(Self).ok_or_else(|| {
            format!("write width and height such as 1280x800, from {}x{} to {GREATEST}x{GREATEST}", LEAST[0], LEAST[1])
        })
    }
}
