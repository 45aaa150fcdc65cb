//! Writes the benchmark's systems for solvers outside: the figures that every law is made from, in SI units (Kv in m³/h), this
//! solver's answers at two head limits 1 % apart, and its times from the same run. `tests/compare` reads them.

use super::figures::{DENSITY, VISCOSITY};
use super::systems::{self, Kind, System};
use super::{check, measure};
use headwise::engine::network::{Network, PumpLaw, Solver};
use serde_json::{Value, json};
use std::path::Path;
use std::time::Instant;

/// Writes the systems that are named, such as `grid-100`; all if none is.
pub fn all(folder: &Path, names: &[String]) {
    std::fs::create_dir_all(folder).expect("a folder to write to");
    for kind in [Kind::Riser, Kind::Branched, Kind::Grid] {
        for zones in [10, 100, 1_000, 10_000, 50_000] {
            let name = format!("{}-{zones}", kind.name());
            if names.is_empty() || names.contains(&name) {
                let file = folder.join(format!("{name}.json"));
                std::fs::write(file, one(kind, zones).to_string()).expect("a file written");
            }
        }
    }
}

fn one(kind: Kind, zones: usize) -> Value {
    let System { network, figures, .. } = systems::system(kind, zones);
    let (design_flow, design_head) = systems::design(&network);
    let states = [1.0, 1.01].map(|share| {
        let mut network = network.clone();
        network.pumps[0].law = systems::pump(design_flow, design_head, share * design_head);
        network
    });
    let start = Instant::now();
    let mut solver = Solver::new(&states[0]);
    let prepare_s = start.elapsed().as_secs_f64();
    let answers: Vec<Value> = states
        .iter()
        .map(|state| {
            check(&mut solver, state);
            let outcome = solver.outcome();
            json!({"flows_m3_per_s": outcome.flows, "pressures_pa": outcome.pressures_pa,
                "pump_flow_m3_per_s": outcome.pumps[0].flow, "pump_rise_pa": outcome.pumps[0].rise_pa})
        })
        .collect();
    let (cold_s, cold_steps) = least(|turn| {
        solver.start_cold();
        solver.solve(&states[turn % 2]).iterations
    });
    let (warm_s, warm_steps) = least(|turn| solver.solve_settings(&states[turn % 2]).iterations);
    let (kinds, rows): (Vec<_>, Vec<_>) = figures.iter().map(|figures| figures.row()).unzip();
    json!({
        "name": kind.name(), "zones": zones, "nodes": network.nodes,
        "density_kg_per_m3": DENSITY, "viscosity_pa_s": VISCOSITY,
        "from": network.links.iter().map(|link| link.from).collect::<Vec<_>>(),
        "to": network.links.iter().map(|link| link.to).collect::<Vec<_>>(),
        "kind": kinds, "figures": rows, "pump": pump(&states), "answers": answers,
        "times": {"prepare_s": prepare_s, "cold_s": cold_s, "cold_steps": cold_steps, "warm_s": warm_s,
            "warm_steps": warm_steps},
    })
}

/// The least of three medians, lest another program's work counts.
fn least(mut turn: impl FnMut(usize) -> u32) -> (f64, u32) {
    let all: [(f64, u32); 3] = std::array::from_fn(|_| measure(&mut turn));
    all.into_iter().fold((f64::INFINITY, 0), |(time, most), (seconds, steps)| (time.min(seconds), most.max(steps)))
}

/// The pump's catalogue points and settings, with the head limit of each state.
fn pump(states: &[Network]) -> Value {
    let laws = states.iter().map(|state| {
        let PumpLaw::Regulated(law) = &state.pumps[0].law else { unreachable!("a regulated pump") };
        law
    });
    let limits: Vec<Option<f64>> = laws.clone().map(|law| law.settings().head_limit_m).collect();
    let (pump, law) = (&states[0].pumps[0], laws.clone().next().expect("a state"));
    let settings = law.settings();
    json!({"suction": pump.suction, "discharge": pump.discharge, "points_m3_per_s_m": law.curve().points(),
        "head_limits_m": limits, "slope": settings.slope, "speed_cap": settings.speed_cap,
        "minimum_speed": settings.minimum_speed})
}
