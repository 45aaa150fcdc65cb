//! What the figures mean, in sentences made from the present numbers.

use super::results::{PumpResult, Results};
use super::shares::share_beside_state;
use super::zones::{ZoneResult, ZoneState};
use crate::document::{ComponentId, Project};
use crate::engine::network::Verdict;
use crate::engine::pump::{GoverningLimit, GoverningRange};
use crate::engine::units::{Quantity, SPACE, Units};

/// The name of a limit as it stands in sentences and labels.
#[must_use]
pub fn limit_name(limit: GoverningLimit) -> &'static str {
    match limit {
        GoverningLimit::SetLine => "set-line",
        GoverningLimit::HeadLimit => "head limit",
        GoverningLimit::SpeedCap => "speed cap",
        GoverningLimit::PowerLimit => "power limit",
        GoverningLimit::MinimumSpeed => "minimum speed",
    }
}

/// How many open zones do not get what they should; empty when all do.
#[must_use]
pub fn zones_outside(results: &Results) -> String {
    let open = results.zones.values().filter(|zone| zone.state != ZoneState::Shut).count();
    let count = |wanted: &[ZoneState]| results.zones.values().filter(|zone| wanted.contains(&zone.state)).count();
    let below = count(&[ZoneState::Starved, ZoneState::Still, ZoneState::Backwards]);
    let above = count(&[ZoneState::Overflowed]);
    let cold = count(&[ZoneState::TooCold]);
    let warm = count(&[ZoneState::TooWarm]);
    let flows = match (below, above) {
        (0, 0) => String::new(),
        (below, 0) => format!("{below} of {open} zones below band."),
        (0, above) => format!("{above} of {open} zones above band."),
        (below, above) => format!("{below} of {open} zones below band, {above} above."),
    };
    let rooms = match (cold, warm) {
        (0, 0) => String::new(),
        (cold, 0) => format!("{cold} of {open} rooms too cold."),
        (_, warm) => format!("{warm} of {open} rooms too warm."),
    };
    [flows, rooms].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Every stretch of flow with what governs there: "set-line 0–2.05 m³/h · speed cap from 2.05 m³/h".
#[must_use]
pub fn governing_ranges(ranges: &[GoverningRange], units: &Units) -> String {
    let last = ranges.len().saturating_sub(1);
    let part = |(i, range): (usize, &GoverningRange)| {
        let from = units.number(Quantity::Flow, range.from_m3_per_s);
        let to = units.format(Quantity::Flow, range.to_m3_per_s);
        let name = limit_name(range.limit);
        match i {
            _ if last == 0 => format!("{name} at every flow"),
            _ if i == last => format!("{name} from {}", units.format(Quantity::Flow, range.from_m3_per_s)),
            _ => format!("{name} {from}–{to}"),
        }
    };
    ranges.iter().enumerate().map(part).collect::<Vec<_>>().join(" · ")
}

/// Whether the answer can be trusted; empty when nothing is to be said.
#[must_use]
pub fn verdict_sentence(results: &Results, pump: &PumpResult) -> String {
    match results.verdict {
        Verdict::NotConverged => format!(
            "Not solved: after {} steps the balances are still off by {:.1e} (flow) and {:.1e} (pressure). \
             Do not use these figures; open a valve or change a setting.",
            results.iterations, results.mass_error, results.energy_error
        ),
        Verdict::Converged if !results.temperatures_agree => {
            "Not settled: flows and temperatures do not come to agree. Do not use these figures; change a setting or a valve."
                .to_owned()
        }
        Verdict::NoPump => "No pump runs: start one to see flows.".to_owned(),
        Verdict::Converged if !results.stable => {
            let several = results.pumps.values().filter(|pump| pump.running).count() > 1;
            if several {
                "This point does not hold: pumps on rising set-lines push each other aside. Set their slope to 0 % or run one."
            } else {
                "This point does not hold: the set-line rises more steeply than the system curve. Choose less slope."
            }
            .to_owned()
        }
        Verdict::Converged if pump.beyond_data => {
            "The point lies beyond the catalogue data: head and power there are extrapolated.".to_owned()
        }
        Verdict::Converged => String::new(),
    }
}

/// How the fluid's viscosity changes a pump's catalogue curve; empty where it does not, or by less than anyone could measure.
#[must_use]
pub fn viscous_sentence(pump: &PumpResult, units: &Units) -> String {
    let Some((factors, within)) = pump.viscous else { return String::new() };
    if factors.flow > 0.9995 && factors.efficiency > 0.995 {
        return String::new();
    }
    let change = |what: &str, factor: f64| match 100.0 * (factor - 1.0) {
        percent if percent.abs() < 0.05 => format!("{what} unchanged"),
        percent => format!("{what} {percent:+.1}{SPACE}{}", units.symbol(Quantity::Share)).replace('-', "−"),
    };
    let range = if within { "" } else { "; an estimate, outside the method's tested range" };
    format!(
        "curve corrected for viscosity by ISO/TR 17766: {}, {} at best efficiency{range}.",
        change("flow and head", factors.flow),
        change("efficiency", factors.efficiency)
    )
}

/// What a change did: the zones that moved most and the pump's power, before and after.
#[must_use]
pub fn change_since(project: &Project, before: &Results, after: &Results, pump: ComponentId, units: &Units) -> String {
    let share = |zone: &ZoneResult| share_beside_state(zone.share, Some(zone.state), &project.acceptance, units);
    let mut moved: Vec<(f64, String)> = Vec::new();
    for (id, zone) in &project.zones {
        let (Some(a), Some(b)) = (before.zones.get(id), after.zones.get(id)) else { continue };
        let by = (b.share - a.share).abs();
        if by >= 0.005 || a.state != b.state {
            let end = match b.state {
                ZoneState::Served => share(b),
                ZoneState::Throttled => format!("{} (throttled)", share(b)),
                ZoneState::Shut | ZoneState::Still => b.state.word().to_owned(),
                state => format!("{}, {}", share(b), state.word()),
            };
            moved.push((by, format!("{} {} → {end}", zone.name, share(a))));
        }
    }
    moved.sort_by(|a, b| b.0.total_cmp(&a.0));
    let rest = moved.len().saturating_sub(2);
    let mut parts: Vec<String> = moved.into_iter().take(2).map(|(_, text)| text).collect();
    if rest > 0 {
        parts.push(format!("{rest} more zone{}", if rest == 1 { "" } else { "s" }));
    }
    let total = |results: &Results| results.pumps.values().map(|pump| pump.electric_w).sum::<f64>();
    let own = |results: &Results| results.pumps.get(&pump).map_or(0.0, |pump| pump.electric_w);
    let (what, from, to) = if after.pumps.len() > 1 {
        ("all pumps", total(before), total(after))
    } else {
        ("pump", own(before), own(after))
    };
    if (from - to).abs() >= 0.05 {
        parts.push(format!("{what} {} → {}", units.number(Quantity::Power, from), units.format(Quantity::Power, to)));
    }
    parts.join("; ")
}
