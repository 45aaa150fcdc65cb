//! The best setting in words: what it is, why it is that, the proof, energy against the present settings, and what was asked for besides.

use super::CAUTION;
use super::beside::{Beside, beside_table};
use super::columns::{self, plain, width};
use super::energy::{self, Cost};
use super::margins::{Margin, margins};
use super::proof::{Fault, Proof};
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, SPACE, Units};
use crate::study::part_load::PartLoad;
use crate::study::settings::{Best, Deciding, Remedy, Robustness, explanation, miss_words, sources_words, why_none};
use crate::study::{Results, ZoneState, share_as_set, share_beside_state};

/// A balancing valve that is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// The valve.
    pub valve: ComponentId,
    /// Its Kv before, m³/h.
    pub from: f64,
    /// Its Kv then, m³/h.
    pub to: f64,
}

/// Everything that is told of the best setting.
#[derive(Clone, Copy)]
pub struct BestView<'a> {
    /// The project that was searched, with its presettings moved where that was wanted.
    pub project: &'a Project,
    /// What every state of the valves does.
    pub part_load: &'a PartLoad,
    /// What decides.
    pub deciding: &'a Deciding,
    /// The settings found.
    pub best: Option<Best>,
    /// Whether they serve every zone, or only starve none.
    pub serves: bool,
    /// The present settings.
    pub present: Regulation,
    /// Presettings that are moved.
    pub moved: &'a [Moved],
    /// What the settings do, scenario by scenario; the present ones where none were found.
    pub results: &'a [Results],
    /// The present settings and those found.
    pub beside: &'a [Beside],
    /// What came of solving every state.
    pub proof: &'a Proof,
    /// How the settings stand deviations.
    pub robust: Option<&'a Robustness>,
    /// What would help which zone.
    pub remedies: Option<(Option<ZoneId>, &'a [Remedy])>,
    /// Whether the circulator stands in its file.
    pub stands: bool,
}

impl<'a> BestView<'a> {
    pub(super) fn pump(&self) -> &'a str {
        self.project.components.get(&self.part_load.pump).map_or("", |component| component.name.as_str())
    }

    pub(super) fn zone(&self, id: ZoneId) -> &'a str {
        self.project.zones.get(&id).map_or("", |zone| zone.name.as_str())
    }

    /// Why these settings, or why none.
    pub(super) fn reasons(&self, units: &Units) -> String {
        match (&self.best, self.serves) {
            (Some(best), true) => explanation(self.project, self.part_load, self.deciding, best, units),
            _ => why_none(self.project, self.part_load, self.deciding, units),
        }
    }

    pub(super) fn margins(&self) -> Vec<Margin<'a>> {
        let names: Vec<&str> = self.part_load.tables.iter().map(|table| table.state.name.as_str()).collect();
        margins(self.project, &names, self.results, Some(self.part_load.pump))
    }
}

/// "Office balancing valve at Kv 0.66".
#[must_use]
pub fn valve_words(project: &Project, valve: ComponentId, kv: f64, units: &Units) -> String {
    let name = project.components.get(&valve).map_or("", |component| component.name.as_str());
    format!("{name} at {}", units.format(Quantity::FlowCoefficient, kv))
}

/// The best setting in words.
#[must_use]
pub fn best_text(view: &BestView<'_>, units: &Units) -> String {
    let title = plain(&view.project.title);
    let mut text = format!("{title}\n{}\n", "=".repeat(width(&title)));
    let what = match (view.best, view.serves) {
        (Some(_), true) => "the best settings",
        (Some(_), false) => "no settings serve every zone; those that starve none with least energy",
        (None, _) => "no settings serve every zone, and every setting starves one or is too loud",
    };
    text += &format!("{}: {what}\n\n", plain(view.pump()));
    if view.stands {
        text += "It does not run in the file; here it is taken to run.\n\n";
    }
    if let Some(best) = &view.best {
        text += &columns::table("  ", &settings_rows(&best.settings, &view.present, units));
        text.push('\n');
    }
    text += &format!("{}\n", plain(&view.reasons(units)));
    if view.best.is_some() {
        text += &proved(view, units);
    }
    let sources = view.best.map(|best| sources_words(view.part_load, &best.settings)).unwrap_or_default();
    if !sources.is_empty() {
        text += &format!("{}\n", plain(&sources));
    }
    text += &presettings(view, units);
    text += &format!("\n{}", worst_margins(view, units));
    if view.part_load.has_hours() {
        text += &format!("\nA year of electric energy\n{}", beside_table(view.project, view.beside, units));
        text += &format!("\n{}", Cost(&view.project.energy).sources());
    } else if let Some(best) = &view.best {
        let law = view.part_load.law(&view.present);
        text += &format!(
            "\nOn the mean of the scenarios {} now, {} then: give the scenarios hours, and the energy of a year is told.\n",
            units.format(Quantity::Power, view.part_load.mean_power_w(&law)),
            units.format(Quantity::Power, best.mean_w)
        );
    }
    text += &robust(view, units);
    text += &remedies(view, units);
    text + &format!("\n{CAUTION}\n")
}

fn settings_rows(settings: &Regulation, present: &Regulation, units: &Units) -> Vec<Vec<String>> {
    let limit = |of: &Regulation| of.head_limit_m.map_or("none".to_owned(), |head| units.format(Quantity::Head, head));
    let slope = |of: &Regulation| share_as_set(of.slope, units);
    let cap = |of: &Regulation| units.format(Quantity::Speed, of.speed_cap);
    let row = |name: &str, of: &dyn Fn(&Regulation) -> String| {
        vec![name.to_owned(), of(settings), format!("(present {})", of(present))]
    };
    vec![row("Head limit", &limit), row("Slope", &slope), row("Speed cap", &cap)]
}

/// What came of solving every state with the settings.
fn proved(view: &BestView<'_>, units: &Units) -> String {
    let Proof { states, unsolved, faults } = view.proof;
    let count = if *states == 1 { "The one state".to_owned() } else { format!("All {states} states") };
    let claim = if view.serves { "every zone keeps its band" } else { "no zone starves" };
    if view.proof.holds() {
        return format!("{count} of the valves solved anew with these settings: {claim}.\n");
    }
    let mut text = format!("NOT PROVED: {} of the valves solved anew with these settings", count.to_lowercase());
    if *unsolved > 0 {
        text += &format!(", {unsolved} without an answer that stands");
    }
    for Fault { zone, state, share, is } in faults {
        let share = share_beside_state(*share, Some(*is), &view.project.acceptance, units);
        text += &format!("; {} has {share} in “{}”, {}", plain(view.zone(*zone)), plain(state), is.word());
    }
    text + ". Do not use them.\n"
}

fn presettings(view: &BestView<'_>, units: &Units) -> String {
    if view.moved.is_empty() {
        return String::new();
    }
    let row = |moved: &Moved| {
        let kv = |kv| units.format(Quantity::FlowCoefficient, kv);
        let name = view.project.components.get(&moved.valve).map_or("", |component| component.name.as_str());
        vec![name.to_owned(), kv(moved.to), format!("(present {})", kv(moved.from))]
    };
    let rows: Vec<Vec<String>> = view.moved.iter().map(row).collect();
    format!("\nPresettings that go with them\n{}", columns::table("  ", &rows))
}

/// The zone that gets least and the one that gets most; where none serves, every zone that gets too much.
fn worst_margins(view: &BestView<'_>, units: &Units) -> String {
    let all = view.margins();
    let tell = |there: &super::margins::There<'_>, name: &str| {
        let share = share_beside_state(there.zone.share, Some(there.zone.state), &view.project.acceptance, units);
        format!("{share} {} in “{}”, {}", plain(name), plain(there.scenario), there.zone.state.word())
    };
    let with = if view.best.is_some() { "With these settings" } else { "With the present settings" };
    let least =
        all.iter().map(|margin| (margin.least_flow(), margin.name())).min_by(|a, b| share(a).total_cmp(&share(b)));
    let most =
        all.iter().map(|margin| (margin.greatest_flow(), margin.name())).max_by(|a, b| share(a).total_cmp(&share(b)));
    let (Some(least), Some(most)) = (least, most) else { return String::new() };
    let mut text = format!("{with}, of design flow:\n  least     {}\n", tell(least.0, least.1));
    let overflowing = |margin: &&Margin<'_>| margin.greatest_flow().zone.state == ZoneState::Overflowed;
    let over: Vec<&Margin<'_>> = all.iter().filter(overflowing).collect();
    if over.is_empty() {
        return text + &format!("  greatest  {}\n", tell(most.0, most.1));
    }
    for margin in over {
        text += &format!("  too much  {}\n", tell(margin.greatest_flow(), margin.name()));
    }
    text
}

fn share(of: &(&super::margins::There<'_>, &str)) -> f64 {
    of.0.zone.share
}

/// How the settings stand what is not just as drawn.
fn robust(view: &BestView<'_>, units: &Units) -> String {
    let Some(robust) = view.robust else { return String::new() };
    let row = |case: &crate::study::settings::OffCase| {
        let says = match &case.miss {
            Some((miss, share)) => {
                let share = share.map_or_else(String::new, |share| {
                    let state = match miss.reason {
                        crate::study::part_load::Reason::Starves(_) => Some(ZoneState::Starved),
                        crate::study::part_load::Reason::Overflows(_) => Some(ZoneState::Overflowed),
                        crate::study::part_load::Reason::TooLoud(_) => None,
                    };
                    format!(": {}", share_beside_state(share, state, &view.project.acceptance, units))
                });
                format!("{}{share}", miss_words(view.project, view.part_load, miss, units))
            }
            None => "every zone keeps its band".to_owned(),
        };
        vec![case.name.clone(), says]
    };
    let rows: Vec<Vec<String>> = robust.cases.iter().map(row).collect();
    let mut text = format!("\nIf the system is not just as drawn\n{}", columns::table("  ", &rows));
    text += &match &robust.still {
        Some((part, best)) => {
            let up_to = match part {
                part if *part >= 1.0 => "in every one of these cases".to_owned(),
                part => format!("when things are off by up to {:.0}{SPACE}% of that", 100.0 * part),
            };
            let settings = super::beside::settings_words(&best.settings, units);
            let energy = match view.part_load.has_hours() {
                true => format!("{} a year", energy::energy(units, view.part_load.year_of_mean_j(best.mean_w))),
                false => format!("{} on the mean", units.format(Quantity::Power, best.mean_w)),
            };
            format!("Still serves {up_to}: {settings}, for {energy}.\n")
        }
        None => "No setting still serves, not even when things are off by a quarter of that.\n".to_owned(),
    };
    text
}

/// What would move the limit.
fn remedies(view: &BestView<'_>, units: &Units) -> String {
    let Some((zone, helps)) = view.remedies else { return String::new() };
    let Some(zone) = zone else {
        return "\nWhat would help: no zone limits these settings; what does is told above.\n".to_owned();
    };
    let name = plain(view.zone(zone));
    if helps.is_empty() {
        return format!("\nWhat would help {name}: nothing that is tried here can be done in this drawing.\n");
    }
    let row = |remedy: &Remedy| {
        let settings = |best: &Best| super::beside::settings_words(&best.settings, units);
        let amount = |watts: f64| match view.part_load.has_hours() {
            true => format!("{} a year", energy::energy(units, view.part_load.energy_of_mean_j(watts))),
            false => units.format(Quantity::Power, watts),
        };
        let (gain, then) = match (&remedy.best, remedy.saves_w) {
            (Ok(best), Some(saves_w)) if saves_w >= 0.0 => (format!("saves {}", amount(saves_w)), settings(best)),
            (Ok(best), Some(saves_w)) => (format!("costs {}", amount(-saves_w)), settings(best)),
            (Ok(best), None) => (format!("serves for {}", amount(best.mean_w)), settings(best)),
            (Err(_), _) => ("–".to_owned(), "no setting serves then".to_owned()),
        };
        vec![remedy.words.clone(), gain, then]
    };
    let rows: Vec<Vec<String>> = helps.iter().map(row).collect();
    format!("\nWhat would help {name}, each alone and not done here\n{}", columns::table("  ", &rows))
}
