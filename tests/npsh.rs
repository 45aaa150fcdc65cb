//! Net positive suction head against a table computed outside the program (definition, with IAPWS-IF97 water from the
//! library `iapws` 1.5.5), and by what must hold for any inlet.

mod common;

use common::{check, rows};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::engine::pump::{PumpInlet, STANDARD_ATMOSPHERE_PA, boiling_gauge_pressure_pa};
use serde::Deserialize;

#[derive(Deserialize)]
struct Row {
    #[serde(rename = "t_C")]
    temperature_c: f64,
    #[serde(rename = "p_inlet_gauge_kPa")]
    gauge_kpa: f64,
    #[serde(rename = "p_atm_kPa")]
    air_kpa: f64,
    #[serde(rename = "v_inlet_m_s")]
    velocity: f64,
    #[serde(rename = "p_vapour_kPa")]
    vapour_kpa: f64,
    npsh_available_m: f64,
    #[serde(rename = "gauge_for_zero_static_kPa")]
    boiling_kpa: f64,
}

fn inlet(row: &Row) -> PumpInlet {
    PumpInlet {
        gauge_pressure_pa: 1e3 * row.gauge_kpa,
        air_pressure_pa: 1e3 * row.air_kpa,
        velocity_m_per_s: row.velocity,
        temperature_c: row.temperature_c,
    }
}

fn table() -> Vec<Row> {
    let table: Vec<Row> = rows(include_str!("data/g_npsh.csv"));
    assert_eq!(table.len(), 5);
    table
}

/// The table's tolerance is 0.1 % with the same vapour pressure, and this program has the same.
#[test]
fn available_head_is_that_of_the_table() {
    for row in table() {
        let found = inlet(&row).npsh_available_m(&Fluid::water()).unwrap();
        check(format!("{} °C", row.temperature_c), found, row.npsh_available_m, 1e-3 * row.npsh_available_m);
    }
}

/// One column is a small difference of two pressures, so the tolerance is 0.1 % of the vapour pressure.
#[test]
fn boiling_pressure_is_that_of_the_table() {
    for row in table() {
        let found = inlet(&row).boiling_gauge_pressure_pa(&Fluid::water()).unwrap();
        check(format!("{} °C", row.temperature_c), found, 1e3 * row.boiling_kpa, row.vapour_kpa);
    }
}

/// Water boils at 100 °C (99.97 °C, IAPWS) under the standard atmosphere, so that gauge pressure is nearly zero there:
/// 3.6 kPa a kelvin, steam tables, from memory.
#[test]
fn water_boils_at_a_hundred_degrees_at_sea_level() {
    let gauge = boiling_gauge_pressure_pa(&Fluid::water(), 100.0, STANDARD_ATMOSPHERE_PA).unwrap();
    check("gauge pressure", gauge, 0.026 * 3600.0, 30.0);
}

/// At the boiling pressure only the velocity head is left, and each ρ g of pressure adds a metre (definition).
#[test]
fn at_the_boiling_pressure_only_the_velocity_head_is_left() {
    let mixture = Fluid::new(FluidKind::PropyleneGlycol, 0.3).unwrap();
    for fluid in [Fluid::water(), mixture] {
        for (temperature_c, velocity) in [(20.0, 0.0), (80.0, 1.0), (95.0, -2.0)] {
            let gauge = boiling_gauge_pressure_pa(&fluid, temperature_c, 90e3).unwrap();
            let at = PumpInlet {
                gauge_pressure_pa: gauge,
                air_pressure_pa: 90e3,
                velocity_m_per_s: velocity,
                temperature_c,
            };
            let expected = velocity * velocity / (2.0 * 9.80665);
            check("velocity head", at.npsh_available_m(&fluid).unwrap(), expected, 1e-12);
            let density = fluid.properties(temperature_c).unwrap().density_kg_per_m3;
            let above = PumpInlet { gauge_pressure_pa: gauge + 3.0 * density * GRAVITY_M_PER_S2, ..at };
            check("three metres more", above.npsh_available_m(&fluid).unwrap(), expected + 3.0, 1e-12);
            let below = PumpInlet { gauge_pressure_pa: gauge - 1e3, velocity_m_per_s: 0.0, ..at };
            assert!(below.npsh_available_m(&fluid).unwrap() < 0.0);
        }
    }
}

#[test]
fn glycol_boils_later_than_water_and_a_temperature_without_properties_is_an_error() {
    let mixture = Fluid::new(FluidKind::EthyleneGlycol, 0.4).unwrap();
    let boiling = |fluid: &Fluid| boiling_gauge_pressure_pa(fluid, 90.0, STANDARD_ATMOSPHERE_PA).unwrap();
    assert!(boiling(&mixture) < boiling(&Fluid::water()));
    assert!(boiling_gauge_pressure_pa(&Fluid::water(), 130.0, STANDARD_ATMOSPHERE_PA).is_err());
    let hot = PumpInlet {
        gauge_pressure_pa: 0.0,
        air_pressure_pa: STANDARD_ATMOSPHERE_PA,
        velocity_m_per_s: 0.0,
        temperature_c: 130.0,
    };
    assert!(hot.npsh_available_m(&Fluid::water()).is_err());
}
