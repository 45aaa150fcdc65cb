//! Energy by a load profile: the pump follows its settings at given shares of the design flow for given shares of the time, whatever
//! valves make the flow so. This is how standards compare circulators; no zone appears in it.

use crate::engine::pump::{LoadPoint, Pump, Regulated};

/// One point of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Share of flow and of time.
    pub load: LoadPoint,
    /// Flow, m³/s.
    pub flow: f64,
    /// Head that the settings give there, m.
    pub head: f64,
    /// Speed, a fraction of full speed.
    pub speed: f64,
    /// Electric power, W.
    pub electric_w: f64,
    /// Electric energy in its share of the time, J.
    pub energy_j: f64,
}

/// Energy by a profile.
#[derive(Clone, Debug, PartialEq)]
pub struct ProfileEnergy {
    /// Its points, in the profile's order.
    pub points: Vec<ProfilePoint>,
}

impl ProfileEnergy {
    /// Electric energy, J.
    #[must_use]
    pub fn total_j(&self) -> f64 {
        self.points.iter().map(|point| point.energy_j).sum()
    }
}

/// What a pump under its settings takes in `hours` at the shares of a design flow (m³/s) that a profile says: Σ P₁(Q, n) w t.
#[must_use]
pub fn profile_energy(
    pump: &Pump,
    regulated: &Regulated,
    profile: &[LoadPoint],
    design_flow: f64,
    hours: f64,
) -> ProfileEnergy {
    let point = |load: &LoadPoint| {
        let flow = load.flow_share * design_flow;
        let (head, _) = regulated.head(flow);
        let speed = regulated.speed(flow);
        let electric_w = pump.power.electric_w(flow, speed);
        ProfilePoint { load: *load, flow, head, speed, electric_w, energy_j: electric_w * load.weight * hours * 3600.0 }
    };
    ProfileEnergy { points: profile.iter().map(point).collect() }
}
