//! The options of `draw`: what a list of zones does not tell.

use super::arguments::UnitSet;
use crate::document::Arrangement;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// What a system is drawn from. Numbers may carry a unit: --supply "113 °F".
#[derive(Debug, Args)]
pub(super) struct DrawArguments {
    /// List of zones: CSV or cells pasted from a spreadsheet, headings with units: zone, heat load (kW), emitter, emitter loss (kPa),
    /// branch length (m), distance (m); and, if wanted, temperature drop (K) or flow (m³/h), valve, valve Kv, branch bore (mm), main
    /// bore (mm), branch fittings, main fittings, room temperature (°C), leaving air (°C)
    pub zones: PathBuf,
    /// How the zones are joined to the plant
    #[arg(long = "return", value_enum, default_value_t, value_name = "WAY")]
    pub arrangement: ReturnWay,
    /// Supply temperature
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub supply: String,
    /// Temperature drop between supply and return
    #[arg(long, value_name = "KELVIN")]
    pub drop: String,
    /// Draw a cooling system instead of a heating system
    #[arg(long)]
    pub cooling: bool,
    /// Room temperature, or that of the air entering coils; 20 °C for heating, 26 °C for cooling if not given
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub room: Option<String>,
    /// Outdoor temperature of the design, which thermostatic valves need
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub outdoor: Option<String>,
    /// What is in the pipes: water, propylene-glycol=PERCENT or ethylene-glycol=PERCENT by mass
    #[arg(long, default_value = "water", value_name = "FLUID")]
    pub fluid: String,
    /// Pipes to choose sizes from
    #[arg(long, default_value = crate::engine::pipes::COMMON.id, value_name = "SERIES", value_parser = series())]
    pub pipe: String,
    /// Most friction in the pipes; 200 Pa/m if not given
    #[arg(long, value_name = "GRADIENT")]
    pub friction: Option<String>,
    /// Greatest velocity up to DN 50; 1.2 m/s if not given
    #[arg(long, value_name = "VELOCITY")]
    pub velocity: Option<String>,
    /// Catalogue points of the circulator, as a table with the headings flow (m³/h), head (m), power (W), speed (r/min)
    #[arg(long, value_name = "FILE")]
    pub pump: Option<PathBuf>,
    /// Power of the circulator that does not follow its speed
    #[arg(long, value_name = "POWER", requires = "pump")]
    pub standby: Option<String>,
    /// Length of pipe between source and circulator, one way
    #[arg(long, default_value = "5 m", value_name = "LENGTH")]
    pub common_length: String,
    /// Sum of the loss coefficients of the fittings between source and circulator, one way
    #[arg(long, default_value_t = 6.0, value_name = "NUMBER")]
    pub common_fittings: f64,
    /// Length between plant and first tee or manifold, where the list does not tell it
    #[arg(long, value_name = "LENGTH")]
    pub first_distance: Option<String>,
    /// Pressure loss of the source at design flow
    #[arg(long, default_value = "0 kPa", value_name = "PRESSURE")]
    pub source_loss: String,
    /// Least flow that the source must have
    #[arg(long, default_value = "0 m³/h", value_name = "FLOW")]
    pub source_minimum_flow: String,
    /// Kv of the strainer; chosen for it if not given
    #[arg(long, value_name = "KV")]
    pub strainer_kv: Option<String>,
    /// Name of the building; that of the list if not given
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// Units of printed numbers and of numbers given without a unit
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
    /// Save the drawing as a project file
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Let --save replace a file that is there; never the list itself
    #[arg(long, requires = "save")]
    pub replace: bool,
}

/// How zones are joined to the plant.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(super) enum ReturnWay {
    /// Flow and return side by side
    #[default]
    Direct,
    /// The return runs on past the last zone before it comes back
    Reverse,
    /// All branches from one pair of collectors
    Manifold,
}

impl ReturnWay {
    pub fn chosen(self) -> Arrangement {
        match self {
            Self::Direct => Arrangement::DirectReturn,
            Self::Reverse => Arrangement::ReverseReturn,
            Self::Manifold => Arrangement::Manifold,
        }
    }
}

/// The series of the catalogue, with their names as help.
fn series() -> clap::builder::PossibleValuesParser {
    let values =
        crate::engine::pipes::CATALOGUE.map(|series| clap::builder::PossibleValue::new(series.id).help(series.name));
    clap::builder::PossibleValuesParser::new(values)
}
