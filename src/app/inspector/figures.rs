//! The plain numbers of each kind of component: what they are called, measured in, and where they stand. What is more than a
//! number has a file of its own.

use super::number::Measure;
use crate::document::{Command, ComponentId, ComponentKind};
use crate::engine::units::Quantity;

/// Least and greatest Kv that can be typed, m³/h.
pub(super) const KV: (f64, f64) = (0.01, 10_000.0);
/// Flows above zero that can be typed, m³/s.
pub(super) const FLOW: (f64, f64) = (1e-6, 10.0);
/// Pressures that can be typed, Pa.
const PRESSURE: (f64, f64) = (0.0, 2e6);
/// Pressures above zero that can be typed, Pa.
const SOME_PRESSURE: (f64, f64) = (1.0, 2e6);
/// Powers that can be typed, W.
pub(super) const POWER: (f64, f64) = (0.0, 1e6);
/// Bores that can be typed, m.
pub(super) const BORE: (f64, f64) = (1e-3, 3.0);

/// Where a number stands within its kind.
type Place = fn(&mut ComponentKind) -> Option<&mut f64>;

/// One number of a kind.
pub(super) struct Figure {
    pub(super) label: &'static str,
    pub(super) hint: &'static str,
    pub(super) measure: Measure,
    pub(super) range: (f64, f64),
    place: Place,
    /// The command that sets this number alone, where there is one; else the whole kind is set.
    command: Option<fn(ComponentId, f64) -> Command>,
    /// A number that goes along in the same ratio.
    along: Option<Place>,
    /// Where the usual figure comes from.
    pub(super) source: Option<&'static str>,
    /// Whether it is chosen from the series of Kv.
    pub(super) is_kv: bool,
}

impl Figure {
    const fn new(label: &'static str, quantity: Quantity, range: (f64, f64), place: Place, hint: &'static str) -> Self {
        let measure = Measure::Of(quantity);
        Self { label, hint, measure, range, place, command: None, along: None, source: None, is_kv: false }
    }

    const fn kv(label: &'static str, place: Place, hint: &'static str) -> Self {
        Self { is_kv: true, ..Self::new(label, Quantity::FlowCoefficient, KV, place, hint) }
    }

    const fn pure(mut self, decimals: usize) -> Self {
        self.measure = Measure::Pure(decimals);
        self
    }

    const fn by(mut self, command: fn(ComponentId, f64) -> Command) -> Self {
        self.command = Some(command);
        self
    }

    const fn along(mut self, place: Place) -> Self {
        self.along = Some(place);
        self
    }

    const fn from(mut self, source: &'static str) -> Self {
        self.source = Some(source);
        self
    }

    /// The present number.
    pub(super) fn value(&self, kind: &ComponentKind) -> Option<f64> {
        (self.place)(&mut kind.clone()).copied()
    }

    /// The command that sets the number.
    pub(super) fn set(&self, id: ComponentId, kind: &ComponentKind, value: f64) -> Option<Command> {
        if let Some(command) = self.command {
            return Some(command(id, value));
        }
        let mut kind = kind.clone();
        let before = std::mem::replace((self.place)(&mut kind)?, value);
        if let Some(along) = self.along
            && before > 0.0
        {
            let along = along(&mut kind)?;
            *along = (*along * value / before).clamp(self.range.0, self.range.1);
        }
        Some(Command::SetKind(id, Box::new(kind)))
    }
}

/// A place within one kind.
macro_rules! at {
    ($pattern:pat => $place:expr) => {
        |kind| match kind {
            $pattern => Some($place),
            _ => None,
        }
    };
}

const KV_HINT: &str = "Flow in m³/h of water that takes a pressure drop of 1 bar (IEC 60534).";

const SOURCE: &[Figure] = &[
    Figure::new(
        "Pressure drop",
        Quantity::Pressure,
        PRESSURE,
        at!(ComponentKind::Source(of) => &mut of.loss),
        "Pressure drop of the source at its rated flow; zero where it is counted elsewhere.",
    ),
    Figure::new(
        "Rated flow",
        Quantity::Flow,
        (0.0, 10.0),
        at!(ComponentKind::Source(of) => &mut of.rated_flow),
        "Flow at which it takes that pressure drop; the drop goes with the square of the flow.",
    ),
    Figure::new(
        "Minimum flow",
        Quantity::Flow,
        (0.0, 10.0),
        at!(ComponentKind::Source(of) => &mut of.minimum_flow),
        "Least flow that its maker asks for; zero if it asks for none.",
    )
    .from("Rated and minimum flow: the maker's data sheet."),
];

const EMITTER: &[Figure] = &[
    Figure::new(
        "Pressure drop",
        Quantity::Pressure,
        PRESSURE,
        at!(ComponentKind::Emitter(of) => &mut of.loss),
        "Pressure drop of the emitter at its rated flow.",
    ),
    Figure::new(
        "Loss exponent",
        Quantity::Share,
        (1.0, 2.0),
        at!(ComponentKind::Emitter(of) => &mut of.exponent),
        "The drop goes with this power of the flow: 2 turbulent, 1 laminar, between them in long thin tubes.",
    )
    .pure(2),
];

const ZONE_VALVE: &[Figure] = &[Figure::kv("Kv open", at!(ComponentKind::ZoneValve { kv, .. } => kv), KV_HINT)];

const CONTROL_VALVE: &[Figure] = &[
    Figure::kv("Kv fully open", at!(ComponentKind::ControlValve { kvs, .. } => kvs), KV_HINT),
    Figure::new(
        "Position",
        Quantity::Share,
        (0.0, 1.0),
        at!(ComponentKind::ControlValve { position, .. } => position),
        "How far it is open: 0 % is shut, 100 % fully open. It is kept while the valve is shut.",
    )
    .by(Command::SetPosition),
];

const THERMOSTATIC_VALVE: &[Figure] = &[
    Figure::kv(
        "Kv nominal",
        at!(ComponentKind::ThermostaticValve { kv, .. } => kv),
        "Kv while the room is at the set temperature.",
    ),
    Figure::kv("Kv fully open", at!(ComponentKind::ThermostaticValve { kvs, .. } => kvs), "Kv in a cold room."),
    Figure::new(
        "Set temperature",
        Quantity::Temperature,
        (-30.0, 60.0),
        at!(ComponentKind::ThermostaticValve { set_c, .. } => set_c),
        "The room temperature it is set to.",
    )
    .by(Command::SetRoomTemperature),
    Figure::new(
        "Band",
        Quantity::TemperatureDifference,
        (0.1, 20.0),
        at!(ComponentKind::ThermostaticValve { band_k, .. } => band_k),
        "Proportional band: by so much is the room warmer than set when the valve is shut.",
    )
    .from("A band of 2 K is common practice, no source."),
];

const BALANCING_VALVE: &[Figure] = &[Figure::kv(
    "Kv as set",
    at!(ComponentKind::BalancingValve { kv } => kv),
    "Kv at its presetting; the maker's chart tells the turns of the hand wheel.",
)];

const PRESSURE_INDEPENDENT: &[Figure] = &[
    Figure::new(
        "Set flow",
        Quantity::Flow,
        FLOW,
        at!(ComponentKind::PressureIndependentValve { set_flow, .. } => set_flow),
        "The flow that it holds while its pressure drop is above the least one.",
    ),
    Figure::new(
        "Least drop",
        Quantity::Pressure,
        SOME_PRESSURE,
        at!(ComponentKind::PressureIndependentValve { least_drop, .. } => least_drop),
        "Below this pressure drop it no longer holds its flow and acts as a plain valve.",
    )
    .from("Least drop: the maker's data sheet; 15 to 30 kPa is common practice, no source."),
];

const BYPASS: &[Figure] = &[
    Figure::new(
        "Opens at",
        Quantity::Pressure,
        SOME_PRESSURE,
        at!(ComponentKind::BypassValve { set_pressure, .. } => set_pressure),
        "Differential pressure at which it begins to open.",
    ),
    Figure::new(
        "Band",
        Quantity::Pressure,
        SOME_PRESSURE,
        at!(ComponentKind::BypassValve { band, .. } => band),
        "By so much the pressure rises until it is fully open.",
    )
    .from("Band: the maker's data sheet."),
    Figure::kv("Kv fully open", at!(ComponentKind::BypassValve { kv, .. } => kv), KV_HINT),
];

const CHECK_VALVE: &[Figure] = &[
    Figure::kv("Kv open", at!(ComponentKind::CheckValve { kv, .. } => kv), KV_HINT),
    Figure::new(
        "Cracking pressure",
        Quantity::Pressure,
        PRESSURE,
        at!(ComponentKind::CheckValve { cracking, .. } => cracking),
        "Pressure at which its spring lets the first water pass.",
    ),
];

const STRAINER: &[Figure] = &[
    Figure::kv(
        "Kv clean",
        at!(ComponentKind::Strainer { kv, .. } => kv),
        "Kv with a clean sieve; the fouled one follows it in the same ratio.",
    )
    .along(at!(ComponentKind::Strainer { fouled_kv, .. } => fouled_kv)),
    Figure::kv(
        "Kv fouled",
        at!(ComponentKind::Strainer { fouled_kv, .. } => fouled_kv),
        "Kv at which it is due for cleaning.",
    ),
    Figure::new(
        "Fouling",
        Quantity::Share,
        (0.0, 1.0),
        at!(ComponentKind::Strainer { fouling, .. } => fouling),
        "How far it has gone now from clean, 0 %, to due for cleaning, 100 %; its loss rises in proportion.",
    ),
];

const FLOW_METER: &[Figure] = &[Figure::kv("Kv", at!(ComponentKind::FlowMeter { kv } => kv), KV_HINT)];

const THREE_WAY_VALVE: &[Figure] = &[
    Figure::kv(
        "Kv controlled",
        at!(ComponentKind::ThreeWayValve(of) => &mut of.kvs),
        "Kv of the way from inlet to outlet, fully open.",
    ),
    Figure::kv(
        "Kv bypass",
        at!(ComponentKind::ThreeWayValve(of) => &mut of.bypass_kvs),
        "Kv of the bypass, fully open.",
    ),
    Figure::new(
        "Position",
        Quantity::Share,
        (0.0, 1.0),
        at!(ComponentKind::ThreeWayValve(of) => &mut of.position),
        "0 % is all through the bypass, 100 % nothing through it.",
    )
    .by(Command::SetPosition),
];

const ISOLATION_VALVE: &[Figure] =
    &[Figure::kv("Kv open", at!(ComponentKind::IsolationValve { kv, .. } => kv), KV_HINT)];

const SEPARATOR: &[Figure] = &[Figure::new(
    "Bore",
    Quantity::Bore,
    BORE,
    at!(ComponentKind::Separator { bore } => bore),
    "Inside diameter of its vessel.",
)
.from("Slow enough to let air and dirt part: 0.1 to 0.2 m/s, common practice, no source.")];

const PUMP: &[Figure] = &[
    Figure::new(
        "Full speed",
        Quantity::RotationalSpeed,
        (1.0, 100_000.0),
        at!(ComponentKind::Pump(unit) => &mut unit.full_speed_rpm),
        "Speed at which the catalogue points were taken.",
    ),
    Figure::new(
        "Standby power",
        Quantity::Power,
        POWER,
        at!(ComponentKind::Pump(unit) => &mut unit.standby_power),
        "Electric power that does not follow speed: the electronics.",
    )
    .from("Full speed and standby power: the maker's data sheet."),
];

/// Steps in which a circulator takes its settings.
pub(super) const STEPS: &[Figure] = &[
    Figure::new(
        "Head limit",
        Quantity::Head,
        (0.001, 10.0),
        at!(ComponentKind::Pump(unit) => &mut unit.steps.head_limit),
        "Step in which the device takes the head limit.",
    ),
    Figure::new(
        "Slope",
        Quantity::Speed,
        (0.001, 1.0),
        at!(ComponentKind::Pump(unit) => &mut unit.steps.slope),
        "Step in which the device takes the slope.",
    ),
    Figure::new(
        "Speed cap",
        Quantity::Speed,
        (0.001, 1.0),
        at!(ComponentKind::Pump(unit) => &mut unit.steps.speed_cap),
        "Step in which the device takes the speed cap.",
    )
    .from("Steps: the device's instructions; 0.1 m and 1 % are common practice, no source."),
];

/// The plain numbers of a kind.
pub(super) fn figures(kind: &ComponentKind) -> &'static [Figure] {
    match kind {
        ComponentKind::Source(_) => SOURCE,
        ComponentKind::Pump(_) => PUMP,
        ComponentKind::Emitter(_) => EMITTER,
        ComponentKind::ZoneValve { .. } => ZONE_VALVE,
        ComponentKind::ControlValve { .. } => CONTROL_VALVE,
        ComponentKind::ThermostaticValve { .. } => THERMOSTATIC_VALVE,
        ComponentKind::BalancingValve { .. } => BALANCING_VALVE,
        ComponentKind::PressureIndependentValve { .. } => PRESSURE_INDEPENDENT,
        ComponentKind::BypassValve { .. } => BYPASS,
        ComponentKind::CheckValve { .. } => CHECK_VALVE,
        ComponentKind::Strainer { .. } => STRAINER,
        ComponentKind::IsolationValve { .. } => ISOLATION_VALVE,
        ComponentKind::Separator { .. } => SEPARATOR,
        ComponentKind::FlowMeter { .. } => FLOW_METER,
        ComponentKind::ThreeWayValve(_) => THREE_WAY_VALVE,
        ComponentKind::Junction
        | ComponentKind::ExpansionVessel { .. }
        | ComponentKind::PressureGauge
        | ComponentKind::Thermometer => &[],
    }
}
