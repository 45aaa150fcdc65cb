//! Goals: what must be so at the end of a step, each a check that says from present numbers what is still missing.

use super::template::Sight;
use super::years::Years;
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::pump::{GoverningLimit, ReferenceFlow, Regulation};
use crate::engine::units::{Quantity, Units};
use crate::study::{ZoneState, limit_name, share_as_set, share_beside_state};

/// A check with a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Goal {
    /// A limit governs at the operating point.
    Governs(GoverningLimit),
    /// A zone gets a share of its design flow within a band.
    ZoneShare(ZoneId, Band),
    /// Every open zone is served.
    AllZonesServed,
    /// Every zone is served in every scenario.
    AllScenariosServed,
    /// The pump's electric power, W, lies within a band.
    Power(Band),
    /// The pump's flow, m³/s, lies within a band.
    Flow(Band),
    /// The pump's head, m, lies within a band.
    Head(Band),
    /// A zone is open, or shut.
    ZoneOpen(ZoneId, bool),
    /// A circulator runs, or stands.
    Runs(ComponentId, bool),
    /// A setting lies within a band, in its inside unit.
    Setting(PumpSetting, Band),
    /// The set-line is defined in this way; the flow of a designer's own counts nothing.
    Reference(ReferenceFlow),
    /// A setting stands where it stood when the step began.
    Kept(PumpSetting),
    /// The year's energy is within such a share of that of the best setting.
    NearBest(f64),
    /// The operating point holds when disturbed.
    Stable,
}

/// From a least to a most, either of which may be missing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Band {
    /// The least; none if anything less will do.
    pub least: Option<f64>,
    /// The most; none if anything more will do.
    pub most: Option<f64>,
}

/// A setting of a pump that a goal speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PumpSetting {
    /// The head limit, m.
    HeadLimit,
    /// The slope, a fraction.
    Slope,
    /// The speed cap, a fraction of full speed.
    SpeedCap,
    /// The minimum speed, a fraction of full speed.
    MinimumSpeed,
}

/// How a goal stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aim {
    /// What must be so, in words.
    pub words: String,
    /// Whether it is so.
    pub reached: bool,
    /// What is still missing, from present numbers; empty when nothing is.
    pub missing: String,
}

/// What goals are held against.
pub(super) struct Stand<'a> {
    /// The present system.
    pub now: Sight<'a>,
    /// The project when the step began.
    pub began: Option<&'a Project>,
    /// What the scenarios come to, kept from check to check.
    pub years: &'a mut Years,
    /// The reader's units.
    pub units: &'a Units,
}

/// What is told where a goal speaks of what has been taken away, or stands.
pub(super) const NO_PUMP: &str = "There is no such circulator now.";
pub(super) const STANDS: &str = "The circulator is stopped.";
const NO_ZONE: &str = "There is no such zone now.";

impl Band {
    /// Whether a value lies within it, as exactly as it can be read.
    fn holds(self, value: f64) -> bool {
        let room = 1e-6 * value.abs() + 1e-12;
        self.least.is_none_or(|least| value >= least - room) && self.most.is_none_or(|most| value <= most + room)
    }

    /// "at least 90 %", "between 90 and 110 %".
    fn words(self, text: impl Fn(f64) -> String) -> String {
        match (self.least, self.most) {
            (Some(least), Some(most)) if least == most => text(least),
            (Some(least), Some(most)) => format!("between {} and {}", text(least), text(most)),
            (Some(least), None) => format!("at least {}", text(least)),
            (None, Some(most)) => format!("at most {}", text(most)),
            (None, None) => "anything".to_owned(),
        }
    }
}

impl PumpSetting {
    /// Its name within a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::HeadLimit => "head limit",
            Self::Slope => "slope",
            Self::SpeedCap => "speed cap",
            Self::MinimumSpeed => "minimum speed",
        }
    }

    /// Its value among settings, in its inside unit; `None` for a head limit that is not set.
    #[must_use]
    pub fn of(self, settings: &Regulation) -> Option<f64> {
        match self {
            Self::HeadLimit => settings.head_limit_m,
            Self::Slope => Some(settings.slope),
            Self::SpeedCap => Some(settings.speed_cap),
            Self::MinimumSpeed => Some(settings.minimum_speed),
        }
    }

    fn text(self, value: f64, units: &Units) -> String {
        match self {
            Self::HeadLimit => units.format(Quantity::Head, value),
            Self::Slope | Self::SpeedCap | Self::MinimumSpeed => share_as_set(value, units),
        }
    }
}

impl Goal {
    /// How it stands.
    pub(super) fn aim(&self, stand: &mut Stand) -> Aim {
        let words = self.words(stand);
        let missing = self.missing(stand);
        Aim { words, reached: missing.is_none(), missing: missing.unwrap_or_default() }
    }

    fn words(&self, stand: &mut Stand) -> String {
        let units = stand.units;
        let zone = |id: &ZoneId| zone_name(stand.now.project, *id);
        match self {
            Self::Governs(limit) => format!("The {} governs.", limit_name(*limit)),
            Self::ZoneShare(id, band) => {
                let share = |value| units.format(Quantity::Share, value);
                format!("{} gets {} of its design flow.", zone(id), band.words(share))
            }
            Self::AllZonesServed => "Every open zone is in its band.".to_owned(),
            Self::AllScenariosServed => "Every zone is in its band in every scenario.".to_owned(),
            Self::Power(band) => {
                format!("{} takes {}.", pump_name(stand), band.words(|value| units.format(Quantity::Power, value)))
            }
            Self::Flow(band) => {
                format!("{} moves {}.", pump_name(stand), band.words(|value| units.format(Quantity::Flow, value)))
            }
            Self::Head(band) => {
                format!("{} gives {}.", pump_name(stand), band.words(|value| units.format(Quantity::Head, value)))
            }
            Self::ZoneOpen(id, true) => format!("{} is open.", zone(id)),
            Self::ZoneOpen(id, false) => format!("{} is shut.", zone(id)),
            Self::Runs(id, runs) => {
                let name = stand.now.project.components.get(id).map_or("the circulator", |c| c.name.as_str());
                format!("{name} {}.", if *runs { "runs" } else { "is stopped" })
            }
            Self::Setting(setting, band) => {
                format!("The {} is {}.", setting.name(), band.words(|value| setting.text(value, units)))
            }
            Self::Reference(wanted) => format!("The set-line reaches the head limit {}.", reference_words(*wanted)),
            Self::Kept(setting) => format!("The {} stays as it is.", setting.name()),
            Self::NearBest(share) => {
                let Sight { project, pump, .. } = stand.now;
                let most = stand.years.most_energy(project, pump, *share, units);
                let share = units.format(Quantity::Share, *share);
                let most = most.map_or_else(String::new, |most| format!(": at most {most}"));
                format!("The energy is within {share} of the least that there can be{most}.")
            }
            Self::Stable if several_run(stand.now.project) => {
                "The circulators share the work, and go on doing so.".to_owned()
            }
            Self::Stable => "The operating point holds.".to_owned(),
        }
    }

    /// What is missing; `None` where nothing is.
    fn missing(&self, stand: &mut Stand) -> Option<String> {
        let Sight { project, study, pump } = stand.now;
        let (results, units) = (study.results(), stand.units);
        let result = results.pumps.get(&pump);
        let settings = project.pump(pump).map(|unit| unit.regulation);
        let zone = |id: &ZoneId| zone_name(project, *id);
        let outside = |band: &Band, value: Option<f64>, quantity: Quantity| match value {
            Some(value) if band.holds(value) => None,
            Some(value) => Some(format!("It is {} now.", units.format(quantity, value))),
            None => Some(NO_PUMP.to_owned()),
        };
        match self {
            Self::Governs(wanted) => match result.and_then(|result| result.governing) {
                Some(limit) if limit == *wanted => None,
                Some(limit) => Some(format!("Now the {} governs.", limit_name(limit))),
                None if settings.is_none() => Some(NO_PUMP.to_owned()),
                None => Some(STANDS.to_owned()),
            },
            Self::ZoneShare(id, band) => match results.zones.get(id) {
                Some(result) if band.holds(result.share) => None,
                Some(result) => {
                    let share = share_beside_state(result.share, Some(result.state), &project.acceptance, units);
                    Some(format!("{} gets {share} now.", zone(id)))
                }
                None => Some(NO_ZONE.to_owned()),
            },
            Self::AllZonesServed if results.zones.values().all(|zone| zone.state == ZoneState::Shut) => {
                Some("No zone is open now.".to_owned())
            }
            Self::AllZonesServed => {
                results.zones.iter().find(|(_, zone)| zone.state.is_short() || zone.state == ZoneState::Overflowed).map(
                    |(id, result)| {
                        let share = share_beside_state(result.share, Some(result.state), &project.acceptance, units);
                        format!("{} gets {share} now.", zone(id))
                    },
                )
            }
            Self::AllScenariosServed => stand.years.missed(project, pump, units),
            Self::NearBest(share) => stand.years.energy_missed(project, pump, *share, units),
            Self::Power(band) => outside(band, result.map(|result| result.electric_w), Quantity::Power),
            Self::Flow(band) => outside(band, result.map(|result| result.flow), Quantity::Flow),
            Self::Head(band) => outside(band, result.map(|result| result.head), Quantity::Head),
            Self::ZoneOpen(id, open) => {
                let Some(is_shut) = project.zones.get(id).map(|zone| project.is_zone_shut(zone)) else {
                    return Some(NO_ZONE.to_owned());
                };
                (is_shut == *open).then(|| format!("{} is {} now.", zone(id), if is_shut { "shut" } else { "open" }))
            }
            Self::Runs(id, runs) => {
                let Some(running) = project.pump(*id).map(|unit| unit.running) else {
                    return Some(NO_PUMP.to_owned());
                };
                (running != *runs).then(|| format!("It {} now.", if running { "runs" } else { "is stopped" }))
            }
            Self::Setting(setting, band) => match settings.and_then(|settings| setting.of(&settings)) {
                Some(value) if band.holds(value) => None,
                Some(value) => Some(format!("It is {} now.", setting.text(value, units))),
                None if settings.is_none() => Some(NO_PUMP.to_owned()),
                None => Some("It is not set now.".to_owned()),
            },
            Self::Reference(wanted) => {
                let is = settings.map(|settings| settings.reference);
                let same = is.is_some_and(|is| std::mem::discriminant(&is) == std::mem::discriminant(wanted));
                (!same).then(|| format!("Now it does so {}.", is.map_or("nowhere", reference_words)))
            }
            Self::Kept(setting) => {
                let began = setting.of(&stand.began?.pump(pump)?.regulation);
                let Some(settings) = settings else { return Some(NO_PUMP.to_owned()) };
                match (began, setting.of(&settings)) {
                    (Some(began), Some(is)) if (is - began).abs() <= 1e-9 => None,
                    (Some(began), _) => Some(format!("Set it back to {}.", setting.text(began, units))),
                    (None, is) => is.map(|_| "It was not set: take it away again.".to_owned()),
                }
            }
            Self::Stable if results.stable && results.converged() => None,
            Self::Stable if several_run(project) => {
                Some("An even split does not hold: one circulator takes all, and which one is chance.".to_owned())
            }
            Self::Stable => Some("It does not hold when it is disturbed.".to_owned()),
        }
    }
}

fn reference_words(reference: ReferenceFlow) -> &'static str {
    match reference {
        ReferenceFlow::FullSpeed => "where the full-speed curve crosses it",
        ReferenceFlow::CappedSpeed => "where the capped curve crosses it",
        ReferenceFlow::DesignFlow(_) => "at the design flow",
    }
}

/// What the circulator that is spoken of is called: by its name where there are several.
fn pump_name<'a>(stand: &Stand<'a>) -> &'a str {
    let Sight { project, pump, .. } = stand.now;
    let named = project.components.get(&pump).filter(|_| project.pumps().count() > 1);
    named.map_or("The circulator", |component| component.name.as_str())
}

/// Whether two circulators or more run.
fn several_run(project: &Project) -> bool {
    project.pumps().filter(|(_, unit)| unit.running).count() > 1
}

fn zone_name(project: &Project, id: ZoneId) -> &str {
    project.zones.get(&id).map_or("A zone", |zone| zone.name.as_str())
}
