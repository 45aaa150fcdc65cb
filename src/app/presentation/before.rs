//! Before and after: how everything was when a key was pressed, to stand beside how it is now, and the difference in words.

use super::super::desk::Standing;
use super::super::frame::capital;
use super::super::part_load;
use super::super::view::View;
use super::cost::{self, Taken};
use super::warmth::{self, Comfort, Kind};
use crate::document::{Project, Zone};
use crate::engine::units::Quantity;
use crate::study::{Path, Results, Study, ZoneResult, ZoneState};

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
    /// The scenario that the valves stood in.
    scenario: Option<String>,
}

/// What valves are said to stand in that stand in no scenario.
const BY_HAND: &str = "valves set by hand";

impl Before {
    /// Keeps what is so now.
    pub(super) fn keep(view: &View<'_>) -> Self {
        Self {
            project: view.project.clone(),
            study: view.study.clone(),
            taken: cost::taken(view),
            scenario: scenario(view),
        }
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

    /// The scenarios before and now, where they differ.
    pub(super) fn scenarios(&self, view: &View<'_>) -> Option<[String; 2]> {
        let now = scenario(view);
        let told = |name: Option<String>| name.unwrap_or_else(|| BY_HAND.to_owned());
        (self.scenario != now).then(|| [told(self.scenario.clone()), told(now)])
    }

    /// The difference in words: scenarios, what is open and fares worst or differs most, what has been shut, power, and what a year
    /// takes or costs more or less.
    pub(super) fn difference(&self, view: &View<'_>) -> String {
        let mut parts = self.zones(view);
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
        let parts = parts.join("; ");
        match (self.scenarios(view), parts.is_empty()) {
            (None, true) => "Nothing differs from before yet.".to_owned(),
            (None, false) => format!("{}.", capital(&parts)),
            (Some([was, now]), true) => format!("Before: {was}. Now: {now}."),
            (Some([was, now]), false) => format!("Before: {was}. Now: {now}: {parts}."),
        }
    }

    /// "Bay 4 101 → 138 %, more than needed", "another zone differs", "4 zones shut", as far as they apply.
    fn zones(&self, view: &View<'_>) -> Vec<String> {
        let kind = Kind::of(view.project);
        let before = self.study.results();
        let (mut open, mut shut, mut opened) = (Vec::new(), Vec::new(), Vec::new());
        for (id, zone) in &view.project.zones {
            let (Some(was), Some(now)) = (before.zones.get(id), view.results.zones.get(id)) else { continue };
            match (was.state == ZoneState::Shut, now.state == ZoneState::Shut) {
                (true, true) => {}
                (false, true) => shut.push(zone.name.as_str()),
                (is_new, _) => {
                    if is_new {
                        opened.push(zone.name.as_str());
                    }
                    let by = (now.share - was.share).abs();
                    let differs = by >= LEAST_SHARE || was.state != now.state;
                    // One that was opened and has what it needs is only counted.
                    if differs && (!is_new || is_off(now)) {
                        open.push(Moved { by, zone, was: (!is_new).then_some(was), now });
                    }
                }
            }
        }
        let mut parts = Vec::new();
        // Those outside their band first: that is what has to be looked at.
        open.sort_by(|a, b| is_off(b.now).cmp(&is_off(a.now)).then(b.by.total_cmp(&a.by)));
        if let Some((first, others)) = open.split_first() {
            parts.push(first.words(view, kind));
            match others.len() {
                0 => {}
                1 => parts.push(format!("another {} differs", kind.one())),
                others => parts.push(format!("{others} other {} differ", kind.many())),
            }
        }
        for (names, what) in [(shut, "shut"), (opened, "opened")] {
            match names.as_slice() {
                [] => {}
                [one] => parts.push(format!("{one} {what}")),
                several => parts.push(format!("{} {what}", kind.count(several.len()))),
            }
        }
        parts
    }
}

/// An open zone that fares otherwise than before.
struct Moved<'a> {
    by: f64,
    zone: &'a Zone,
    /// How it was, if it was open.
    was: Option<&'a ZoneResult>,
    now: &'a ZoneResult,
}

impl Moved<'_> {
    /// "Reading-room floor 104 → 92 %"; the word for how it fares where that has changed or is not as it should be.
    fn words(&self, view: &View<'_>, kind: Kind) -> String {
        let duty = view.project.design.duty;
        let share = warmth::share(view, self.now, self.was);
        let (was, now) = (self.was.map(|was| kind.word(was, duty)), kind.word(self.now, duty));
        let is_fine = warmth::comfort(self.now) == Comfort::Fine && self.now.state != ZoneState::Overflowed;
        let word = if is_fine && was == Some(now) { String::new() } else { format!(", {now}") };
        format!("{} {share}{word}", self.zone.name)
    }
}

/// Whether a zone has not what it needs, or not the water that was planned.
fn is_off(zone: &ZoneResult) -> bool {
    warmth::comfort(zone) > Comfort::Fine || zone.state == ZoneState::Overflowed || zone.state.is_short()
}

/// The scenario that the valves stand in.
fn scenario(view: &View<'_>) -> Option<String> {
    Some(view.project.scenarios.get(view.scenario?)?.name.clone())
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
