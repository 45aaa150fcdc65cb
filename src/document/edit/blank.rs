//! A new sheet.

use crate::document::{
    Acceptance, DesignBasis, Duty, EnergyBasis, Limits, Project, Scenario, Site, Starting, Uncertainty,
};
use crate::engine::fluid::Fluid;
use std::collections::BTreeMap;

/// Usual temperatures of heating with a condensing boiler or a heat pump, °C (common practice, no source).
const SUPPLY_C: f64 = 55.0;
const RETURN_C: f64 = 45.0;
const ROOM_C: f64 = 20.0;

impl Project {
    /// An empty sheet: water, usual temperatures for heating, one scenario of all zones open.
    #[must_use]
    pub fn blank() -> Self {
        let open = Scenario::all_open("All zones open");
        Self {
            title: "New system".to_owned(),
            notes: String::new(),
            site: Site::default(),
            design: DesignBasis {
                duty: Duty::Heating,
                supply_c: SUPPLY_C,
                return_c: RETURN_C,
                room_c: ROOM_C,
                outdoor_c: None,
            },
            outdoor_now_c: None,
            fluid: Fluid::water(),
            acceptance: Acceptance::default(),
            limits: Limits::default(),
            energy: EnergyBasis::default(),
            uncertainty: Uncertainty::default(),
            components: BTreeMap::new(),
            pipes: BTreeMap::new(),
            zones: BTreeMap::new(),
            scenarios: vec![open],
            every_combination: false,
            variants: Vec::new(),
            starting: Starting::default(),
        }
    }
}
