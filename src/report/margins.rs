//! Margins: the least and the greatest that every zone gets over all scenarios, in which, what governs there; out of the solved scenarios.

use super::columns;
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::{Quantity, Units};
use crate::study::{Results, ZoneResult, ZoneState, limit_name, share_beside_state};
use serde_json::{Value, json};

/// Whether a zone in this state does not get what it should.
pub(super) fn is_missed(state: ZoneState) -> bool {
    !matches!(state, ZoneState::Shut | ZoneState::Served | ZoneState::Throttled)
}

/// What a zone gets in one scenario.
#[derive(Clone, Copy)]
pub(super) struct There<'a> {
    /// The scenario.
    pub scenario: &'a str,
    /// What it gets.
    pub zone: &'a ZoneResult,
    /// What governs there.
    pub governing: Option<GoverningLimit>,
}

/// What a zone gets over all scenarios in which it is open.
pub(super) struct Margin<'a> {
    name: &'a str,
    /// Flow, then heat.
    least: [There<'a>; 2],
    greatest: [There<'a>; 2],
    all: Vec<There<'a>>,
}

/// The margins of all zones that are open in any scenario, by what governs one circulator.
pub(super) fn margins<'a>(
    project: &'a Project,
    states: &[&'a str],
    results: &'a [Results],
    pump: Option<ComponentId>,
) -> Vec<Margin<'a>> {
    let margin = |id: &ZoneId, name: &'a str| {
        let there = |(state, results): (&&'a str, &'a Results)| {
            let zone = results.zones.get(id).filter(|zone| zone.state != ZoneState::Shut)?;
            let governing = pump.and_then(|pump| results.pumps.get(&pump)?.governing);
            Some(There { scenario: state, zone, governing })
        };
        let all: Vec<There<'a>> = states.iter().zip(results).filter_map(there).collect();
        let first = *all.first()?;
        let extreme = |of: fn(&ZoneResult) -> f64, sign: f64| {
            all.iter()
                .fold(first, |best, there| if sign * of(there.zone) > sign * of(best.zone) { *there } else { best })
        };
        let share: fn(&ZoneResult) -> f64 = |zone| zone.share;
        let heat: fn(&ZoneResult) -> f64 = |zone| zone.heat_share;
        Some(Margin {
            name,
            least: [extreme(share, -1.0), extreme(heat, -1.0)],
            greatest: [extreme(share, 1.0), extreme(heat, 1.0)],
            all,
        })
    };
    project.zones.iter().filter_map(|(id, zone)| margin(id, &zone.name)).collect()
}

impl<'a> Margin<'a> {
    /// The zone's name.
    pub(super) fn name(&self) -> &'a str {
        self.name
    }

    /// Where its share of design flow is least.
    pub(super) fn least_flow(&self) -> &There<'a> {
        &self.least[0]
    }

    /// Where it is greatest.
    pub(super) fn greatest_flow(&self) -> &There<'a> {
        &self.greatest[0]
    }

    /// "served", or "overflowed in 2 of 3".
    pub(super) fn verdict(&self) -> String {
        let mut words: Vec<(&str, usize)> = Vec::new();
        for there in self.all.iter().filter(|there| is_missed(there.zone.state)) {
            let word = there.zone.state.word();
            match words.iter_mut().find(|(known, _)| *known == word) {
                Some((_, count)) => *count += 1,
                None => words.push((word, 1)),
            }
        }
        let open = self.all.len();
        let tell = |(word, count): &(&str, usize)| format!("{word} in {count} of {open}");
        if words.is_empty() { "served".to_owned() } else { words.iter().map(tell).collect::<Vec<_>>().join(", ") }
    }

    fn rows(&self, project: &Project, heat: &str, units: &Units) -> Vec<Vec<String>> {
        let governs = |there: &There<'_>| there.governing.map_or("–", limit_name).to_owned();
        let flow = |there: &There<'_>| {
            share_beside_state(there.zone.share, Some(there.zone.state), &project.acceptance, units)
        };
        let warm = |there: &There<'_>| units.format(Quantity::Share, there.zone.heat_share);
        let row = |first: String, what: String, share: String, there: &There<'_>| {
            let state = there.zone.state.word().to_owned();
            vec![first, what, share, state, governs(there), there.scenario.to_owned()]
        };
        let [flows, heats] = [[&self.least[0], &self.greatest[0]], [&self.least[1], &self.greatest[1]]];
        vec![
            row(self.name.to_owned(), "least flow".to_owned(), flow(flows[0]), flows[0]),
            row(format!("  {}", self.verdict()), "greatest flow".to_owned(), flow(flows[1]), flows[1]),
            row(String::new(), format!("least {heat}"), warm(heats[0]), heats[0]),
            row(String::new(), format!("greatest {heat}"), warm(heats[1]), heats[1]),
        ]
    }

    fn value(&self) -> Value {
        let extreme = |there: &There<'_>| {
            json!({
                "scenario": there.scenario,
                "share_percent": 100.0 * there.zone.share,
                "heat_share_percent": 100.0 * there.zone.heat_share,
                "state": there.zone.state.word(),
                "governing": there.governing.map(limit_name),
            })
        };
        json!({
            "zone": self.name,
            "least_flow": extreme(&self.least[0]),
            "greatest_flow": extreme(&self.greatest[0]),
            "least_heat": extreme(&self.least[1]),
            "greatest_heat": extreme(&self.greatest[1]),
            "verdict": self.verdict(),
        })
    }
}

/// The margins as a table.
pub(super) fn margin_table(project: &Project, margins: &[Margin<'_>], units: &Units) -> String {
    let heat = match project.design.duty {
        crate::document::Duty::Heating => "heat",
        crate::document::Duty::Cooling => "cooling",
    };
    let headings = ["Zone", "Margin", "Share", "State", "Governing", "Scenario"].map(str::to_owned).to_vec();
    let rows = margins.iter().flat_map(|margin| margin.rows(project, heat, units));
    columns::table("  ", &std::iter::once(headings).chain(rows).collect::<Vec<_>>())
}

/// The margins as data.
pub(super) fn margin_values(margins: &[Margin<'_>]) -> Vec<Value> {
    margins.iter().map(Margin::value).collect()
}
