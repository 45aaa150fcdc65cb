//! Scenarios made rather than typed: out of a load profile, out of hours by outdoor temperature, or every combination of zones.

use super::form::Form;
use super::number::Measure;
use super::weather::Weather;
use crate::document::{
    Command, LEAP_YEAR_HOURS, Project, Scenario, added_scenarios, of_bins, of_combinations, of_profile,
};
use crate::engine::pump::{EUROPEAN_PROFILE, LoadPoint, UNITED_STATES_PROFILE};
use crate::file::table::read_profile;
use egui::{RichText, TextEdit};

/// Hours to begin with: half a year.
const START_HOURS: f64 = 4380.0;
/// What lines of an own profile look like, for an empty field.
const EXAMPLE: &str = "100 : 6\n75 : 15\n50 : 35\n25 : 44";

/// What scenarios are made out of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Source {
    European,
    UnitedStates,
    Own,
    Weather,
    Combinations,
}

impl Source {
    const ALL: [Self; 5] = [Self::European, Self::UnitedStates, Self::Own, Self::Weather, Self::Combinations];

    fn word(self) -> &'static str {
        match self {
            Self::European => "European load profile",
            Self::UnitedStates => "United States load profile",
            Self::Own => "own load profile",
            Self::Weather => "hours by outdoor temperature",
            Self::Combinations => "every combination of zones",
        }
    }

    /// What it is and where it comes from.
    fn note(self) -> String {
        let sets = "For each share of flow those zones are open whose design flows come nearest to it.";
        match self {
            Self::European => format!(
                "{} Profile of circulators in Europe, EN 16297 and Regulation (EC) 641/2009, from memory. {sets}",
                listed(&EUROPEAN_PROFILE)
            ),
            Self::UnitedStates => format!(
                "{} Profile of circulators in the United States, 10 CFR 431 subpart Y, from memory. {sets}",
                listed(&UNITED_STATES_PROFILE)
            ),
            Self::Own => format!("One load point a line, shares of time coming to 100 %. {sets}"),
            Self::Weather => "The load rises evenly from none at room temperature to all at the design outdoor \
                              temperature. Where thermostatic valves throttle zones, each temperature is a state in that \
                              weather; elsewhere those zones are open whose design flows come nearest to the load: an \
                              approximation of zones on and off in turn."
                .to_owned(),
            Self::Combinations => "Every state in which some zone is open, up to six zones with valves; the hours are spread \
                                   evenly."
                .to_owned(),
        }
    }
}

/// "100 % of flow for 6 % of the time, …".
fn listed(profile: &[LoadPoint]) -> String {
    let shares = |of: fn(&LoadPoint) -> f64| {
        let shares: Vec<String> = profile.iter().map(|load| format!("{:.0}", 100.0 * of(load))).collect();
        shares.join(", ")
    };
    format!("{} % of flow for {} % of the time.", shares(|load| load.flow_share), shares(|load| load.weight))
}

/// Scenarios being made.
#[derive(Debug)]
pub(super) struct Making {
    source: Source,
    hours: f64,
    profile: String,
    weather: Weather,
    /// Why nothing came of it.
    fault: String,
}

impl Making {
    /// The scenarios as chosen.
    fn made(&self, project: &Project) -> Result<Vec<Scenario>, String> {
        match self.source {
            Source::European => of_profile(project, &EUROPEAN_PROFILE, self.hours),
            Source::UnitedStates => of_profile(project, &UNITED_STATES_PROFILE, self.hours),
            Source::Own => of_profile(project, &read_profile(&self.profile)?, self.hours),
            Source::Weather => of_bins(project, &self.weather.bins()?),
            Source::Combinations => of_combinations(project, self.hours),
        }
    }

    /// The command that puts them in the place of the present ones or beside them, if the project takes it.
    fn command(&self, project: &Project, adds: bool) -> Result<Command, String> {
        let made = self.made(project)?;
        let command = Command::SetScenarios(if adds { added_scenarios(project, made) } else { made });
        project.clone().apply(&command).map_err(|refusal| refusal.to_string())?;
        Ok(command)
    }
}

/// Shows it: a button, and once that is pressed what to make them out of.
pub(super) fn show(form: &mut Form<'_, '_>) {
    let Some(mut making) = form.state.making.take() else {
        let hint = "Makes scenarios out of a load profile, hours by outdoor temperature or every combination of zones";
        if form.buttons("make", &[("Make scenarios…", hint)]).is_some() {
            form.state.making = Some(Making {
                source: Source::European,
                hours: START_HOURS,
                profile: String::new(),
                weather: Weather::default(),
                fault: String::new(),
            });
        }
        return;
    };
    form.section("Make scenarios");
    let stays = form.group("making", |form| chosen(form, &mut making));
    if stays {
        form.state.making = Some(making);
    }
}

/// Shows what is chosen; whether the part stays open.
fn chosen(form: &mut Form<'_, '_>, making: &mut Making) -> bool {
    let options = Source::ALL.map(|source| (source, source.word().to_owned()));
    if let Some(source) = form.wide_choice("Out of", "What they are made out of.", making.source.word(), &options) {
        making.source = source;
        making.fault.clear();
    }
    form.note(&making.source.note());
    match making.source {
        Source::Own => own_profile(form, making),
        Source::Weather => {
            if making.weather.show(form) {
                making.fault.clear();
            }
        }
        Source::European | Source::UnitedStates | Source::Combinations => {}
    }
    if making.source != Source::Weather {
        let hint = "Hours a year for all of them together; half a year to begin with.";
        if let Some(hours) = form.number("Hours in all", hint, Measure::Pure(1), making.hours, (1.0, LEAP_YEAR_HOURS)) {
            making.hours = hours;
        }
    }
    let words = [
        ("Replace all", "Puts them in the place of the present scenarios"),
        ("Add them", "Adds them to the present scenarios; together they must fit into a year"),
        ("Close", "Leaves the scenarios as they are"),
    ];
    let stays = match form.buttons("make", &words) {
        Some(pressed @ (0 | 1)) => match making.command(form.view.project, pressed == 1) {
            Ok(command) => {
                form.change(command);
                false
            }
            Err(fault) => {
                making.fault = fault;
                true
            }
        },
        Some(_) => false,
        None => true,
    };
    if stays && !making.fault.is_empty() {
        form.fault(&making.fault);
    }
    stays
}

/// The lines of an own profile.
fn own_profile(form: &mut Form<'_, '_>, making: &mut Making) {
    let label = form.ui.label(RichText::new("Flow % : time %").color(form.view.palette.quiet));
    let edit = TextEdit::multiline(&mut making.profile).id(form.subject.with("profile"));
    let edit = edit.desired_rows(4).desired_width(form.ui.available_width()).hint_text(EXAMPLE);
    if form.ui.add(edit).labelled_by(label.id).changed() {
        making.fault.clear();
    }
}
