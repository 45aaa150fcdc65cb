//! Large buildings: copies of one circuit, each with its own plant.

use headwise::document::{Component, ComponentId, PipeId, PipeRun, PortRef, Project, Zone, ZoneId};

/// Copies of a circuit in one building.
pub fn copies(circuit: &Project, count: usize) -> Project {
    let mut building = circuit.clone();
    let next = |greatest: Option<u32>| greatest.unwrap_or(0) + 1;
    let components = next(circuit.components.keys().map(|id| id.0).max());
    let pipes = next(circuit.pipes.keys().map(|id| id.0).max());
    let zones = next(circuit.zones.keys().map(|id| id.0).max());
    for copy in 1..count as u32 {
        let moved = |id: ComponentId| ComponentId(id.0 + copy * components);
        for (id, component) in &circuit.components {
            let name = format!("{} {copy}", component.name);
            building.components.insert(moved(*id), Component { name, ..component.clone() });
        }
        for (id, pipe) in &circuit.pipes {
            let end = |port: PortRef| PortRef { component: moved(port.component), ..port };
            let (from, to) = (end(pipe.from), end(pipe.to));
            let name = if pipe.name.is_empty() { String::new() } else { format!("{} {copy}", pipe.name) };
            building.pipes.insert(PipeId(id.0 + copy * pipes), PipeRun { name, from, to, ..pipe.clone() });
        }
        for (id, zone) in &circuit.zones {
            let name = format!("{} {copy}", zone.name);
            let (emitter, valve) = (moved(zone.emitter), zone.valve.map(moved));
            building.zones.insert(ZoneId(id.0 + copy * zones), Zone { name, emitter, valve, ..zone.clone() });
        }
    }
    building
}
