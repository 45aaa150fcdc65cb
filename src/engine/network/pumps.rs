//! A running pump in the network: what pressure it adds at a flow.

use super::NodeId;
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::pump::Regulated;

/// How a pump decides its flow or its pressure.
#[derive(Clone, Debug, PartialEq)]
pub enum PumpLaw {
    /// A curve under settings.
    Regulated(Box<Regulated>),
    /// A flow held whatever the pressure, m³/s: how a system curve is traced.
    FixedFlow(f64),
}

/// A running pump between two nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpLink {
    /// Suction node.
    pub suction: NodeId,
    /// Discharge node.
    pub discharge: NodeId,
    /// Its law.
    pub law: PumpLaw,
    /// Density of the pumped fluid, kg/m³: pressure = ρ g H.
    pub density_kg_per_m3: f64,
}

/// By what flows and pressures are foreseen to be multiplied.
#[derive(Clone, Copy, Debug)]
pub(super) struct Foreseen {
    pub(super) flow: f64,
    pub(super) pressure: f64,
}

impl PumpLink {
    /// Pressure rise (Pa) and derivative by flow; `None` for a fixed flow.
    pub(super) fn rise(&self, flow: f64) -> Option<(f64, f64)> {
        let PumpLaw::Regulated(regulated) = &self.law else { return None };
        let (head, slope) = regulated.head(flow);
        let scale = self.density_kg_per_m3 * GRAVITY_M_PER_S2;
        Some((head * scale, slope * scale))
    }

    /// What this pump's curve is foreseen to do to a system that so far takes `rise_pa` at `flow` and there more flow by
    /// `conductance` per Pa, taken to follow one power of the flow. `None` where nothing changes or nothing can be told.
    pub(super) fn foresee(&self, flow: f64, rise_pa: f64, conductance: f64) -> Option<Foreseen> {
        if !(flow > 0.0 && rise_pa > 0.0 && conductance > 0.0) {
            return None;
        }
        let exponent = flow / (conductance * rise_pa);
        let share = match &self.law {
            PumpLaw::FixedFlow(held) => held / flow - 1.0,
            PumpLaw::Regulated(_) => {
                // H₀ (1 + m σ + m (m−1)/2 σ²) = H + H′ Q₀ σ.
                let (given, slope) = self.rise(flow)?;
                let linear = flow / conductance - slope * flow;
                let excess = given - rise_pa;
                let discriminant = linear * linear + 2.0 * exponent * (exponent - 1.0) * rise_pa * excess;
                if !(linear > 0.0 && discriminant >= 0.0) {
                    return None;
                }
                2.0 * excess / (linear + discriminant.sqrt())
            }
        };
        if !(share.abs() > 1e-12 && share.abs() < 0.5 && exponent < 10.0) {
            return None;
        }
        Some(Foreseen { flow: 1.0 + share, pressure: (1.0 + share).powf(exponent) })
    }

    /// A flow and a pressure that are ordinary for this pump.
    pub(super) fn scale(&self) -> (f64, f64) {
        match &self.law {
            PumpLaw::Regulated(regulated) => {
                let run_out = regulated.curve().run_out_m3_per_s();
                let shut_off = regulated.curve().full_speed(0.0).0;
                (run_out, shut_off * self.density_kg_per_m3 * GRAVITY_M_PER_S2)
            }
            PumpLaw::FixedFlow(flow) => (flow.abs().max(1e-9), 1e3),
        }
    }

    /// Between which flows its curve rises; `None` if it never does. The first and the last rising stretch count as one. A set-line
    /// is always found, a rise of the catalogue curve by sampling.
    pub(super) fn rising_stretch(&self) -> Option<(f64, f64)> {
        const SAMPLES: u32 = 128;
        let PumpLaw::Regulated(regulated) = &self.law else { return None };
        let end = regulated.curve().run_out_m3_per_s();
        let rises = |flow: f64| regulated.head(flow).1 > 0.0;
        let on_the_line = regulated.reference_m3_per_s().map(|reference| 0.5 * reference);
        let flows = (0..SAMPLES).map(|i| end * (f64::from(i) + 0.5) / f64::from(SAMPLES)).chain(on_the_line);
        let rising = flows.filter(|&flow| rises(flow));
        let (first, last) = rising.fold((f64::INFINITY, 0.0_f64), |(a, b), flow| (a.min(flow), b.max(flow)));
        // Bisects for where the rise begins or ends, from a flow inside it to one outside.
        let edge = |mut inside: f64, mut outside: f64| {
            for _ in 0..50 {
                let middle = 0.5 * (inside + outside);
                if rises(middle) { inside = middle } else { outside = middle }
            }
            inside
        };
        let step = end / f64::from(SAMPLES);
        (first <= last).then(|| (edge(first, (first - step).max(0.0)), edge(last, last + step)))
    }
}
