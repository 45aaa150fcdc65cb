//! Balancing: the head of the index circuit, and how far each balancing valve must be throttled so that every zone has its
//! design flow with all zones open at that head.
//!
//! The zone that needs most sets the head; its valves stay fully open. Every other zone has pressure to spare, Δp_max − Δp_i,
//! which its valves take: Kv = Q √(ρ/1000 / Δp_bar). A valve that several zones share takes what all of them can spare, those
//! with most zones first; so the valves of single zones keep as open as they can. That is least throttling at least head, the
//! order of ASHRAE 90.1 §6.7.2.3 (from memory): first throttle least, then slow the circulator.

use super::error::SizingError;
use super::flows::{DesignFlows, design_flows};
use super::needs::{Needs, Throttle};
use crate::document::{Command, ComponentId, ComponentKind, Project, ZoneId};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::links::kv_for;

/// Share of the head below which pressure to spare is rounding.
const ROUNDING: f64 = 1e-9;

/// What a balancing valve is set to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Presetting {
    /// The valve.
    pub valve: ComponentId,
    /// Kv at its presetting, m³/h.
    pub kv: f64,
    /// Design flow through it, m³/s.
    pub flow: f64,
    /// What it takes there, Pa.
    pub drop: f64,
    /// Whether it is fully open.
    pub is_open: bool,
}

/// Figures that a presetting keeps: more than any valve can be set by, so that balance shows.
const KV_FIGURES: i32 = 4;

impl Presetting {
    /// Its Kv as it is written to the valve, m³/h.
    #[must_use]
    pub fn rounded_kv(&self) -> f64 {
        rounded(self.kv, KV_FIGURES)
    }
}

/// A balanced system.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// The zone that sets the head; the first of several that need as much.
    pub index: ZoneId,
    /// Flow of the circulator, m³/s.
    pub flow: f64,
    /// Head that the index circuit needs, m of the system's fluid.
    pub head_m: f64,
    /// Presettings of all balancing valves that carry water, by identity.
    pub presettings: Vec<Presetting>,
    /// Zones with pressure to spare (Pa) that no valve of theirs can take: they get more than their design flow, and the others a
    /// little less. Empty where the system can be balanced.
    pub unbalanced: Vec<(ZoneId, f64)>,
}

impl Balance {
    /// What all balancing valves throttle away at design, W: Σ Q Δp.
    #[must_use]
    pub fn throttled_w(&self) -> f64 {
        self.presettings.iter().map(|set| set.flow * set.drop).sum()
    }

    /// The commands that write the presettings to the valves.
    #[must_use]
    pub fn commands(&self) -> Vec<Command> {
        let write = |set: &Presetting| {
            Command::SetKind(set.valve, Box::new(ComponentKind::BalancingValve { kv: set.rounded_kv() }))
        };
        self.presettings.iter().map(write).collect()
    }
}

/// Balances a drawing: the Kv of each balancing valve, the index zone and its head. Nothing is changed.
///
/// # Errors
/// A drawing whose distribution is not tree-like, or that has none or several running circulators.
pub fn balance(project: &Project) -> Result<Balance, SizingError> {
    of_flows(&design_flows(project)?)
}

/// Balances a drawing whose design flows are known.
pub(super) fn of_flows(design: &DesignFlows) -> Result<Balance, SizingError> {
    let needs = Needs::new(design)?;
    let most = needs.zones.iter().fold(None, |most: Option<(ZoneId, f64)>, (zone, need)| match most {
        Some((_, pressure)) if need.pressure_pa <= pressure * (1.0 + ROUNDING) => most,
        _ => Some((*zone, need.pressure_pa)),
    });
    let Some((index, _)) = most else { return Err(SizingError::NoZone) };
    let pressure_pa = needs.zones.values().map(|need| need.pressure_pa).fold(0.0, f64::max);
    let mut spare: Vec<(ZoneId, f64)> =
        needs.zones.iter().map(|(zone, need)| (*zone, pressure_pa - need.pressure_pa)).collect();
    let mut order: Vec<(&ComponentId, &Throttle)> = needs.valves.iter().collect();
    let serves = |valve: &ComponentId| needs.zones.values().filter(|need| need.valves.contains(valve)).count();
    order.sort_by_key(|(valve, _)| std::cmp::Reverse(serves(valve)));
    let mut presettings = Vec::new();
    for (valve, throttle) in order {
        let behind = |zone: &ZoneId| needs.zones[zone].valves.contains(valve);
        let limited = needs.zones.iter().filter(|(zone, _)| behind(zone)).all(|(_, need)| need.is_limited);
        let least = spare.iter().filter(|(zone, _)| behind(zone)).map(|(_, pa)| *pa).fold(f64::INFINITY, f64::min);
        // Where every zone behind it has a pressure-independent valve of its own, there is nothing to set.
        let takes = if limited || least <= ROUNDING * pressure_pa || !least.is_finite() { 0.0 } else { least };
        spare.iter_mut().filter(|(zone, _)| behind(zone)).for_each(|(_, pa)| *pa -= takes);
        presettings.push(presetting(*valve, throttle, takes));
    }
    presettings.sort_by_key(|set| set.valve);
    spare.retain(|(zone, pa)| *pa > ROUNDING * pressure_pa && !needs.zones[zone].is_limited);
    let density = design.lowered.fluid.density_kg_per_m3;
    let head_m = pressure_pa / (density * GRAVITY_M_PER_S2);
    Ok(Balance { index, flow: design.pump, head_m, presettings, unbalanced: spare })
}

fn presetting(valve: ComponentId, throttle: &Throttle, takes: f64) -> Presetting {
    let drop = throttle.open_pa + takes;
    let is_open = takes == 0.0;
    let kv = if is_open { throttle.open_kv } else { kv_for(throttle.flow, drop, throttle.density) };
    Presetting { valve, kv, flow: throttle.flow, drop, is_open }
}

/// A number above zero with so many figures.
fn rounded(value: f64, figures: i32) -> f64 {
    if !(value > 0.0 && value.is_finite()) {
        return value;
    }
    let scale = 10.0_f64.powi(figures - 1 - value.log10().floor() as i32);
    let shown = (value * scale).round() / scale;
    if shown > 0.0 && shown.is_finite() { shown } else { value }
}

#[cfg(test)]
mod tests {
    use super::rounded;

    #[test]
    fn numbers_keep_their_figures() {
        for (value, expected) in [(0.529_163, 0.5292), (10.236, 10.24), (1.0, 1.0), (99_999.0, 100_000.0)] {
            assert!((rounded(value, 4) / expected - 1.0).abs() < 1e-12, "{value}");
        }
    }
}
