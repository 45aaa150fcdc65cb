//! The two sample buildings as lists of zones.

use headwise::document::{Arrangement, DesignBasis, Duty, PlannedRun, SystemPlan};
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::file::table;

/// The library, its bores as worked out by hand or left open.
pub fn library(arrangement: Arrangement, with_bores: bool) -> SystemPlan {
    let zones = table::read_zones(include_str!("../data/tables/fernhollow-library.csv"), "library").unwrap();
    let design = DesignBasis { duty: Duty::Heating, supply_c: 45.0, return_c: 38.0, room_c: 20.0, outdoor_c: None };
    let common = PlannedRun { length: 4.0, minor_k: 6.0, bore: Some(0.0326) };
    plan(
        SystemPlan {
            title: "Fernhollow Library".to_owned(),
            notes: String::new(),
            design,
            fluid: Fluid::water(),
            arrangement,
            zones,
            pump: None,
            common,
            source_loss: 0.0,
            source_minimum_flow: 0.6 / 3600.0,
            strainer_kv: Some(12.0),
            roughness: 1.5e-6,
        },
        with_bores,
    )
}

/// The greenhouse, its bores as worked out by hand or left open.
pub fn greenhouse(arrangement: Arrangement, with_bores: bool) -> SystemPlan {
    let zones = table::read_zones(include_str!("../data/tables/saltreed-growers.csv"), "greenhouse").unwrap();
    let design = DesignBasis { duty: Duty::Heating, supply_c: 60.0, return_c: 45.0, room_c: 18.0, outdoor_c: None };
    let common = PlannedRun { length: 5.0, minor_k: 7.0, bore: Some(0.0531) };
    plan(
        SystemPlan {
            title: "Saltreed Growers".to_owned(),
            fluid: Fluid::new(FluidKind::PropyleneGlycol, 0.3).unwrap(),
            design,
            zones,
            common,
            strainer_kv: Some(25.0),
            roughness: 45e-6,
            ..library(arrangement, with_bores)
        },
        with_bores,
    )
}

fn plan(mut plan: SystemPlan, with_bores: bool) -> SystemPlan {
    if !with_bores {
        let mains = plan.zones.iter_mut().filter_map(|zone| zone.main.as_mut());
        mains.for_each(|run| run.bore = None);
        plan.zones.iter_mut().for_each(|zone| zone.branch.bore = None);
        plan.common.bore = None;
    }
    plan
}
