//! Authority: how much of the pressure across its branch a valve that regulates takes itself.
//!
//! ```text
//! authority = Δp_v/(Δp_v + Δp_rest)
//! ```
//!
//! `Δp_v` pressure drop of the valve at design flow, a control valve fully open, a thermostatic valve at its nominal Kv, about
//! which it moves; `Δp_rest` that of all else in a row with it at the same flow, from one branching to the next, Pa. The sum is
//! what stands across the shut valve while the mains' pressures stay (common practice: 0.3 to 0.5 or more). Where pressures at
//! the branching rise as valves shut, authority is lower still.
//!
//! A valve in no zone's branch has no design flow here and is passed over, and so is one beside a pressure-independent valve,
//! which keeps the flow itself. Valves of two positions regulate nothing.

use super::Sight;
use crate::document::{Component, ComponentId, ComponentKind};
use crate::engine::links::{LinkLaw, Valve};
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::laws::{self, Water};
use crate::study::lower::LinkOwner;

/// Figures of a valve in its branch.
struct Branch {
    /// Design flow, m³/s.
    flow: f64,
    /// Drop of the valve, Pa.
    valve: f64,
    /// Drop of all else, Pa.
    rest: f64,
}

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let lowered = sight.study.lowered();
    let mut rows: Option<Rows> = None;
    for (index, owner) in lowered.owners.iter().enumerate() {
        let LinkOwner::Component(id) = owner else { continue };
        let kv = match sight.project.components.get(id).map(|c| &c.kind) {
            Some(ComponentKind::ControlValve { kvs, .. }) => *kvs,
            Some(ComponentKind::ThermostaticValve { kv, .. }) => *kv,
            _ => continue,
        };
        let rows = rows.get_or_insert_with(|| Rows::new(sight));
        if let Some(branch) = rows.branch(sight, index, kv) {
            found.extend(judged(sight, *id, kv, &branch));
        }
    }
}

/// What a valve that regulates takes at its design flow and what all else in its branch takes, Pa; `None` where it has none.
pub(super) fn drops(sight: &Sight<'_>, id: ComponentId) -> Option<[f64; 2]> {
    let index = sight.study.lowered().owners.iter().position(|owner| *owner == LinkOwner::Component(id))?;
    let kv = match sight.project.components.get(&id).map(|component| &component.kind)? {
        ComponentKind::ControlValve { kvs, .. } => *kvs,
        ComponentKind::ThermostaticValve { kv, .. } => *kv,
        _ => return None,
    };
    let branch = Rows::new(sight).branch(sight, index, kv)?;
    Some([branch.valve, branch.rest])
}

fn judged(sight: &Sight<'_>, id: ComponentId, kv: f64, branch: &Branch) -> Option<Check> {
    let least = sight.project.limits.authority;
    let whole = branch.valve + branch.rest;
    let authority = branch.valve / whole;
    if !authority.is_finite() || authority >= least {
        return None;
    }
    // The drop goes with 1/Kv²; with the rest as it is, a valve of this Kv has just the least authority.
    let wanted = kv * (branch.valve * (1.0 - least) / (branch.rest * least)).sqrt();
    let pressure = |pascals| sight.says(Quantity::Pressure, pascals);
    let share = |share| sight.says(Quantity::Share, share);
    Some(sight.component(Severity::Warning, id, "Authority too low").says(
        format!(
            "At its design flow, {}, it takes {} of the {} across its branch: an authority of {}, less than {}.",
            sight.says(Quantity::Flow, branch.flow),
            pressure(branch.valve),
            pressure(whole),
            share(authority),
            share(least)
        ),
        "Most of its travel changes little, and near shut it hunts.",
        format!(
            "Choose a valve of {} at most, for which the pump must give the pressure, or take loss out of the branch.",
            sight.says(Quantity::FlowCoefficient, wanted)
        ),
    ))
}

/// What meets at each node.
struct Rows {
    /// Links at each node.
    links: Vec<Vec<usize>>,
    /// Whether a pump meets the node.
    has_pump: Vec<bool>,
}

impl Rows {
    fn new(sight: &Sight<'_>) -> Self {
        let network = &sight.study.lowered().network;
        let mut rows = Self { links: vec![Vec::new(); network.nodes], has_pump: vec![false; network.nodes] };
        for (index, link) in network.links.iter().enumerate() {
            rows.links[link.from].push(index);
            rows.links[link.to].push(index);
        }
        for pump in &network.pumps {
            rows.has_pump[pump.suction] = true;
            rows.has_pump[pump.discharge] = true;
        }
        rows
    }

    /// All links in a row with one, without it: outwards from both its ends until something branches off or a pump is met.
    fn in_a_row(&self, sight: &Sight<'_>, start: usize) -> Vec<usize> {
        let network = &sight.study.lowered().network;
        let mut row = Vec::new();
        let Some(link) = network.links.get(start) else { return row };
        for mut node in [link.from, link.to] {
            let mut by = start;
            while let (&[a, b], false) = (self.links[node].as_slice(), self.has_pump[node]) {
                let next = if a == by { b } else { a };
                // A ring comes round to where it began, and its other half is walked already.
                if next == start {
                    return row;
                }
                if next == by {
                    break;
                }
                row.push(next);
                let link = &network.links[next];
                (node, by) = (if link.from == node { link.to } else { link.from }, next);
            }
        }
        row
    }

    fn branch(&self, sight: &Sight<'_>, index: usize, kv: f64) -> Option<Branch> {
        let lowered = sight.study.lowered();
        let row = self.in_a_row(sight, index);
        let component = |link: &usize| match lowered.owners.get(*link)? {
            LinkOwner::Component(id) => Some((*id, sight.project.components.get(id)?)),
            LinkOwner::Pipe(_) | LinkOwner::Bypass(_) => None,
        };
        let zone = row.iter().filter_map(component).find_map(|(id, _)| lowered.zone_of.get(&id))?;
        let flow = sight.project.design.flow(sight.project.zones.get(zone)?, &lowered.fluid);
        let mut rest = 0.0;
        for link in &row {
            let law = match component(link) {
                Some((_, Component { kind: ComponentKind::PressureIndependentValve { .. }, .. })) => return None,
                Some((id, component)) => open_law(sight, id, component, *link),
                None => None,
            };
            let law = law.as_ref().unwrap_or(&lowered.network.links.get(*link)?.law);
            rest += law.drop(flow, &mut 0.0).pressure_pa;
        }
        let valve = Valve::new(kv, lowered.fluid_of(index).density_kg_per_m3).drop(flow).pressure_pa;
        Some(Branch { flow, valve, rest })
    }
}

/// The law of a valve in the row as it is at design: open, a control valve fully, a thermostatic valve at its nominal Kv.
fn open_law(sight: &Sight<'_>, id: ComponentId, component: &Component, link: usize) -> Option<LinkLaw> {
    let lowered = sight.study.lowered();
    let mut kind = component.kind.clone();
    match &mut kind {
        ComponentKind::ZoneValve { open, .. } | ComponentKind::IsolationValve { open, .. } => *open = true,
        ComponentKind::ControlValve { position, shut, .. } => (*position, *shut) = (1.0, false),
        ComponentKind::ThermostaticValve { .. } => {}
        _ => return None,
    }
    let open = Component { kind, ..component.clone() };
    let water = Water { here: lowered.fluid_of(link), design: &lowered.fluid };
    laws::of_component(sight.project, lowered.zone_of.get(&id).copied(), &open, &water)
}
