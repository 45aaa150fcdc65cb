//! Thermostatic valves: against a table made by other means (`data/thermostatic.csv`, whose head gives its formulas: nested
//! bisection with 30 digits, none of the program's rearrangements), against identities, and in networks.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

mod common;
mod networks {
    pub mod generate;
}

use common::{check, rows};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::emitter::{
    CoilArrangement, DesignFlaw, EmitterDesign, EmitterLaw, HeatedRoom, RoomBalance, RoomFlaw, state_in_room,
};
use headwise::engine::links::{
    FlowRange, LinkLaw, Pipe, Thermostat, ThermostatFlaw, ThermostaticValve, Valve, kv_pressure_drop_pa,
};
use headwise::engine::network::{Link, Network, PumpLaw, PumpLink, Solver, Verdict};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};
use networks::generate::{Random, Recipe, network};
use serde::Deserialize;

const DENSITY: f64 = 983.2;
const DESIGN_FLOW: f64 = 4e-5;
const RADIATOR: EmitterLaw = EmitterLaw::Radiator { exponent: 1.3 };
const DESIGN: EmitterDesign =
    EmitterDesign { supply_c: 75.0, return_c: 65.0, room_c: 20.0, air_outlet_c: None, heat_w: 1636.0 };
const THERMOSTAT: Thermostat = Thermostat { kv_nominal_m3_per_h: 0.5, kvs_m3_per_h: 0.9, set_c: 20.0, band_k: 2.0 };

/// Designed for −12 °C.
fn room(law: EmitterLaw, design: EmitterDesign, outdoor_c: f64, gain_w: f64, supply_c: f64) -> HeatedRoom {
    let balance = RoomBalance::of_design(&design, -12.0, outdoor_c, gain_w);
    HeatedRoom::new(law, &design, DESIGN_FLOW, balance, supply_c).unwrap()
}

fn radiator_valve(thermostat: Thermostat, outdoor_c: f64, supply_c: f64) -> ThermostaticValve {
    ThermostaticValve::new(thermostat, room(RADIATOR, DESIGN, outdoor_c, 0.0, supply_c), DENSITY).unwrap()
}

/// Every kind of emitter at conditions that let the valve throttle, heating and cooling.
fn samples() -> Vec<(EmitterLaw, EmitterDesign, RoomBalance, ThermostaticValve)> {
    let mut samples = Vec::new();
    let coil = |arrangement, water_film_share| EmitterLaw::Coil { arrangement, water_film_share };
    let warm = |air_outlet_c| EmitterDesign { supply_c: 60.0, return_c: 45.0, air_outlet_c, ..DESIGN };
    let cold = EmitterDesign { supply_c: 7.0, return_c: 12.0, room_c: 26.0, air_outlet_c: Some(15.0), heat_w: 900.0 };
    for (law, design) in [
        (RADIATOR, DESIGN),
        (EmitterLaw::Radiator { exponent: 0.6 }, DESIGN),
        (EmitterLaw::Radiator { exponent: 1.9 }, warm(None)),
        (EmitterLaw::FloorLoop { exponent: 1.0 }, EmitterDesign { supply_c: 35.0, return_c: 28.0, ..DESIGN }),
        (EmitterLaw::FloorLoop { exponent: 1.1 }, EmitterDesign { supply_c: 16.0, return_c: 19.0, ..cold }),
        (coil(CoilArrangement::Counterflow, 0.3), warm(Some(35.0))),
        (coil(CoilArrangement::Counterflow, 1.0), warm(Some(50.0))),
        (coil(CoilArrangement::CrossflowUnmixed, 0.0), warm(Some(33.0))),
        (coil(CoilArrangement::CrossflowUnmixed, 0.4), cold),
        (EmitterLaw::ConstantDrop, DESIGN),
    ] {
        let heats = design.supply_c > design.room_c;
        let (design_outdoor_c, outdoor_c) = if heats { (-12.0, 3.0) } else { (35.0, 30.0) };
        let balance = RoomBalance::of_design(&design, design_outdoor_c, outdoor_c, 80.0);
        let room = HeatedRoom::new(law, &design, DESIGN_FLOW, balance, design.supply_c).unwrap();
        let thermostat = Thermostat { set_c: design.room_c, ..THERMOSTAT };
        samples.push((law, design, balance, ThermostaticValve::new(thermostat, room, DENSITY).unwrap()));
    }
    samples
}

/// Flows up to just short of the end, evenly spread over orders of magnitude and then near the end.
fn flows(valve: &ThermostaticValve) -> Vec<f64> {
    let end = valve.range().high.min(10.0 * valve.nominal_flow());
    let far = (0..160).map(|i| end * 10f64.powf(-8.0 + f64::from(i) / 20.0));
    far.chain((1..100).map(|i| end * (1.0 - 10f64.powf(-f64::from(i) / 25.0)))).collect()
}

#[derive(Deserialize)]
struct Row {
    kind: String,
    parameter: f64,
    film: f64,
    air_c: f64,
    supply_design_c: f64,
    return_design_c: f64,
    room_design_c: f64,
    outdoor_design_c: f64,
    outdoor_c: f64,
    gain_share: f64,
    supply_c: f64,
    kv_nominal: f64,
    kvs: f64,
    set_c: f64,
    band_k: f64,
    flow_share: f64,
    room_c: f64,
    kv: f64,
    drop_pa: f64,
}

#[test]
fn table_of_room_temperature_and_drop() {
    let mut throttling = 0;
    for row in rows::<Row>(include_str!("data/thermostatic.csv")) {
        let law = match row.kind.as_str() {
            "surface" => EmitterLaw::Radiator { exponent: row.parameter },
            "counter" => EmitterLaw::Coil { arrangement: CoilArrangement::Counterflow, water_film_share: row.film },
            _ => EmitterLaw::Coil { arrangement: CoilArrangement::CrossflowUnmixed, water_film_share: row.film },
        };
        let design = EmitterDesign {
            supply_c: row.supply_design_c,
            return_c: row.return_design_c,
            room_c: row.room_design_c,
            air_outlet_c: Some(row.air_c).filter(|air| *air > 0.0),
            heat_w: 1000.0,
        };
        let balance = RoomBalance::of_design(&design, row.outdoor_design_c, row.outdoor_c, 1000.0 * row.gain_share);
        let room = HeatedRoom::new(law, &design, DESIGN_FLOW, balance, row.supply_c).unwrap();
        let thermostat = Thermostat {
            kv_nominal_m3_per_h: row.kv_nominal,
            kvs_m3_per_h: row.kvs,
            set_c: row.set_c,
            band_k: row.band_k,
        };
        let valve = ThermostaticValve::new(thermostat, room, DENSITY).unwrap();
        let flow = row.flow_share * DESIGN_FLOW;
        let what = format!("{} {} at {}", row.kind, row.parameter, row.flow_share);
        check(format!("room, {what}"), valve.room_c(flow), row.room_c, 1e-12 * row.room_c.abs().max(1.0));
        check(format!("Kv, {what}"), valve.kv(flow), row.kv, 1e-12);
        check(format!("drop, {what}"), valve.drop(flow).pressure_pa, row.drop_pa, 1e-11 * row.drop_pa);
        throttling += usize::from(row.kv < row.kvs);
    }
    assert!(throttling > 30, "only {throttling} rows throttle");
}

#[test]
fn the_room_balances_with_what_its_emitter_gives() {
    for (law, design, balance, valve) in samples() {
        for flow in flows(&valve) {
            let room_c = valve.room_c(flow);
            let given = state_in_room(law, design, flow / DESIGN_FLOW, design.supply_c, room_c);
            let heat_w = given.heat_share * design.heat_w * (design.supply_c - design.room_c).signum();
            let lost_w = balance.loss_w_per_k * (room_c - balance.outdoor_c) - balance.gain_w;
            check(format!("{law:?} at {flow:e}"), lost_w, heat_w, 1e-10 * design.heat_w);
            let same = valve.room().emitter(flow);
            check("heat share", same.heat_share, given.heat_share, 1e-12);
            check("return", same.return_c, given.return_c, 1e-6);
        }
    }
}

#[test]
fn the_law_rises_at_least_as_the_square_and_is_odd() {
    for (law, .., valve) in samples() {
        let range = valve.range();
        assert_eq!(range.low, -range.high);
        let mut flows = flows(&valve);
        flows.sort_by(f64::total_cmp);
        for pair in flows.windows(2).filter(|pair| pair[1] > pair[0] * (1.0 + 1e-9)) {
            let [before, after] = [0, 1].map(|i| valve.drop(pair[i]).pressure_pa);
            let square = (pair[1] / pair[0]).powi(2);
            assert!(after >= before * square * (1.0 - 1e-12), "{law:?} at {:e}", pair[0]);
            let back = valve.drop(-pair[0]);
            assert!(back.pressure_pa == -before && back.slope == valve.drop(pair[0]).slope);
            assert!(valve.kv(pair[1]) <= valve.kv(pair[0]));
        }
        assert_eq!(valve.drop(0.0).pressure_pa, 0.0);
        if range.high.is_finite() {
            check("the end", valve.drop(range.high).pressure_pa, 4e5, 1e-4);
            assert!(valve.drop(1.1 * range.high).pressure_pa > 4e5 && valve.drop(f64::MAX).slope.is_finite());
        }
        let nominal = valve.nominal_flow();
        let is_at_half = (valve.kv(nominal) - 0.5 * valve.kv(0.0)).abs() < 1e-9;
        assert!((valve.drop(nominal).pressure_pa - 1e4).abs() < 1e-6 || is_at_half, "{law:?}");
    }
}

#[test]
fn the_slope_is_that_of_the_drop() {
    let mut compared = 0;
    for (law, .., valve) in samples() {
        for flow in flows(&valve) {
            let here = valve.drop(flow);
            let step = 1e-4 * here.pressure_pa / here.slope;
            let [low, high] = [flow - step, flow + step].map(|q| valve.drop(q));
            let between = (high.pressure_pa - low.pressure_pa) / ((flow + step) - (flow - step));
            // Where a valve begins to throttle, or a coil's capacities change sides, the law has a kink.
            if (low.slope / high.slope - 1.0).abs() > 0.01 {
                continue;
            }
            compared += 1;
            check(format!("{law:?} at {flow:e}"), between / here.slope, 1.0, 1e-6);
        }
    }
    assert!(compared > 2000, "only {compared} compared");
}

#[test]
fn at_the_set_temperature_kv_is_nominal_and_a_band_beyond_it_is_shut() {
    // At design conditions the radiator holds 20 °C at design flow: that is what it was chosen for.
    let valve = radiator_valve(THERMOSTAT, -12.0, 75.0);
    check("room", valve.room_c(DESIGN_FLOW), 20.0, 1e-11);
    check("Kv", valve.kv(DESIGN_FLOW), 0.5, 1e-11);
    let expected = kv_pressure_drop_pa(0.5, DESIGN_FLOW, DENSITY);
    check("drop", valve.drop(DESIGN_FLOW).pressure_pa, expected, 1e-10 * expected);
    let shut = Thermostat { set_c: 18.0, ..THERMOSTAT };
    check("Kv", radiator_valve(shut, -12.0, 75.0).kv(DESIGN_FLOW), 0.0, 1e-10);
    assert!(radiator_valve(shut, -12.0, 75.0).range().high < DESIGN_FLOW);
}

#[test]
fn a_room_that_never_gets_warm_has_a_plain_valve() {
    // Supply far too cold; supply colder than the room without heat is another such case, at a part of Kvs.
    for valve in [radiator_valve(THERMOSTAT, -12.0, 40.0), radiator_valve(THERMOSTAT, -12.0, -20.0)] {
        let plain = Valve::new(0.9, DENSITY);
        assert_eq!(valve.range(), FlowRange::ANY);
        for share in [-3.0, -0.1, 0.0, 1e-9, 0.4, 1.0, 7.0] {
            let (found, expected) = (valve.drop(share * DESIGN_FLOW), plain.drop(share * DESIGN_FLOW));
            check("drop", found.pressure_pa, expected.pressure_pa, 1e-14 * expected.pressure_pa.abs());
            check("slope", found.slope, expected.slope, 1e-14 * expected.slope);
        }
        check("ordinary", valve.nominal_flow(), plain.nominal_flow(), 1e-14 * plain.nominal_flow());
    }
    // 21 °C without heat and a supply at 15 °C: neither flow nor emitter matters, Kv is half the nominal one.
    let half = radiator_valve(THERMOSTAT, 21.0, 15.0);
    for share in [1e-6, 0.5, 2.0] {
        let expected = kv_pressure_drop_pa(0.25, share * DESIGN_FLOW, DENSITY);
        check("drop", half.drop(share * DESIGN_FLOW).pressure_pa, expected, 1e-12 * expected);
    }
}

#[test]
fn a_room_too_warm_without_flow_shuts_its_valve() {
    for outdoor_c in [22.0, 30.0] {
        let valve = radiator_valve(THERMOSTAT, outdoor_c, 75.0);
        assert_eq!(valve.range(), FlowRange::NONE);
        assert!(valve.range().is_shut() && valve.kv(0.0) == 0.0 && valve.room_c(0.0) == outdoor_c);
    }
    // Gains do the same: 1636 W over 32 K are 51.1 W/K, and 600 W on 11 °C make 22.7 °C.
    let sunny = room(RADIATOR, DESIGN, 11.0, 600.0, 60.0);
    check("unheated", sunny.unheated_c(), 11.0 + 600.0 * 32.0 / 1636.0, 1e-12);
    assert!(ThermostaticValve::new(THERMOSTAT, sunny, DENSITY).unwrap().range().is_shut());
    // A little colder it opens a little.
    let narrow = radiator_valve(THERMOSTAT, 21.99, 75.0).range();
    assert!(narrow.high > 0.0 && narrow.high < 1e-3 * DESIGN_FLOW, "{narrow:?}");
}

#[test]
fn what_cannot_be_is_refused() {
    let good = room(RADIATOR, DESIGN, 0.0, 0.0, 70.0);
    let valve = |thermostat, density| ThermostaticValve::new(thermostat, good, density).err();
    for kv_nominal_m3_per_h in [0.0, -1.0, 1.0, f64::NAN] {
        let bad = Thermostat { kv_nominal_m3_per_h, ..THERMOSTAT };
        assert_eq!(valve(bad, DENSITY), Some(ThermostatFlaw::Kv));
    }
    assert_eq!(valve(Thermostat { band_k: 0.0, ..THERMOSTAT }, DENSITY), Some(ThermostatFlaw::Set));
    assert_eq!(valve(Thermostat { set_c: f64::NAN, ..THERMOSTAT }, DENSITY), Some(ThermostatFlaw::Set));
    assert_eq!(valve(THERMOSTAT, 0.0), Some(ThermostatFlaw::Density));
    let heated = |design: EmitterDesign, outdoor_c, supply_c| {
        let balance = RoomBalance::of_design(&design, outdoor_c, 0.0, 0.0);
        HeatedRoom::new(RADIATOR, &design, DESIGN_FLOW, balance, supply_c).err()
    };
    assert_eq!(heated(DESIGN, 20.0, 70.0), Some(RoomFlaw::Loss));
    assert_eq!(heated(DESIGN, 30.0, 70.0), Some(RoomFlaw::Loss));
    assert_eq!(heated(DESIGN, -12.0, f64::NAN), Some(RoomFlaw::NotANumber));
    let beyond = EmitterDesign { return_c: 80.0, ..DESIGN };
    assert_eq!(heated(beyond, -12.0, 70.0), Some(RoomFlaw::Emitter(DesignFlaw::Return)));
}

/// Two zones of pipe and thermostatic valve side by side behind a main, on one pump at a held head.
fn two_zones(outdoor_c: f64) -> Network {
    let pipe = |length_m| LinkLaw::Pipe(Pipe::new(length_m, 0.013, 7e-6, 5.0, DENSITY, 4.66e-4));
    let zone =
        |set_c| LinkLaw::Thermostatic(Box::new(radiator_valve(Thermostat { set_c, ..THERMOSTAT }, outdoor_c, 75.0)));
    let links = vec![
        Link { from: 1, to: 2, law: pipe(10.0) },
        Link { from: 2, to: 3, law: pipe(6.0) },
        Link { from: 3, to: 0, law: zone(20.0) },
        Link { from: 2, to: 4, law: pipe(12.0) },
        // Drawn against the flow.
        Link { from: 0, to: 4, law: zone(18.0) },
    ];
    let curve = PumpCurve::fit(&[[0.0, 4.0], [2e-4, 3.0], [4e-4, 1.0]]).unwrap();
    let settings = Regulation {
        head_limit_m: Some(2.0),
        slope: 0.0,
        speed_cap: 1.0,
        minimum_speed: 0.0,
        power_limit_w: None,
        reference: ReferenceFlow::FullSpeed,
    };
    let law = PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).unwrap()));
    let pump = PumpLink { suction: 0, discharge: 1, law, density_kg_per_m3: DENSITY };
    Network { nodes: 5, links, pumps: vec![pump], reference: 0 }
}

#[test]
fn two_zones_find_their_balance_and_milder_weather_takes_less() {
    let mut solver = Solver::new(&two_zones(-12.0));
    let mut last = f64::INFINITY;
    for outdoor_c in [-12.0, -8.0, -3.0, 2.0, 7.0, 12.0, 17.0, 19.9, 23.0] {
        let network = two_zones(outdoor_c);
        let warm = solver.solve(&network).clone();
        let cold = Solver::new(&network).solve(&network).clone();
        for outcome in [&warm, &cold] {
            assert_eq!(outcome.verdict, Verdict::Converged, "at {outdoor_c} °C");
            assert!(outcome.mass_error <= 1e-9 && outcome.energy_error <= 1e-9, "at {outdoor_c} °C");
            assert!(outcome.iterations < 20, "at {outdoor_c} °C: {} steps", outcome.iterations);
        }
        let flow = warm.pumps[0].flow;
        check(format!("warm and cold at {outdoor_c} °C"), flow, cold.pumps[0].flow, 1e-10 * DESIGN_FLOW);
        check("flows add", warm.flows[1] + warm.flows[3], flow, 1e-9 * DESIGN_FLOW);
        assert!(flow < last, "at {outdoor_c} °C: {flow:e} after {last:e}");
        last = flow;
        let head_pa = 2.0 * DENSITY * GRAVITY_M_PER_S2;
        for (first, link, sign) in [(1, 2, 1.0), (3, 4, -1.0)] {
            let (LinkLaw::Thermostatic(valve), q) = (&network.links[link].law, sign * warm.flows[link]) else {
                continue;
            };
            if valve.range().is_shut() {
                continue;
            }
            let around: f64 = [0, first].map(|i| warm.drops_pa[i]).iter().sum::<f64>() + sign * warm.drops_pa[link];
            check("round the zone", around, head_pa, 1e-8 * head_pa);
            // The valve's own drop by its room, not by its law.
            let set_c = if link == 2 { 20.0 } else { 18.0 };
            let kv = (0.25 * (set_c + 2.0 - valve.room_c(q))).min(0.9);
            let expected = kv_pressure_drop_pa(kv, q, DENSITY);
            check(format!("valve at {outdoor_c} °C"), sign * warm.drops_pa[link], expected, 1e-7 * expected);
        }
    }
    assert_eq!(last, 0.0);
}

/// A thermostatic valve of random size, room and weather.
fn random_valve(random: &mut Random) -> LinkLaw {
    let flow = random.log_between(30.0, 600.0) / 3.6e6;
    let kvs = random.log_between(0.2, 3.0);
    let cools = random.chance(0.15);
    let (supply_c, return_c) = if cools { (7.0, 12.0) } else { (75.0, random.between(40.0, 70.0)) };
    let room_c = if cools { 26.0 } else { 20.0 };
    let air_outlet_c = random.chance(0.3).then_some(if cools { 16.0 } else { 38.0 });
    let design = EmitterDesign { supply_c, return_c, room_c, air_outlet_c, heat_w: random.log_between(300.0, 9000.0) };
    let law = match air_outlet_c {
        Some(_) => EmitterLaw::Coil { arrangement: CoilArrangement::CrossflowUnmixed, water_film_share: 0.3 },
        None if random.chance(0.2) => EmitterLaw::ConstantDrop,
        None => EmitterLaw::Radiator { exponent: random.between(1.0, 1.5) },
    };
    let (outdoor_design_c, outdoor_c) =
        if cools { (35.0, random.between(22.0, 36.0)) } else { (-12.0, random.between(-20.0, 24.0)) };
    let balance = RoomBalance::of_design(&design, outdoor_design_c, outdoor_c, random.between(0.0, 200.0));
    let present_c = if cools { random.between(6.0, 12.0) } else { random.between(35.0, 80.0) };
    let room = HeatedRoom::new(law, &design, flow, balance, present_c).unwrap();
    let thermostat = Thermostat {
        kv_nominal_m3_per_h: kvs * random.between(0.3, 1.0),
        kvs_m3_per_h: kvs,
        set_c: room_c + random.between(-4.0, 2.0),
        band_k: random.between(0.5, 3.0),
    };
    LinkLaw::Thermostatic(Box::new(ThermostaticValve::new(thermostat, room, DENSITY).unwrap()))
}

#[test]
fn random_networks_with_thermostatic_valves_are_solved() {
    let recipe = Recipe { zones: 0, one_way: true, rising: true, second_pump: true };
    let mut throttling = 0;
    for seed in 0..400 {
        let recipe = Recipe { zones: 1 + (seed as usize * 7) % 16, one_way: seed % 2 == 0, ..recipe };
        let mut network = network(seed, recipe);
        let mut random = Random::new(seed ^ 0x77aa);
        let mut solver = Solver::new(&network);
        for turn in 0..3 {
            for link in &mut network.links {
                if matches!(link.law, LinkLaw::Valve(_) | LinkLaw::Thermostatic(_)) && random.chance(0.7) {
                    link.law = random_valve(&mut random);
                }
            }
            let what = format!("seed {seed} turn {turn}");
            let warm = solver.solve(&network);
            assert_eq!(warm.verdict, Verdict::Converged, "{what} after {} steps", warm.iterations);
            assert!(warm.mass_error <= 1e-9 && warm.energy_error <= 1e-9, "{what}");
            for (link, &flow) in network.links.iter().zip(&warm.flows) {
                let LinkLaw::Thermostatic(valve) = &link.law else { continue };
                throttling += usize::from(valve.kv(flow) > 0.0 && valve.kv(flow) < 0.99 * valve.kv(0.0));
            }
            if recipe.one_way || network.pumps.len() > 1 {
                continue;
            }
            let cold = Solver::new(&network).solve(&network).clone();
            let PumpLaw::Regulated(pump) = &network.pumps[0].law else { continue };
            // Near standstill a law of the square turns an error of pressure into its root.
            let scale = warm.pumps[0].flow.max(0.1 * pump.curve().run_out_m3_per_s());
            for (link, (a, b)) in warm.flows.iter().zip(&cold.flows).enumerate() {
                check(format!("{what}: warm and cold at link {link}"), *a, *b, 1e-7 * scale);
            }
        }
    }
    assert!(throttling > 500, "only {throttling} valves throttle");
}
