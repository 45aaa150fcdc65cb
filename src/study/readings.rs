//! What instruments read: gauges at the node they hang on, flow meters by the flow through them.

use super::lower::Lowered;
use super::pressures::Pressures;
use super::results::Results;
use crate::document::{ComponentId, ComponentKind, Port, PortRef, Project};
use crate::engine::network::Outcome;
use crate::engine::units::{Quantity, Units};
use std::collections::BTreeMap;

/// What an instrument reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A flow meter: flow from inlet to outlet, m³/s.
    Flow(f64),
    /// A pressure gauge: pressure above the air's at its height, Pa, where the vessel's is known.
    Pressure(f64),
    /// A pressure gauge where no vessel's pressure is known: pressure above that at the vessel, or at the first circulator's
    /// suction where there is no vessel, Pa; not a number where nothing open joins the two.
    PressureAboveVessel(f64),
    /// A thermometer: temperature of the water, °C; not a number where none flows past.
    Temperature(f64),
}

impl Reading {
    /// The number with its unit; a dash where nothing can be read.
    #[must_use]
    pub fn text(&self, units: &Units) -> String {
        let (quantity, value) = match *self {
            Self::Flow(flow) => (Quantity::Flow, flow),
            Self::Pressure(pressure) | Self::PressureAboveVessel(pressure) => (Quantity::Pressure, pressure),
            Self::Temperature(celsius) => (Quantity::Temperature, celsius),
        };
        match self {
            _ if !value.is_finite() => "–".to_owned(),
            Self::PressureAboveVessel(_) => format!("{} above the vessel", units.format(quantity, value)),
            _ => units.format(quantity, value),
        }
    }
}

/// The readings of all instruments.
pub(super) fn readings(
    project: &Project,
    lowered: &Lowered,
    outcome: &Outcome,
    results: &Results,
) -> BTreeMap<ComponentId, Reading> {
    let has_gauge = project.components.values().any(|component| component.kind == ComponentKind::PressureGauge);
    let known = has_gauge.then(|| Pressures::of(project, lowered, results));
    let reading = |id: ComponentId, kind: &ComponentKind| {
        let port = PortRef { component: id, port: Port::Branch };
        Some(match kind {
            ComponentKind::FlowMeter { .. } => Reading::Flow(results.component_flow(id)),
            ComponentKind::PressureGauge => {
                let node = *lowered.nodes.get(&port)?;
                match known.as_ref().and_then(|known| known.at(port)) {
                    Some(pressure) => Reading::Pressure(pressure),
                    None => Reading::PressureAboveVessel(outcome.pressures_pa.get(node).copied().unwrap_or(f64::NAN)),
                }
            }
            ComponentKind::Thermometer => Reading::Temperature(results.temperature(lowered, port)),
            _ => return None,
        })
    };
    project.components.iter().filter_map(|(id, component)| Some((*id, reading(*id, &component.kind)?))).collect()
}
