//! The values that a text may ask for, read from their names and written in the reader's units.

use super::names::Names;
use super::template::Sight;
use crate::document::{ComponentId, PipeId, ZoneId};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::{DASH, Quantity, Unit, Units};
use crate::study::{PumpResult, ZoneResult, limit_name, share_as_set, share_beside_state};

/// What a gap asks for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    /// Something of a circulator; of the one in hand if none is named.
    Pump(OfPump, Option<ComponentId>),
    /// Something of a zone.
    Zone(OfZone, ZoneId),
    /// Flow through a component, m³/s.
    Flow(ComponentId),
    /// Pressure that a component takes.
    Loss(ComponentId),
    /// Pressure that a pipe takes.
    PipeLoss(PipeId),
    /// Electric power of all circulators.
    TotalPower,
    /// The least share of design flow with which a zone counts as served.
    LeastShare,
    /// The greatest.
    MostShare,
    /// A number of the text itself, so that it is told in the reader's units.
    Given(Quantity, f64),
}

/// Something of a circulator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OfPump {
    Flow,
    Head,
    Power,
    Speed,
    Governing,
    HeadLimit,
    Slope,
    SpeedCap,
    MinimumSpeed,
    ReferenceFlow,
    /// The flow from which on the speed cap governs.
    CapFlow,
    /// The set-line's head at no flow.
    StartHead,
}

/// Something of a zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OfZone {
    Share,
    Heat,
    HeatShare,
    Flow,
    DesignFlow,
}

const OF_PUMP: [(&str, OfPump); 12] = [
    ("flow", OfPump::Flow),
    ("head", OfPump::Head),
    ("power", OfPump::Power),
    ("speed", OfPump::Speed),
    ("governing", OfPump::Governing),
    ("head limit", OfPump::HeadLimit),
    ("slope", OfPump::Slope),
    ("speed cap", OfPump::SpeedCap),
    ("minimum speed", OfPump::MinimumSpeed),
    ("reference flow", OfPump::ReferenceFlow),
    ("cap flow", OfPump::CapFlow),
    ("start head", OfPump::StartHead),
];

const OF_ZONE: [(&str, OfZone); 5] = [
    ("share", OfZone::Share),
    ("heat", OfZone::Heat),
    ("heat share", OfZone::HeatShare),
    ("flow", OfZone::Flow),
    ("design flow", OfZone::DesignFlow),
];

/// Units in which a text may give a number, with what they measure: a length would be told as a head.
const GIVEN: [(&str, Unit); 7] = [
    ("m", Unit::MetreHead),
    ("m³/h", Unit::CubicMetrePerHour),
    ("m3/h", Unit::CubicMetrePerHour),
    ("kPa", Unit::KiloPascal),
    ("W", Unit::Watt),
    ("kW", Unit::KiloWatt),
    ("°C", Unit::DegreeCelsius),
];

fn find<T: Copy>(list: &[(&str, T)], word: &str) -> Option<T> {
    list.iter().find(|(name, _)| *name == word).map(|(_, thing)| *thing)
}

impl Value {
    /// Reads what stands in a gap.
    pub(super) fn read(gap: &str, names: &Names) -> Result<Self, String> {
        if let Some(given) = given(gap) {
            return Ok(given);
        }
        match gap {
            "total power" => return Ok(Self::TotalPower),
            "least share" => return Ok(Self::LeastShare),
            "most share" => return Ok(Self::MostShare),
            _ => {}
        }
        let Some((what, of)) = gap.split_once(" of ") else {
            return find(&OF_PUMP, gap).map(|what| Self::Pump(what, None)).ok_or_else(|| unknown(gap));
        };
        let of = of.trim();
        match what {
            "loss" => match names.pipe(of) {
                Ok(pipe) => Ok(Self::PipeLoss(pipe)),
                Err(_) => names.component(of).map(Self::Loss),
            },
            "flow" if names.zone(of).is_err() && names.pump(of).is_err() => names.component(of).map(Self::Flow),
            _ => match (find(&OF_ZONE, what), find(&OF_PUMP, what)) {
                (Some(what), None) => names.zone(of).map(|zone| Self::Zone(what, zone)),
                (Some(zone_what), Some(_)) if names.zone(of).is_ok() => {
                    names.zone(of).map(|zone| Self::Zone(zone_what, zone))
                }
                (_, Some(what)) => names.pump(of).map(|pump| Self::Pump(what, Some(pump))),
                (None, None) => Err(unknown(what)),
            },
        }
    }

    /// The value in the reader's units; a dash where there is none.
    pub(super) fn text(&self, sight: Sight, units: &Units) -> String {
        let results = sight.study.results();
        match self {
            Self::Pump(what, pump) => {
                let pump = pump.unwrap_or(sight.pump);
                results.pumps.get(&pump).map_or_else(|| DASH.to_owned(), |result| what.text(sight, pump, result, units))
            }
            Self::Zone(what, zone) => {
                results.zones.get(zone).map_or_else(|| DASH.to_owned(), |result| what.text(sight, result, units))
            }
            Self::Flow(id) => units.format(Quantity::Flow, results.component_flow(*id)),
            Self::Loss(id) => {
                units.format(Quantity::Pressure, results.components.get(id).map_or(f64::NAN, |part| part.drop.abs()))
            }
            Self::PipeLoss(id) => {
                units.format(Quantity::Pressure, results.pipes.get(id).map_or(f64::NAN, |pipe| pipe.drop.abs()))
            }
            Self::TotalPower => units.format(Quantity::Power, results.pumps.values().map(|pump| pump.electric_w).sum()),
            Self::LeastShare => share_as_set(sight.project.acceptance.low, units),
            Self::MostShare => share_as_set(sight.project.acceptance.high, units),
            Self::Given(quantity, value) => units.format(*quantity, *value),
        }
    }
}

impl OfPump {
    fn text(self, sight: Sight, pump: ComponentId, result: &PumpResult, units: &Units) -> String {
        let settings = sight.project.pump(pump).map(|unit| unit.regulation);
        let head = |value: Option<f64>| value.map_or_else(|| "none".to_owned(), |v| units.format(Quantity::Head, v));
        let share = |value: Option<f64>| value.map_or_else(|| DASH.to_owned(), |value| share_as_set(value, units));
        let flow = |value: Option<f64>| units.format(Quantity::Flow, value.unwrap_or(f64::NAN));
        match self {
            Self::Flow => units.format(Quantity::Flow, result.flow),
            Self::Head => units.format(Quantity::Head, result.head),
            Self::Power => units.format(Quantity::Power, result.electric_w),
            Self::Speed => units.format(Quantity::Speed, result.speed),
            Self::Governing => result.governing.map_or("nothing", limit_name).to_owned(),
            Self::HeadLimit => head(settings.and_then(|settings| settings.head_limit_m)),
            Self::Slope => share(settings.map(|settings| settings.slope)),
            Self::SpeedCap => share(settings.map(|settings| settings.speed_cap)),
            Self::MinimumSpeed => share(settings.map(|settings| settings.minimum_speed)),
            Self::ReferenceFlow => flow(result.reference_flow),
            Self::StartHead => {
                head(settings.and_then(|settings| Some(settings.head_limit_m? * (1.0 - settings.slope))))
            }
            Self::CapFlow => {
                let ranges = sight.study.curves(pump).map_or(&[][..], |curves| &curves.ranges);
                let capped = ranges.iter().find(|range| range.limit == GoverningLimit::SpeedCap);
                flow(capped.map(|range| range.from_m3_per_s))
            }
        }
    }
}

impl OfZone {
    fn text(self, sight: Sight, zone: &ZoneResult, units: &Units) -> String {
        match self {
            Self::Share => share_beside_state(zone.share, Some(zone.state), &sight.project.acceptance, units),
            Self::Heat => units.format(Quantity::Heat, zone.heat),
            Self::HeatShare => units.format(Quantity::Share, zone.heat_share),
            Self::Flow => units.format(Quantity::Flow, zone.flow),
            Self::DesignFlow => units.format(Quantity::Flow, zone.design_flow),
        }
    }
}

/// `4.2 m`: a number of the text with its unit.
fn given(gap: &str) -> Option<Value> {
    let (number, symbol) = gap.split_once(' ')?;
    let number: f64 = number.parse().ok().filter(|number: &f64| number.is_finite())?;
    let unit = find(&GIVEN, symbol.trim())?;
    Some(Value::Given(unit.quantity(), unit.to_si(number)))
}

fn unknown(gap: &str) -> String {
    let known: Vec<&str> = OF_PUMP.iter().map(|(name, _)| *name).collect();
    format!(
        "nothing can be filled in for “{gap}”: write one of {}, total power, least share, most share; share, heat, heat share, flow or design flow of a \
         zone; loss of a pipe or component; or a number with its unit, as {{4 m}}",
        known.join(", ")
    )
}
