//! The arguments: commands, options and their help texts.

use super::best_arguments::BestArguments;
use super::draw_arguments::DrawArguments;
use super::index_arguments::IndexArguments;
use super::map_arguments::MapArguments;
use super::picture_arguments::PictureArguments;
use super::record_arguments::RecordArguments;
use super::scenarios_arguments::ScenariosArguments;
use crate::engine::units::Units;
use clap::{Args, CommandFactory, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Draw a closed heating or cooling system, lay a variable-speed circulator over it, and see what every zone gets.
#[derive(Debug, Parser)]
#[command(name = "headwise", version, args_conflicts_with_subcommands = true, after_help = EXIT_CODES)]
pub(super) struct Arguments {
    /// Project file to open in the window
    pub file: Option<PathBuf>,
    /// What to do without a window
    #[command(subcommand)]
    pub task: Option<Task>,
}

const EXIT_CODES: &str = "Exit codes: 0 done, 1 a file, name or value is wrong, 2 the command line was not understood, \
                          3 not converged.\nA file named like a command is opened by its path: ./solve";

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Task {
    /// Solve a project and print what circulators and zones do
    Solve {
        /// Project file
        file: PathBuf,
        /// Units of the printed numbers
        #[arg(long, value_enum, default_value_t)]
        units: UnitSet,
    },
    /// Solve a project and print every number as JSON
    Export {
        /// Project file
        file: PathBuf,
    },
    /// Change settings and valves for one run and print what comes of it; the file stays as it is
    Try(Box<TryArguments>),
    /// Solve all scenarios and print them side by side, with every zone's margins and the year's energy
    Scenarios(Box<ScenariosArguments>),
    /// Find the settings with least energy that serve every zone in every scenario, and say why no less will do
    Best(Box<BestArguments>),
    /// Map what two settings do together: where every zone is served, what is missed elsewhere, and the energy
    Map(Box<MapArguments>),
    /// Draw the plot, the drawing or the map as SVG or PNG
    Picture(Box<PictureArguments>),
    /// Estimate a circulator's energy efficiency index, every step shown
    Index(Box<IndexArguments>),
    /// Make the settings sheet and commissioning record as PDF, and its tables as CSV
    Record(Box<RecordArguments>),
    /// Draw, size and balance a system out of a list of zones from a spreadsheet
    Draw(Box<DrawArguments>),
    /// Check a lesson file and list its steps; without a file, list the lessons that come with the program
    Lesson {
        /// Lesson file, or the name of a lesson that comes with the program
        file: Option<PathBuf>,
        /// Units of the printed numbers
        #[arg(long, value_enum, default_value_t)]
        units: UnitSet,
    },
    /// List what calls for a look in a drawing and its results
    Check {
        /// Project file
        file: PathBuf,
        /// Units of the printed numbers
        #[arg(long, value_enum, default_value_t)]
        units: UnitSet,
    },
}

/// What can be changed for one run. Numbers may carry a unit: --head-limit "16 ft".
#[derive(Debug, Args)]
pub(super) struct TryArguments {
    /// Project file
    pub file: PathBuf,
    /// Name of the circulator that the settings are for; needed only where there are several
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// The most head that the circulator may give, or none
    #[arg(long, value_name = "HEAD", allow_hyphen_values = true)]
    pub head_limit: Option<String>,
    /// How far the set-line has fallen at zero flow, % of the head limit
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub slope: Option<String>,
    /// The fastest that the circulator may turn, % of full speed
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub speed_cap: Option<String>,
    /// The most electric power that the circulator takes, W, or none
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    pub power_limit: Option<String>,
    /// The slowest that the circulator turns, % of full speed
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub minimum_speed: Option<String>,
    /// Where the set-line reaches the head limit: full-speed, capped-speed or design-flow=FLOW
    #[arg(long, value_name = "WHERE")]
    pub reference_flow: Option<String>,
    /// Open and shut the zone valves as a scenario of the project says
    #[arg(long, value_name = "NAME")]
    pub scenario: Option<String>,
    /// Open a zone or a valve; may be given several times
    #[arg(long, value_name = "NAME")]
    pub open: Vec<String>,
    /// Shut a zone or a valve; may be given several times
    #[arg(long, value_name = "NAME")]
    pub shut: Vec<String>,
    /// Move a control valve; one that was shut stays shut at its new position; may be given several times
    #[arg(long, value_name = "NAME=PERCENT")]
    pub position: Vec<String>,
    /// Set the room temperature of a thermostatic valve, or of the zone that has one; may be given several times
    #[arg(long, value_name = "NAME=TEMPERATURE")]
    pub set_temperature: Vec<String>,
    /// The outdoor temperature now, or design; thermostatic valves follow it
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub outdoor: Option<String>,
    /// Units of printed numbers and of numbers given without a unit
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
    /// Print every number as JSON instead of the table
    #[arg(long)]
    pub json: bool,
    /// Save the changed project to another file, if it was solved
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Let --save replace a file that is there; never the project file itself
    #[arg(long, requires = "save")]
    pub replace: bool,
}

/// A set of units.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(super) enum UnitSet {
    /// m³/h, m, kPa, kW, °C
    #[default]
    Si,
    /// gpm, ft, psi, Btu/h, °F
    InchPound,
}

impl UnitSet {
    pub fn chosen(self) -> Units {
        match self {
            Self::Si => Units::si(),
            Self::InchPound => Units::inch_pound(),
        }
    }
}

/// Names of the commands.
pub(super) fn commands() -> Vec<String> {
    Arguments::command().get_subcommands().map(|command| command.get_name().to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arguments_do_not_contradict_each_other() {
        Arguments::command().debug_assert();
    }
}
