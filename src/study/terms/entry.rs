//! What is said of a term wherever it stands: name, text, formula, symbols, source.

use super::symbols::Symbol;
use super::{energy, pump, settings, system, zones};
use crate::engine::pump::{GoverningLimit, ReferenceFlow};

/// What holds of a term everywhere.
#[derive(Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its name, as the trade has it.
    pub name: &'static str,
    /// What it is, in one or two sentences.
    pub text: &'static str,
    /// How it is reckoned.
    pub formula: Formula,
    /// The symbols of the formula.
    pub symbols: &'static [Symbol],
    /// Where text and formula come from.
    pub source: &'static str,
}

/// How something is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// Lines of plain text.
    Is(&'static str),
    /// None, and why.
    None(&'static str),
}

/// Makes the list of terms and what leads from each to its entry.
macro_rules! terms {
    ($($(#[$doc:meta])* $name:ident => $entry:path,)*) => {
        /// A named thing.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Term {
            $($(#[$doc])* $name,)*
        }

        impl Term {
            /// All terms.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// What holds of it everywhere.
            #[must_use]
            pub fn entry(self) -> &'static Entry {
                match self {
                    $(Self::$name => &$entry,)*
                }
            }
        }
    };
}

terms! {
    /// Flow.
    Flow => pump::FLOW,
    /// Head.
    Head => pump::HEAD,
    /// What the pump gives at full speed.
    FullSpeedCurve => pump::FULL_SPEED_CURVE,
    /// Head curves at other speeds.
    SpeedFamily => pump::SPEED_FAMILY,
    /// Speed.
    Speed => pump::SPEED,
    /// Affinity laws.
    AffinityLaws => pump::AFFINITY_LAWS,
    /// End of the catalogue data.
    EndOfData => pump::END_OF_DATA,
    /// Net positive suction head.
    SuctionHead => pump::SUCTION_HEAD,
    /// Head limit.
    HeadLimit => settings::HEAD_LIMIT,
    /// Slope.
    Slope => settings::SLOPE,
    /// Speed cap.
    SpeedCap => settings::SPEED_CAP,
    /// Minimum speed.
    MinimumSpeed => settings::MINIMUM_SPEED,
    /// Power limit.
    PowerLimit => settings::POWER_LIMIT,
    /// Reference flow, whichever definition.
    ReferenceFlow => settings::REFERENCE_FLOW,
    /// Reference flow at full speed.
    ReferenceAtFullSpeed => settings::REFERENCE_AT_FULL_SPEED,
    /// Reference flow at capped speed.
    ReferenceAtCappedSpeed => settings::REFERENCE_AT_CAPPED_SPEED,
    /// Reference flow given as a design flow.
    ReferenceAsDesignFlow => settings::REFERENCE_AS_DESIGN_FLOW,
    /// Set-line.
    SetLine => settings::SET_LINE,
    /// Regulated curve.
    RegulatedCurve => settings::REGULATED_CURVE,
    /// What governs.
    GoverningLimit => settings::GOVERNING_LIMIT,
    /// A step of a setting.
    SettingStep => settings::SETTING_STEP,
    /// Settings pinned under a name.
    Variant => settings::VARIANT,
    /// A setting that holds where figures are off.
    RobustSetting => settings::ROBUST_SETTING,
    /// System curve.
    SystemCurve => system::SYSTEM_CURVE,
    /// System curve with one zone open.
    ZoneAlone => system::ZONE_ALONE,
    /// Operating point.
    OperatingPoint => system::OPERATING_POINT,
    /// Loop gain and stability.
    LoopGain => system::LOOP_GAIN,
    /// Index circuit.
    IndexCircuit => system::INDEX_CIRCUIT,
    /// Head path.
    HeadPath => system::HEAD_PATH,
    /// Authority.
    Authority => system::AUTHORITY,
    /// Kv and Cv.
    FlowCoefficient => system::FLOW_COEFFICIENT,
    /// Presetting.
    Presetting => system::PRESETTING,
    /// Velocity.
    Velocity => system::VELOCITY,
    /// Friction.
    Friction => system::FRICTION,
    /// Pressure drop.
    PressureDrop => system::PRESSURE_DROP,
    /// Minimum flow of a source.
    MinimumFlow => system::MINIMUM_FLOW,
    /// Zone.
    Zone => zones::ZONE,
    /// Design flow.
    DesignFlow => zones::DESIGN_FLOW,
    /// Share of design flow.
    ShareOfDesignFlow => zones::SHARE_OF_DESIGN_FLOW,
    /// Heat.
    Heat => zones::HEAT,
    /// Share of heat.
    HeatShare => zones::HEAT_SHARE,
    /// Return temperature.
    ReturnTemperature => zones::RETURN_TEMPERATURE,
    /// Room temperature.
    RoomTemperature => zones::ROOM_TEMPERATURE,
    /// Tolerance band.
    ToleranceBand => zones::TOLERANCE_BAND,
    /// Scenario.
    Scenario => zones::SCENARIO,
    /// Margin.
    Margin => zones::MARGIN,
    /// Electric power.
    ElectricPower => energy::ELECTRIC_POWER,
    /// Hydraulic power.
    HydraulicPower => energy::HYDRAULIC_POWER,
    /// Efficiency, wire to water.
    Efficiency => energy::EFFICIENCY,
    /// Energy of a year.
    YearEnergy => energy::YEAR_ENERGY,
    /// Energy efficiency index.
    EnergyEfficiencyIndex => energy::ENERGY_EFFICIENCY_INDEX,
    /// Lines of equal energy.
    EqualEnergy => energy::EQUAL_ENERGY,
}

impl Term {
    /// The term of a limit that governs: what stands along the regulated curve.
    #[must_use]
    pub fn of_limit(limit: GoverningLimit) -> Self {
        match limit {
            GoverningLimit::SetLine => Self::SetLine,
            GoverningLimit::HeadLimit => Self::HeadLimit,
            GoverningLimit::SpeedCap => Self::SpeedCap,
            GoverningLimit::PowerLimit => Self::PowerLimit,
            GoverningLimit::MinimumSpeed => Self::MinimumSpeed,
        }
    }

    /// The term of one of the three definitions of the reference flow.
    #[must_use]
    pub fn of_reference(reference: ReferenceFlow) -> Self {
        match reference {
            ReferenceFlow::FullSpeed => Self::ReferenceAtFullSpeed,
            ReferenceFlow::CappedSpeed => Self::ReferenceAtCappedSpeed,
            ReferenceFlow::DesignFlow(_) => Self::ReferenceAsDesignFlow,
        }
    }
}
