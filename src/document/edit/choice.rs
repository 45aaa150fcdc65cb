//! The kinds of component to choose from.

use crate::document::{ComponentKind, ThreeWayAction};
use crate::engine::links::emitter::EmitterLaw;

/// A kind of component to choose from, with usual figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ComponentChoice {
    /// Heat source or chiller.
    Source,
    /// Circulator.
    Pump,
    /// Tee or cross.
    Junction,
    /// Radiator.
    Radiator,
    /// Loops of a heated or cooled floor.
    FloorLoop,
    /// Coil in an air stream.
    Coil,
    /// Emitter of which only the loss is known.
    PlainEmitter,
    /// Two-position valve of a zone.
    ZoneValve,
    /// Valve that a controller moves.
    ControlValve,
    /// Valve that the room moves.
    ThermostaticValve,
    /// Valve set once by hand.
    BalancingValve,
    /// Pressure-independent control valve.
    PressureIndependentValve,
    /// Differential-pressure bypass valve.
    BypassValve,
    /// Check valve.
    CheckValve,
    /// Strainer.
    Strainer,
    /// Hand valve to shut a part off.
    IsolationValve,
    /// Expansion vessel.
    ExpansionVessel,
    /// Hydraulic separator.
    Separator,
    /// Three-way valve that mixes.
    MixingValve,
    /// Three-way valve that diverts.
    DivertingValve,
    /// Pressure gauge.
    PressureGauge,
    /// Thermometer.
    Thermometer,
    /// Flow meter.
    FlowMeter,
}

impl ComponentChoice {
    /// All choices, as they are offered.
    pub const ALL: [Self; 23] = [
        Self::Source,
        Self::Pump,
        Self::ExpansionVessel,
        Self::Separator,
        Self::Radiator,
        Self::FloorLoop,
        Self::Coil,
        Self::PlainEmitter,
        Self::ZoneValve,
        Self::ControlValve,
        Self::ThermostaticValve,
        Self::PressureIndependentValve,
        Self::BalancingValve,
        Self::BypassValve,
        Self::MixingValve,
        Self::DivertingValve,
        Self::CheckValve,
        Self::Strainer,
        Self::IsolationValve,
        Self::Junction,
        Self::PressureGauge,
        Self::Thermometer,
        Self::FlowMeter,
    ];

    /// The choice that a component would have been.
    #[must_use]
    pub fn of(kind: &ComponentKind) -> Self {
        match kind {
            ComponentKind::Source(_) => Self::Source,
            ComponentKind::Pump(_) => Self::Pump,
            ComponentKind::Junction => Self::Junction,
            ComponentKind::Emitter(emitter) => match emitter.law {
                EmitterLaw::Radiator { .. } => Self::Radiator,
                EmitterLaw::FloorLoop { .. } => Self::FloorLoop,
                EmitterLaw::Coil { .. } => Self::Coil,
                EmitterLaw::ConstantDrop => Self::PlainEmitter,
            },
            ComponentKind::ZoneValve { .. } => Self::ZoneValve,
            ComponentKind::ControlValve { .. } => Self::ControlValve,
            ComponentKind::ThermostaticValve { .. } => Self::ThermostaticValve,
            ComponentKind::BalancingValve { .. } => Self::BalancingValve,
            ComponentKind::PressureIndependentValve { .. } => Self::PressureIndependentValve,
            ComponentKind::BypassValve { .. } => Self::BypassValve,
            ComponentKind::CheckValve { .. } => Self::CheckValve,
            ComponentKind::Strainer { .. } => Self::Strainer,
            ComponentKind::IsolationValve { .. } => Self::IsolationValve,
            ComponentKind::ExpansionVessel { .. } => Self::ExpansionVessel,
            ComponentKind::Separator { .. } => Self::Separator,
            ComponentKind::ThreeWayValve(valve) => match valve.action {
                ThreeWayAction::Mixing => Self::MixingValve,
                ThreeWayAction::Diverting => Self::DivertingValve,
            },
            ComponentKind::PressureGauge => Self::PressureGauge,
            ComponentKind::Thermometer => Self::Thermometer,
            ComponentKind::FlowMeter { .. } => Self::FlowMeter,
        }
    }

    /// The trade's word for it, with a capital, as it stands on a button and begins a name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Source => "Source",
            Self::Pump => "Circulator",
            Self::Junction => "Tee",
            Self::Radiator => "Radiator",
            Self::FloorLoop => "Floor loop",
            Self::Coil => "Coil",
            Self::PlainEmitter => "Emitter",
            Self::ZoneValve => "Zone valve",
            Self::ControlValve => "Control valve",
            Self::ThermostaticValve => "Thermostatic valve",
            Self::BalancingValve => "Balancing valve",
            Self::PressureIndependentValve => "Pressure-independent valve",
            Self::BypassValve => "Bypass valve",
            Self::CheckValve => "Check valve",
            Self::Strainer => "Strainer",
            Self::IsolationValve => "Isolation valve",
            Self::ExpansionVessel => "Expansion vessel",
            Self::Separator => "Hydraulic separator",
            Self::MixingValve => "Mixing valve",
            Self::DivertingValve => "Diverting valve",
            Self::PressureGauge => "Pressure gauge",
            Self::Thermometer => "Thermometer",
            Self::FlowMeter => "Flow meter",
        }
    }
}
