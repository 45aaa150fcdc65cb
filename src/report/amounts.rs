//! What a zone gets in numbers, and the sum over all zones.

use crate::document::Project;
use crate::study::{Results, ZoneResult, ZoneState};

/// Flow, heat and temperatures, of a zone or of all together.
pub(super) struct Amounts {
    /// Flow, m³/s.
    pub flow: f64,
    /// Design flow, m³/s.
    pub design_flow: f64,
    /// Flow over design flow.
    pub share: f64,
    /// Heat (or cold), W.
    pub heat: f64,
    /// Heat over load.
    pub heat_share: f64,
    /// Temperature of the water that enters, °C; of all zones that of their water mixed, not a number where nothing flows.
    pub supply_c: f64,
    /// Temperature of the water that leaves, °C; likewise.
    pub return_c: f64,
    /// Temperature of its room where a thermostatic valve serves it, °C.
    pub room_c: Option<f64>,
}

impl From<&ZoneResult> for Amounts {
    fn from(zone: &ZoneResult) -> Self {
        // Standing water has a temperature of its own, which is nobody's supply or return.
        let moves = !matches!(zone.state, ZoneState::Shut | ZoneState::Still);
        let of_moving = |celsius: f64| if moves { celsius } else { f64::NAN };
        Self {
            flow: zone.flow,
            design_flow: zone.design_flow,
            share: zone.share,
            heat: zone.heat,
            heat_share: zone.heat_share,
            supply_c: of_moving(zone.supply_c),
            return_c: of_moving(zone.return_c),
            room_c: zone.room_c,
        }
    }
}

impl Amounts {
    /// All zones together.
    pub fn of_all(project: &Project, results: &Results) -> Self {
        let sum = |of: fn(&ZoneResult) -> f64| results.zones.values().map(of).sum::<f64>();
        let over = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let (flow, design_flow, heat) = (sum(|z| z.flow), sum(|z| z.design_flow), results.total_heat());
        let load: f64 = project.zones.values().map(|zone| zone.load).sum();
        let mixed = |of: fn(&Self) -> f64| {
            let zones = results.zones.values().map(Self::from).filter(|zone| of(zone).is_finite());
            let (through, warm) =
                zones.fold((0.0, 0.0), |(q, warm), zone| (q + zone.flow.abs(), warm + zone.flow.abs() * of(&zone)));
            if through > 0.0 { warm / through } else { f64::NAN }
        };
        Self {
            flow,
            design_flow,
            share: over(flow, design_flow),
            heat,
            heat_share: over(heat, load),
            supply_c: mixed(|zone| zone.supply_c),
            return_c: mixed(|zone| zone.return_c),
            room_c: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn standing_water_is_no_return() {
        let zone = |state| ZoneResult {
            flow: 0.0,
            design_flow: 1e-4,
            share: 0.0,
            heat: 0.0,
            heat_share: 0.0,
            supply_c: 45.0,
            return_c: 20.0,
            room_c: None,
            room_miss_k: None,
            state,
        };
        for (state, tells) in [(ZoneState::Shut, false), (ZoneState::Still, false), (ZoneState::Starved, true)] {
            let amounts = Amounts::from(&zone(state));
            assert_eq!((amounts.supply_c.is_finite(), amounts.return_c.is_finite()), (tells, tells));
        }
    }
}
