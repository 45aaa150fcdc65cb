//! Before and after: how everything was when a key was pressed, to stand beside how it is now, and the difference in words.

use super::super::desk::Standing;
use super::super::part_load;
use super::super::view::View;
use super::cost::{self, Taken};
use crate::document::Project;
use crate::engine::units::Quantity;
use crate::study::{Path, Study, change_since};

/// Differences of a year that are told: half a kilowatt-hour, J, and half a hundredth of money.
const LEAST_J: f64 = 1.8e6;
const LEAST_MONEY: f64 = 0.005;

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

    /// The difference in words: zones, power, and what a year takes or costs more or less.
    pub(super) fn difference(&self, view: &View<'_>) -> String {
        let (before, now) = (self.study.results(), view.results);
        let mut parts: Vec<String> = Vec::new();
        if let Some(pump) = view.pump {
            let told = change_since(view.project, before, now, pump, view.units);
            parts.extend(Some(told).filter(|told| !told.is_empty()));
        }
        if let (Taken::Year(was_j), Taken::Year(now_j)) = (self.taken, cost::taken(view)) {
            parts.extend(year(view, was_j, now_j));
        }
        if parts.is_empty() {
            return "Nothing differs from before yet: change a setting or a valve.".to_owned();
        }
        parts.join(" · ")
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
