//! Before and after: how everything was when a key was pressed, to stand beside how it is now, and the difference in words.

use super::super::desk::Standing;
use super::super::part_load;
use super::super::view::View;
use super::cost::{self, Taken};
use super::warmth;
use crate::document::Project;
use crate::engine::units::Quantity;
use crate::study::{Path, Results, Study};

/// Differences of a year that are told: half a kilowatt-hour, J, and half a hundredth of money.
const LEAST_J: f64 = 1.8e6;
const LEAST_MONEY: f64 = 0.005;
/// Differences of power, W, and of a room's share of design flow that are told.
const LEAST_W: f64 = 0.05;
const LEAST_SHARE: f64 = 0.005;

/// How everything was.
#[derive(Debug)]
pub(super) struct Before {
    project: Project,
    pub(super) study: Study,
    /// What the circulators took.
    pub(super) taken: Taken,
}

impl Before {
    /// Keeps what is so now.
    pub(super) fn keep(view: &View<'_>) -> Self {
        Self { project: view.project.clone(), study: view.study.clone(), taken: cost::taken(view) }
    }

    /// Whether it can stand beside what is so now: a drawing with other zones or another pump cannot.
    pub(super) fn is_of(&self, view: &View<'_>) -> bool {
        view.pump.is_none_or(|pump| self.project.pump(pump).is_some())
            && self.project.zones.keys().eq(view.project.zones.keys())
    }

    /// Reckons what a year took, where that was still awaited when it was kept.
    pub(super) fn follow(&mut self, view: &View<'_>) {
        if self.taken != Taken::Awaited || cost::taken(view) == Taken::Awaited {
            return;
        }
        // Of another system nothing is known any more, but that it was the pump's power.
        let now = || Taken::Now(self.study.results().pumps.values().map(|pump| pump.electric_w).sum());
        let (Some(probed), Some(pump)) = (view.part_load.probed(), view.pump) else { return };
        let settings = self.project.pump(pump).map(|unit| unit.regulation);
        self.taken = match settings.filter(|_| part_load::is_same_system(&self.project, view.project, pump)) {
            Some(settings) => {
                let law = probed.part_load.law(&settings);
                match probed.part_load.has_hours() {
                    true => Taken::Year(probed.part_load.year(&law).total_j()),
                    false => Taken::Mean(probed.part_load.mean_power_w(&law)),
                }
            }
            None => now(),
        };
    }

    /// The same view of how it was.
    pub(super) fn view<'a>(&'a self, now: &View<'a>, nothing: &'a Path) -> View<'a> {
        View {
            project: &self.project,
            study: &self.study,
            results: self.study.results(),
            hovered: None,
            path: nothing,
            alone: &[],
            standing: &Standing::Current,
            checks: &[],
            lit: None,
            ..*now
        }
    }

    /// The difference in words: the room that changed most and how many others did, power, and what a year takes or costs more or less.
    pub(super) fn difference(&self, view: &View<'_>) -> String {
        let mut parts: Vec<String> = self.rooms(view).into_iter().collect();
        let total = |results: &Results| results.pumps.values().map(|pump| pump.electric_w).sum::<f64>();
        let (was_w, now_w) = (total(self.study.results()), total(view.results));
        if (was_w - now_w).abs() >= LEAST_W {
            let what = if view.results.pumps.len() > 1 { "pumps" } else { "pump" };
            let (was, now) = (view.units.number(Quantity::Power, was_w), view.units.format(Quantity::Power, now_w));
            parts.push(format!("{what} {was} → {now}"));
        }
        if let (Taken::Year(was_j), Taken::Year(now_j)) = (self.taken, cost::taken(view)) {
            parts.extend(year(view, was_j, now_j));
        }
        if parts.is_empty() {
            return "Nothing differs from before yet.".to_owned();
        }
        parts.join(" · ")
    }

    /// "Reading-room floor 104 → 92 % and 2 more rooms"; the word for its warmth where that has changed.
    fn rooms(&self, view: &View<'_>) -> Option<String> {
        let (duty, before) = (view.project.design.duty, self.study.results());
        let mut moved = Vec::new();
        for (id, zone) in &view.project.zones {
            let (Some(was), Some(now)) = (before.zones.get(id), view.results.zones.get(id)) else { continue };
            let by = (now.share - was.share).abs();
            if by >= LEAST_SHARE || was.state != now.state {
                moved.push((by, zone, was, now));
            }
        }
        let others = moved.len().checked_sub(1)?;
        let (_, zone, was, now) = moved.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
        let share = warmth::share(view, now, Some(was));
        let (was, now) = (warmth::word(was, duty), warmth::word(now, duty));
        let word = if was == now { String::new() } else { format!(", {now}") };
        let rest = match others {
            0 => String::new(),
            1 => " and another room".to_owned(),
            others => format!(" and {others} more rooms"),
        };
        Some(format!("{} {share}{word}{rest}", zone.name))
    }
}

/// "EUR 12 a year less", or the energy where nobody has given a price.
fn year(view: &View<'_>, was_j: f64, now_j: f64) -> Option<String> {
    let more_j = now_j - was_j;
    let word = if more_j < 0.0 { "less" } else { "more" };
    let amount = match cost::price(view, more_j.abs()) {
        Some(amount) if amount >= LEAST_MONEY => view.units.money(&view.project.energy.currency, amount),
        None if more_j.abs() >= LEAST_J => view.units.format(Quantity::Energy, more_j.abs()),
        _ => return None,
    };
    Some(format!("{amount} a year {word}"))
}
