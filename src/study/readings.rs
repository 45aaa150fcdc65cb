//! What instruments read: gauges at the node they hang on, flow meters by the flow through them.

use super::lower::Lowered;
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
    /// A pressure gauge: pressure above that at the expansion vessel, or at the first circulator's suction where there is no
    /// vessel, Pa; not a number where nothing open joins the two.
    Pressure(f64),
    /// A thermometer: temperature of the water, °C; not a number where none flows past.
    Temperature(f64),
}

impl Reading {
    /// The number with its unit; a dash where nothing can be read.
    #[must_use]
    pub fn text(&self, units: &Units) -> String {
        let (quantity, value) = match *self {
            Self::Flow(flow) => (Quantity::Flow, flow),
            Self::Pressure(pressure) => (Quantity::Pressure, pressure),
            Self::Temperature(celsius) => (Quantity::Temperature, celsius),
        };
        if value.is_finite() { units.format(quantity, value) } else { "–".to_owned() }
    }
}

/// The readings of all instruments.
pub(super) fn readings(
    project: &Project,
    lowered: &Lowered,
    outcome: &Outcome,
    results: &Results,
) -> BTreeMap<ComponentId, Reading> {
    let reading = |id: ComponentId, kind: &ComponentKind| {
        let port = PortRef { component: id, port: Port::Branch };
        Some(match kind {
            ComponentKind::FlowMeter { .. } => Reading::Flow(results.component_flow(id)),
            ComponentKind::PressureGauge => {
                let node = *lowered.nodes.get(&port)?;
                Reading::Pressure(outcome.pressures_pa.get(node).copied().unwrap_or(f64::NAN))
            }
            ComponentKind::Thermometer => Reading::Temperature(results.temperature(lowered, port)),
            _ => return None,
        })
    };
    project.components.iter().filter_map(|(id, component)| Some((*id, reading(*id, &component.kind)?))).collect()
}
