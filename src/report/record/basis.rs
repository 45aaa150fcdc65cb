//! The head of a record: the system in a few lines, and what its flows are meant for.

use super::super::amounts::Amounts;
use super::sheet::Fact;
use super::solved::Solved;
use crate::document::{ComponentKind, Duty, Project, Source};
use crate::engine::units::{Quantity, Units};
use crate::study::{least_served_zone, share_as_set, share_beside_state, sizing};

/// The system in a few lines.
pub(super) fn summary(solved: &Solved, units: &Units) -> Vec<Fact> {
    let Solved { project, study, .. } = solved;
    let format = |quantity, value| units.format(quantity, value);
    let all = Amounts::of_all(project, solved.results());
    let load: f64 = project.zones.values().map(|zone| zone.load).sum();
    let (duty, heat) = match project.design.duty {
        Duty::Heating => ("Heating", "heat load"),
        Duty::Cooling => ("Cooling", "cooling load"),
    };
    let zones = counted(project.zones.len(), "zone");
    let mut facts = vec![
        Fact::new("System", format!("{duty}, {zones}, {heat} {}", format(Quantity::Heat, load))),
        Fact::new("Design flow", format(Quantity::Flow, all.design_flow)),
    ];
    // Without a design flow there is nothing to be a share of.
    if solved.pump.is_some() && all.design_flow > 0.0 {
        let [flow, share] = [format(Quantity::Flow, all.flow), format(Quantity::Share, all.share)];
        let heat = format(Quantity::Share, all.heat_share);
        facts.push(Fact::new(
            "Predicted",
            format!("{flow}, {share} of design, and {heat} of the load with all zones open"),
        ));
    }
    if let Ok(balance) = sizing::balance(project) {
        let head = format(Quantity::Head, balance.head_m);
        let index = solved.zone(balance.index);
        facts.push(Fact::new("Index circuit", format!("{index}: needs {head} at design flow, the most of all zones")));
    } else if let Some(zone) = least_served_zone(study) {
        // Where no path can be weighed, as with several circulators, the worst served zone is no index circuit.
        let result = solved.results().zones.get(&zone);
        let share = result.map(|zone| share_beside_state(zone.share, Some(zone.state), &project.acceptance, units));
        let words = format!("{}, with {}", solved.zone(zone), share.unwrap_or_default());
        facts.push(Fact::new("Least share of design flow", words));
    }
    facts.extend(sources(solved, units));
    facts.extend(vessels(project, units));
    facts
}

/// Each source with what it gives and needs.
fn sources(solved: &Solved, units: &Units) -> Vec<Fact> {
    let mut facts = Vec::new();
    for (id, component) in &solved.project.components {
        let ComponentKind::Source(Source { minimum_flow, supply_c, .. }) = &component.kind else { continue };
        let mut parts = Vec::new();
        if let Some(result) = solved.results().sources.get(id) {
            parts.push(format!("{} through it", units.format(Quantity::Flow, result.flow)));
        }
        if *minimum_flow > 0.0 {
            parts.push(format!("needs at least {}", units.format(Quantity::Flow, *minimum_flow)));
        }
        if let Some(supply_c) = supply_c {
            parts.push(format!("brings water to {}", units.format(Quantity::Temperature, *supply_c)));
        }
        facts.push(Fact::new(&component.name, if parts.is_empty() { "–".to_owned() } else { parts.join(", ") }));
    }
    facts
}

/// Each expansion vessel with its cold pressure.
fn vessels(project: &Project, units: &Units) -> Vec<Fact> {
    let fact = |component: &crate::document::Component| match component.kind {
        ComponentKind::ExpansionVessel { pressure } => Some(Fact::new(
            &component.name,
            match pressure {
                Some(pressure) => format!("{} cold, above the air around", units.format(Quantity::Pressure, pressure)),
                None => "cold pressure not given".to_owned(),
            },
        )),
        _ => None,
    };
    project.components.values().filter_map(fact).collect()
}

/// What the flows are meant for.
pub(super) fn basis(solved: &Solved, units: &Units) -> Vec<Fact> {
    let project = &solved.project;
    let format = |quantity, value| units.format(quantity, value);
    let design = &project.design;
    let temperature = |celsius| format(Quantity::Temperature, celsius);
    let outdoor = design.outdoor_c.map_or_else(String::new, |c| format!(", outdoors {}", temperature(c)));
    let fluid = &solved.study.lowered().fluid;
    let mut water = format!(
        "{}; {} and {} at {}",
        project.fluid,
        format(Quantity::Density, fluid.density_kg_per_m3),
        format(Quantity::Viscosity, fluid.dynamic_viscosity_pa_s),
        temperature(design.mean_c())
    );
    if !project.fluid.is_water() {
        water += &format!("; freezes at {}", temperature(project.fluid.freezing_point_c()));
    }
    let [low, high] = [project.acceptance.low, project.acceptance.high].map(|share| share_as_set(share, units));
    let limits = &project.limits;
    let band =
        |quantity, [least, most]: [f64; 2]| format!("{}–{}", units.number(quantity, least), format(quantity, most));
    vec![
        Fact::new(
            "Temperatures",
            format!(
                "supply {}, return {}, room {}{outdoor}",
                temperature(design.supply_c),
                temperature(design.return_c),
                temperature(design.room_c)
            ),
        ),
        Fact::new("Fluid", water),
        Fact::new("Tolerance", format!("{low} to {high} of design flow; {}", sourced(&project.acceptance.source))),
        Fact::new(
            "Limits",
            format!(
                "friction {}, velocity {}, authority at least {}, drop over valves at most {}; {}",
                band(Quantity::FrictionGradient, limits.friction),
                band(Quantity::Velocity, limits.velocity),
                share_as_set(limits.authority, units),
                format(Quantity::Pressure, limits.valve_drop),
                sourced(&limits.source)
            ),
        ),
    ]
}

/// "1 zone", "4 zones".
pub(super) fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// A source, or that none is given.
pub(super) fn sourced(source: &str) -> String {
    match source.trim() {
        "" => "no source given".to_owned(),
        source => source.to_owned(),
    }
}
