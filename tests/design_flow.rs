//! Design flows from heat, Φ/(ρ c_p ΔT), against a computed table (`tests/data/i_flow_from_heat.csv`: water by iapws 1.5.5,
//! IAPWS97 at 3 bar and the stated mean temperature). The old rule 0.86 kW/K stands in the table too, up to 2.2 % off.

mod common;

use common::{check, rows};
use headwise::document::{ComponentId, DesignBasis, Duty, Zone};
use headwise::engine::fluid::Fluid;
use serde::Deserialize;

#[derive(Deserialize)]
struct Row {
    #[serde(rename = "heat_kW")]
    heat_kw: f64,
    #[serde(rename = "dt_K")]
    drop_k: f64,
    #[serde(rename = "t_mean_C")]
    mean_c: f64,
    q_m3_h: f64,
    mass_flow_kg_h: f64,
}

#[test]
fn flow_from_heat() {
    let table: Vec<Row> = rows(include_str!("data/i_flow_from_heat.csv"));
    assert_eq!(table.len(), 6);
    for row in table {
        let sign = if row.mean_c < 20.0 { -1.0 } else { 1.0 };
        let design = DesignBasis {
            duty: if sign > 0.0 { Duty::Heating } else { Duty::Cooling },
            supply_c: row.mean_c + sign * 0.5 * row.drop_k,
            return_c: row.mean_c - sign * 0.5 * row.drop_k,
            room_c: 20.0,
            outdoor_c: None,
        };
        let zone = Zone {
            name: "Zone".to_owned(),
            load: 1e3 * row.heat_kw,
            emitter: ComponentId(1),
            valve: None,
            room_c: None,
            return_c: None,
            gain: 0.0,
        };
        let fluid = design.properties(&Fluid::water()).unwrap();
        let flow = 3600.0 * design.flow(&zone, &fluid);
        let what = format!("{} kW at {} °C", row.heat_kw, row.mean_c);
        check(&what, flow, row.q_m3_h, 1e-5 * row.q_m3_h);
        check(&what, flow * fluid.density_kg_per_m3, row.mass_flow_kg_h, 1e-5 * row.mass_flow_kg_h);
    }
}
