//! Components: the symbols on the drawing and the figures behind them.

use super::{Port, PumpUnit, ThreeWayAction, ThreeWayValve};
use crate::engine::links::Characteristic;
use crate::engine::links::emitter::EmitterLaw;

/// Identity of a component within its project; it survives renaming.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ComponentId(pub u32);

/// How a symbol stands: quarter turns clockwise from inlet left, outlet right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turn {
    /// Flow from left to right.
    #[default]
    Right,
    /// Flow downwards.
    Down,
    /// Flow from right to left.
    Left,
    /// Flow upwards.
    Up,
}

impl Turn {
    /// A quarter further, clockwise.
    #[must_use]
    pub fn next(self) -> Self {
        match self {
            Self::Right => Self::Down,
            Self::Down => Self::Left,
            Self::Left => Self::Up,
            Self::Up => Self::Right,
        }
    }

    /// Turns an offset that is given for [`Turn::Right`]; y runs downwards.
    #[must_use]
    pub fn apply(self, [x, y]: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Right => [x, y],
            Self::Down => [-y, x],
            Self::Left => [-x, -y],
            Self::Up => [y, -x],
        }
    }
}

/// Something on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Component {
    /// Name, unlike all others in the project.
    pub name: String,
    /// Centre on the drawing in grid steps, y downwards.
    pub at: [f64; 2],
    /// How it stands.
    pub turn: Turn,
    /// Height above the datum of the building, m; only pressures ask for it.
    pub height: f64,
    /// What it is.
    pub kind: ComponentKind,
}

/// What a component is, with its figures in SI units (Kv in m³/h, its own unit).
#[derive(Clone, Debug, PartialEq)]
pub enum ComponentKind {
    /// Heat source or chiller.
    Source(Source),
    /// Circulator.
    Pump(Box<PumpUnit>),
    /// Tee or cross: up to four pipes meet without loss of its own.
    Junction,
    /// What gives the heat to a zone or takes it.
    Emitter(Emitter),
    /// Two-position valve that opens or shuts a zone.
    ZoneValve {
        /// Kv when open, m³/h.
        kv: f64,
        /// Whether it is open.
        open: bool,
    },
    /// Valve that a controller moves.
    ControlValve {
        /// Kv fully open, m³/h.
        kvs: f64,
        /// How Kv follows the position.
        characteristic: Characteristic,
        /// Position between 0 (shut) and 1; kept while it is shut.
        position: f64,
        /// Whether it is shut whatever its position.
        shut: bool,
    },
    /// Valve that the temperature of its room moves, in proportion and by itself: its nominal Kv at the set temperature, shut
    /// when the room is warmer by the band.
    ThermostaticValve {
        /// Kv at the set temperature, m³/h.
        kv: f64,
        /// Kv fully open, m³/h.
        kvs: f64,
        /// Set temperature, °C.
        set_c: f64,
        /// Proportional band: by how much warmer than set the room is when the valve is shut, K.
        band_k: f64,
    },
    /// Valve set once by hand.
    BalancingValve {
        /// Kv at its presetting, m³/h.
        kv: f64,
    },
    /// Pressure-independent control valve.
    PressureIndependentValve {
        /// Flow it holds, m³/s.
        set_flow: f64,
        /// Least pressure drop at which it holds that flow, Pa.
        least_drop: f64,
        /// Whether it is open.
        open: bool,
    },
    /// Differential-pressure bypass valve.
    BypassValve {
        /// Pressure at which it begins to open, Pa.
        set_pressure: f64,
        /// Band over which it opens fully, Pa.
        band: f64,
        /// Kv fully open, m³/h.
        kv: f64,
    },
    /// Check valve.
    CheckValve {
        /// Kv when open, m³/h.
        kv: f64,
        /// Cracking pressure, Pa.
        cracking: f64,
    },
    /// Strainer.
    Strainer {
        /// Kv when clean, m³/h.
        kv: f64,
        /// Kv when it is due for cleaning, m³/h; that when clean where nothing is known.
        fouled_kv: f64,
        /// How far it has fouled between the two, from 0 to 1.
        fouling: f64,
    },
    /// Hydraulic separator: a short, wide passage between flow and return that lets the circuits on its two sides choose their
    /// flows freely. Its inlet and outlet are the primary circuit's.
    Separator {
        /// Bore of its vessel, m.
        bore: f64,
    },
    /// Hand valve to shut a part off.
    IsolationValve {
        /// Kv when open, m³/h.
        kv: f64,
        /// Whether it is open.
        open: bool,
    },
    /// Expansion vessel: the one node of known pressure.
    ExpansionVessel {
        /// Lowest pressure at its connection, that of the cold system, Pa above the air around; `None` if it is not known.
        pressure: Option<f64>,
    },
    /// Valve that mixes two streams or divides one, in a share that a controller moves.
    ThreeWayValve(ThreeWayValve),
    /// Pressure gauge on a pipe or tee: no water flows to it.
    PressureGauge,
    /// Thermometer in the water at a pipe or tee: no water flows to it.
    Thermometer,
    /// Flow meter.
    FlowMeter {
        /// Kv, m³/h.
        kv: f64,
    },
}

/// Heat source or chiller.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Pressure loss at the rated flow, Pa; zero where it is counted elsewhere.
    pub loss: f64,
    /// Flow at that loss, m³/s.
    pub rated_flow: f64,
    /// Least flow it must have, m³/s; zero if it has none.
    pub minimum_flow: f64,
    /// Temperature that it brings its water to, °C; the design's supply temperature if none is given.
    pub supply_c: Option<f64>,
}

/// Emitter of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct Emitter {
    /// How its heat follows flow and supply temperature.
    pub law: EmitterLaw,
    /// Pressure loss at the rated flow, Pa.
    pub loss: f64,
    /// Flow at that loss, m³/s; without one it is the zone's design flow, and moves with it.
    pub rated_flow: Option<f64>,
    /// Exponent of the loss over flow, 1 to 2.
    pub exponent: f64,
    /// Temperature of the leaving air at design, °C: a coil has and needs it.
    pub air_outlet_c: Option<f64>,
}

impl ComponentKind {
    /// Whether it hangs on a tee or a pipe by its one port, with no flow of its own: a vessel or a gauge.
    #[must_use]
    pub fn hangs(&self) -> bool {
        matches!(self, Self::ExpansionVessel { .. }) || self.is_gauge()
    }

    /// Whether it hangs there only to be read.
    #[must_use]
    pub fn is_gauge(&self) -> bool {
        matches!(self, Self::PressureGauge | Self::Thermometer)
    }
}

impl Component {
    /// A component at the datum's height.
    #[must_use]
    pub fn new(name: impl Into<String>, at: [f64; 2], turn: Turn, kind: ComponentKind) -> Self {
        Self { name: name.into(), at, turn, height: 0.0, kind }
    }

    /// The ports between which a second way leads inside it, in the direction that is meant: the bypass of a three-way valve.
    #[must_use]
    pub fn bypass_ends(&self) -> Option<[Port; 2]> {
        match &self.kind {
            ComponentKind::ThreeWayValve(valve) => Some(valve.bypass_ends()),
            _ => None,
        }
    }

    /// Where a port lies on the drawing; `None` if the component has no such port.
    #[must_use]
    pub fn port_at(&self, port: Port) -> Option<[f64; 2]> {
        let offset = match (&self.kind, port) {
            (ComponentKind::Junction, Port::Branch) => [0.0, 0.0],
            (kind, Port::Branch) if kind.hangs() => [0.0, 1.0],
            (ComponentKind::Junction, _) => return None,
            (kind, _) if kind.hangs() => return None,
            (ComponentKind::ThreeWayValve(_), Port::Branch) => [0.0, 1.0],
            (ComponentKind::Separator { .. }, Port::Inlet) => [-1.0, -2.0],
            (ComponentKind::Separator { .. }, Port::Outlet) => [-1.0, 2.0],
            (ComponentKind::Separator { .. }, Port::SecondaryOutlet) => [1.0, -2.0],
            (ComponentKind::Separator { .. }, Port::SecondaryInlet) => [1.0, 2.0],
            (_, Port::Inlet) => [-1.0, 0.0],
            (_, Port::Outlet) => [1.0, 0.0],
            (_, Port::Branch | Port::SecondaryOutlet | Port::SecondaryInlet) => return None,
        };
        let [x, y] = self.turn.apply(offset);
        Some([self.at[0] + x, self.at[1] + y])
    }

    /// The ports a component has.
    #[must_use]
    pub fn ports(&self) -> &'static [Port] {
        match &self.kind {
            ComponentKind::Junction => &[Port::Branch],
            kind if kind.hangs() => &[Port::Branch],
            ComponentKind::ThreeWayValve(_) => &[Port::Inlet, Port::Outlet, Port::Branch],
            ComponentKind::Separator { .. } => {
                &[Port::Inlet, Port::Outlet, Port::SecondaryOutlet, Port::SecondaryInlet]
            }
            _ => &[Port::Inlet, Port::Outlet],
        }
    }

    /// The port that is one water with this one inside the component: both upper and both lower ports of a separator. For all
    /// others the port itself.
    #[must_use]
    pub fn joined_port(&self, port: Port) -> Port {
        match (&self.kind, port) {
            (ComponentKind::Separator { .. }, Port::SecondaryOutlet) => Port::Inlet,
            (ComponentKind::Separator { .. }, Port::SecondaryInlet) => Port::Outlet,
            _ => port,
        }
    }

    /// Whether a component that can be shut is open; `None` for all others.
    #[must_use]
    pub fn is_open(&self) -> Option<bool> {
        match self.kind {
            ComponentKind::ZoneValve { open, .. }
            | ComponentKind::IsolationValve { open, .. }
            | ComponentKind::PressureIndependentValve { open, .. } => Some(open),
            ComponentKind::ControlValve { position, shut, .. } => Some(!shut && position > 0.0),
            _ => None,
        }
    }

    /// Opens or shuts it; `false` where it cannot be shut. A control valve keeps its position, but one that stands at 0 opens
    /// fully.
    pub(super) fn set_open(&mut self, wanted: bool) -> bool {
        match &mut self.kind {
            ComponentKind::ZoneValve { open, .. }
            | ComponentKind::IsolationValve { open, .. }
            | ComponentKind::PressureIndependentValve { open, .. } => *open = wanted,
            ComponentKind::ControlValve { position, shut, .. } => {
                *shut = !wanted;
                if wanted && *position <= 0.0 {
                    *position = 1.0;
                }
            }
            _ => return false,
        }
        true
    }

    /// The trade's word for what it is.
    #[must_use]
    pub fn kind_name(&self) -> &'static str {
        match self.kind {
            ComponentKind::Source(_) => "source",
            ComponentKind::Pump(_) => "circulator",
            ComponentKind::Junction => "tee",
            ComponentKind::Emitter(_) => "emitter",
            ComponentKind::ZoneValve { .. } => "zone valve",
            ComponentKind::ControlValve { .. } => "control valve",
            ComponentKind::ThermostaticValve { .. } => "thermostatic valve",
            ComponentKind::BalancingValve { .. } => "balancing valve",
            ComponentKind::PressureIndependentValve { .. } => "pressure-independent control valve",
            ComponentKind::BypassValve { .. } => "bypass valve",
            ComponentKind::CheckValve { .. } => "check valve",
            ComponentKind::Strainer { .. } => "strainer",
            ComponentKind::IsolationValve { .. } => "isolation valve",
            ComponentKind::ExpansionVessel { .. } => "expansion vessel",
            ComponentKind::Separator { .. } => "hydraulic separator",
            ComponentKind::ThreeWayValve(valve) => match valve.action {
                ThreeWayAction::Mixing => "three-way mixing valve",
                ThreeWayAction::Diverting => "three-way diverting valve",
            },
            ComponentKind::PressureGauge => "pressure gauge",
            ComponentKind::Thermometer => "thermometer",
            ComponentKind::FlowMeter { .. } => "flow meter",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_control_valve_comes_back_to_its_position() {
        let characteristic = Characteristic::Linear;
        let kind = ComponentKind::ControlValve { kvs: 4.0, characteristic, position: 0.3, shut: false };
        let mut valve = Component::new("CV", [0.0, 0.0], Turn::Right, kind);
        let is_at = |valve: &Component| match valve.kind {
            ComponentKind::ControlValve { position, .. } => position,
            _ => f64::NAN,
        };
        assert!(valve.set_open(false));
        assert_eq!((valve.is_open(), is_at(&valve)), (Some(false), 0.3));
        assert!(valve.set_open(true));
        assert_eq!((valve.is_open(), is_at(&valve)), (Some(true), 0.3));
        valve.kind = ComponentKind::ControlValve { kvs: 4.0, characteristic, position: 0.0, shut: false };
        assert_eq!(valve.is_open(), Some(false));
        assert!(valve.set_open(true));
        assert_eq!((valve.is_open(), is_at(&valve)), (Some(true), 1.0));
    }
}
