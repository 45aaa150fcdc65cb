//! The map of settings in words and as CSV: whether any place of the plane serves every zone, the best and the present settings, and cell by
//! cell what each does.

use super::beside::settings_words;
use super::columns::{plain, width};
use super::reasons::{SERVED, place, verdict, words};
use super::scenario_csv::{line, number};
use super::{CAUTION, energy};
use crate::document::Project;
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::{PartLoad, Reason};
use crate::study::settings::{Axes, Best, Deciding, Miss, Plane, SettingMap, miss_words, why_none};

/// A map of settings with what stands on it.
#[derive(Clone, Copy)]
pub struct MapView<'a> {
    /// The project.
    pub project: &'a Project,
    /// What every state of the valves does.
    pub part_load: &'a PartLoad,
    /// What decides.
    pub deciding: &'a Deciding,
    /// The map.
    pub map: &'a SettingMap,
    /// The present settings.
    pub present: Regulation,
    /// The best of all settings; where none serves, the best of those that starve none.
    pub best: Option<Best>,
}

impl MapView<'_> {
    /// Whether some setting serves every zone in every state.
    #[must_use]
    pub fn is_best_served(&self) -> bool {
        self.best.is_some_and(|best| self.deciding.serves(&self.part_load.law(&best.settings)))
    }

    /// The name of the circulator.
    pub(super) fn pump(&self) -> &str {
        self.project.components.get(&self.part_load.pump).map_or("", |component| component.name.as_str())
    }

    /// What settings miss most; `None` where they serve every zone.
    pub(super) fn miss(&self, settings: &Regulation) -> Option<Miss> {
        self.or_impossible(self.deciding.worst(&self.part_load.law(settings)))
    }

    /// Where a state is served by no setting at all, nothing is served, however near an edge lies.
    fn or_impossible(&self, miss: Option<Miss>) -> Option<Miss> {
        let impossible = || {
            let (state, served) = self.deciding.impossible.first()?;
            let reason = served.least.or(served.most)?.reason;
            Some(Miss { state: *state, reason, by: 0.0 })
        };
        miss.or_else(impossible)
    }

    /// The energy of a mean power, or that power where no scenario has hours.
    pub(super) fn energy(&self, mean_w: f64, units: &Units) -> String {
        match self.part_load.has_hours() {
            true => format!("{} a year", energy::energy(units, self.part_load.year_of_mean_j(mean_w))),
            false => format!("{} on the mean", units.format(Quantity::Power, mean_w)),
        }
    }
}

/// The two settings on the axes: the one along first.
#[must_use]
pub fn axis_names(axes: Axes) -> [&'static str; 2] {
    match axes {
        Axes::LimitOverSlope => ["slope", "head limit"],
        Axes::LimitOverCap => ["speed cap", "head limit"],
        Axes::SlopeOverCap => ["speed cap", "slope"],
    }
}

/// What is held while two settings are moved: "speed cap 95.0 %".
pub(super) fn held(plane: &Plane, units: &Units) -> String {
    let base = &plane.base;
    match plane.axes {
        Axes::LimitOverSlope => format!("speed cap {}", units.format(Quantity::Speed, base.speed_cap)),
        Axes::LimitOverCap => format!("slope {}", crate::study::share_as_set(base.slope, units)),
        Axes::SlopeOverCap => match base.head_limit_m {
            Some(limit) => format!("head limit {}", units.format(Quantity::Head, limit)),
            None => "no head limit".to_owned(),
        },
    }
}

/// The map in a few lines.
#[must_use]
pub fn map_text(view: &MapView<'_>, units: &Units) -> String {
    let MapView { project, part_load, map, .. } = view;
    let title = plain(&project.title);
    let [along, up] = axis_names(map.plane.axes);
    let mut text = format!("{title}\n{}\n", "=".repeat(width(&title)));
    text += &format!("{}: {up} over {along}, at {}\n\n", plain(view.pump()), held(&map.plane, units));
    let served = map.cells.iter().filter(|cell| view.or_impossible(cell.miss()).is_none()).count();
    let looked_at = looked_at(view);
    text += &match (map.region.is_empty(), served) {
        (false, 0) => format!(
            "Region: there is one, thinner than the cells of the map, in which every zone keeps its band in {looked_at}.\n"
        ),
        (false, served) => {
            let share = units.format(Quantity::Share, served as f64 / map.cells.len().max(1) as f64);
            format!("Region: on about {share} of this plane every zone keeps its band in {looked_at}.\n")
        }
        (true, _) if view.is_best_served() => format!(
            "Region: none on this plane; with the {} changed too, there are settings that serve every zone in {looked_at}.\n",
            held_name(map.plane.axes)
        ),
        (true, _) => format!("Region: none. {}\n", why_none(project, part_load, view.deciding, units)),
    };
    if let Some(best) = &view.best {
        let what = if view.is_best_served() { "Best" } else { "Starves none, with least energy" };
        let settings = settings_words(&best.settings, units);
        text += &format!("{what}: {settings}; {}.\n", view.energy(best.mean_w, units));
    }
    let mean_w = part_load.mean_power_w(&part_load.law(&view.present));
    let stands = match view.miss(&view.present) {
        Some(miss) => miss_words(project, part_load, &miss, units),
        None => "every zone keeps its band".to_owned(),
    };
    let settings = settings_words(&view.present, units);
    text += &format!("Present: {settings}; {}; {stands}.\n", view.energy(mean_w, units));
    text + &format!("\n{CAUTION}\n")
}

/// "all 7 scenarios and all 15 combinations of open zones".
pub(super) fn looked_at(view: &MapView<'_>) -> String {
    let scenarios = match view.part_load.tables.len() {
        1 => "the one scenario".to_owned(),
        count => format!("all {count} scenarios"),
    };
    let combined = view.part_load.combined.as_ref();
    scenarios + &combined.map_or_else(String::new, |combined| format!(" and {}", combined.words))
}

/// The setting that is held while the two on the axes are moved.
pub(super) fn held_name(axes: Axes) -> &'static str {
    match axes {
        Axes::LimitOverSlope => "speed cap",
        Axes::LimitOverCap => "slope",
        Axes::SlopeOverCap => "head limit",
    }
}

/// The cells of the map as CSV.
#[must_use]
pub fn map_csv(view: &MapView<'_>) -> String {
    let headings = [
        "head_limit_m",
        "slope_percent",
        "speed_cap_percent",
        "mean_power_w",
        "energy_kwh_per_year",
        "verdict",
        "zone",
        "pipe_or_valve",
        "scenario",
    ];
    let mut text = line(&headings);
    let plane = &view.map.plane;
    for (index, cell) in view.map.cells.iter().enumerate() {
        let rows = view.map.cells.len() / view.map.columns.max(1);
        let middle = |k: usize, of: usize| (k as f64 + 0.5) / of.max(1) as f64;
        let at = plane.at([middle(index % view.map.columns, view.map.columns), middle(index / view.map.columns, rows)]);
        let settings = plane.settings(at);
        let energy_kwh = match view.part_load.has_hours() {
            true => view.part_load.year_of_mean_j(cell.mean_w) / energy::KWH_J,
            false => f64::NAN,
        };
        let miss = view.or_impossible(cell.miss());
        let name = |is_zone: bool| {
            let named = miss.filter(|miss| matches!(miss.reason, Reason::TooLoud(_)) != is_zone);
            named.map_or_else(String::new, |miss| place(view.project, &miss.reason))
        };
        text += &line(&[
            number(settings.head_limit_m.unwrap_or(f64::NAN)),
            number(100.0 * settings.slope),
            number(100.0 * settings.speed_cap),
            number(cell.mean_w),
            number(energy_kwh),
            miss.map_or(SERVED, |miss| verdict(&miss.reason)).to_owned(),
            name(true),
            name(false),
            miss.map_or_else(String::new, |miss| view.part_load.state_name(miss.state).to_owned()),
        ]);
    }
    text
}

/// What a reason says, for a picture.
pub(super) fn reason_words(view: &MapView<'_>, reason: &Reason, units: &Units) -> String {
    words(view.project, reason, units)
}
