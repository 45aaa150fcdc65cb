//! The part of a page that answers: the list of states, the plot, the figures, the zones with their switches; and the data for the
//! script that fills it.

use super::html::{data, escaped};
use super::plot::{Frame, Mark, path, plot, shape};
use super::states::{Group, Listed, Position, States};
use super::told::{Both, Shown, Told, in_both, told};
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::study::{Curves, Study, SweepError};
use serde::Serialize;
use std::collections::BTreeSet;

/// Least and greatest end of the zones' bars, as a share of design flow.
const SCALES: [f64; 2] = [1.3, 2.0];

/// Open or shut zones that are named one by one.
const NAMED: usize = 3;

/// Everything that the script knows.
#[derive(Serialize)]
struct Data<'a> {
    /// The state shown first, by number among the listed.
    present: usize,
    listed: Vec<Entry<'a>>,
    positions: Vec<NamedTold>,
    /// Which zones have a valve.
    movable: Vec<bool>,
    band: [f64; 2],
    /// Share of design flow at the end of a bar.
    scale: f64,
    /// Regulated curve of each pump, a path.
    regulated: Vec<String>,
}

#[derive(Serialize)]
struct Entry<'a> {
    name: &'a str,
    position: usize,
}

#[derive(Serialize)]
struct NamedTold {
    name: String,
    /// In which weather, where the states differ in that.
    weather: Both,
    #[serde(flatten)]
    told: Told,
}

/// The answering part and its data; empty where the project has no zones or no pump.
///
/// # Errors
/// A state that cannot be studied.
pub(super) fn answer(project: &Project, study: &Study) -> Result<[String; 2], SweepError> {
    let pumps = shown(project, study);
    if pumps.is_empty() || project.zones.is_empty() {
        return Ok([String::new(), String::new()]);
    }
    let states = States::of(project);
    let told = states.solve(project, |case, study| {
        let outdoor = case.outdoor_now_c;
        told(case, study, &pumps, outdoor)
    })?;
    let most = told.iter().flat_map(|told| &told.zones).map(|zone| zone.share).fold(0.0, f64::max);
    let scale = (1.05 * most).clamp(SCALES[0], SCALES[1]);
    let mut text = String::from(
        "<section id=\"answer\" class=\"card\" aria-labelledby=\"answer-title\">\n<div class=\"answer-head\"><h2 \
         id=\"answer-title\">What the system does</h2><p class=\"quiet hint\">Choose a state or switch zones.</p></div>\n",
    );
    text += &list(&states);
    text += "<div>\n";
    text += &pump_choice(project, &pumps);
    text += "<div id=\"told\" role=\"status\" aria-live=\"polite\"><strong id=\"state-name\"></strong> <span \
         id=\"state-weather\" class=\"quiet\"></span><p id=\"says\"></p></div>\n";
    text += &figures(pumps.len());
    for (number, pump) in pumps.iter().enumerate() {
        let marks = marks(&states, &told, number);
        text += &plot(number, name_of(project, pump.id), pump.curves, &pump.frame, &marks);
        text += &legend(number, pump.curves, &marks, project.scenarios.is_empty());
    }
    text += "</div>\n";
    text += &zones(project, &states.reach, scale);
    text += "</section>\n";
    let differs = states.positions.iter().any(|position| position.outdoor_c.is_some());
    let data_of = Data {
        present: states.present,
        listed: states.listed.iter().map(|listed| Entry { name: &listed.name, position: listed.position }).collect(),
        positions: states
            .positions
            .iter()
            .zip(told)
            .map(|(position, told)| NamedTold {
                name: open_zones(project, &position.shut),
                weather: weather(project, position, differs),
                told,
            })
            .collect(),
        movable: project.zones.values().map(|zone| zone.valve.is_some()).collect(),
        band: [project.acceptance.low, project.acceptance.high],
        scale,
        regulated: pumps
            .iter()
            .map(|pump| path(pump.curves.regulated.iter().map(|point| pump.frame.at_head(*point))))
            .collect(),
    };
    Ok([text, data("states", &data_of)])
}

fn name_of(project: &Project, id: ComponentId) -> &str {
    project.components.get(&id).map_or("", |component| component.name.as_str())
}

/// The running pumps; where none runs, all.
fn shown<'a>(project: &Project, study: &'a Study) -> Vec<Shown<'a>> {
    let all: Vec<(ComponentId, bool)> = project.pumps().map(|(id, unit)| (id, unit.running)).collect();
    let any = all.iter().any(|(_, running)| *running);
    let wanted = all.into_iter().filter(|(_, running)| *running || !any);
    let shown = |(id, _)| {
        let curves: &Curves = study.curves(id)?;
        Some(Shown { id, curves, frame: Frame::of(curves) })
    };
    wanted.filter_map(shown).collect()
}

/// Which weather a state is in; nothing where all are in the same. A switched zone may lead from a scenario's own weather back to the
/// design's, which must not go unsaid.
fn weather(project: &Project, position: &Position, differs: bool) -> Both {
    in_both(|units| {
        let temperature = |celsius| units.format(Quantity::Temperature, celsius);
        match (position.outdoor_c, project.design.outdoor_c) {
            _ if !differs => String::new(),
            (Some(now), _) => format!("Outdoors {}", temperature(now)),
            (None, Some(design)) => format!("Outdoors {}, the design's weather", temperature(design)),
            (None, None) => "The design's weather".to_owned(),
        }
    })
}

/// "Office and Meeting open", "All but Office", "5 of 8 zones open".
fn open_zones(project: &Project, shut: &BTreeSet<ZoneId>) -> String {
    let name = |id: &ZoneId| project.zones.get(id).map_or("", |zone| zone.name.as_str());
    let open: Vec<&str> = project.zones.keys().filter(|id| !shut.contains(id)).map(name).collect();
    let shut: Vec<&str> = shut.iter().map(name).collect();
    match (open.len(), shut.len()) {
        (_, 0) => "All zones open".to_owned(),
        (0, _) => "All zones shut".to_owned(),
        (1, _) => format!("{} alone", open[0]),
        (few, _) if few <= NAMED => format!("{} open", open.join(", ")),
        (_, few) if few <= NAMED => format!("All but {}", shut.join(", ")),
        (some, _) => format!("{some} of {} zones open", project.zones.len()),
    }
}

fn list(states: &States) -> String {
    let mut text = String::from("<div class=\"states\" role=\"group\" aria-label=\"States of the zone valves\">\n");
    for (group, title) in
        [(Group::Scenario, "Scenarios"), (Group::Together, "All at once"), (Group::Alone, "One zone alone")]
    {
        let of_group: Vec<(usize, &Listed)> =
            states.listed.iter().enumerate().filter(|(_, listed)| listed.group == group).collect();
        if of_group.is_empty() {
            continue;
        }
        text += &format!("<fieldset><legend>{title}</legend><div class=\"row\">\n");
        for (number, listed) in of_group {
            let hours = match listed.hours {
                Some(hours) if hours > 0.0 => {
                    let hours = Units::si().format(Quantity::Time, hours * super::super::energy::HOUR_S);
                    format!("<small>{}</small>", escaped(&hours))
                }
                _ => String::new(),
            };
            text += &format!(
                "<label class=\"state\"><input type=\"radio\" name=\"state\" value=\"{number}\"><span>{}</span>{hours}</label>\n",
                escaped(&listed.name)
            );
        }
        text += "</div></fieldset>\n";
    }
    text + "</div>\n"
}

fn pump_choice(project: &Project, pumps: &[Shown<'_>]) -> String {
    if pumps.len() < 2 {
        return String::new();
    }
    let option = |(number, pump): (usize, &Shown<'_>)| {
        format!("<option value=\"{number}\">{}</option>", escaped(name_of(project, pump.id)))
    };
    let options: String = pumps.iter().enumerate().map(option).collect();
    format!("<p class=\"pick\"><label for=\"pump\">Circulator</label> <select id=\"pump\">{options}</select></p>\n")
}

fn figures(pumps: usize) -> String {
    let mut cells = vec![
        ("flow", "Flow"),
        ("head", "Head"),
        ("speed", "Speed"),
        ("power", "Electric power"),
        ("governs", "Governing"),
    ];
    if pumps > 1 {
        cells.push(("total", "All circulators"));
    }
    let cell = |(id, name): (&str, &str)| format!("<div><dt>{name}</dt><dd id=\"figure-{id}\"></dd></div>");
    format!("<dl class=\"figures of-{}\">{}</dl>\n", cells.len(), cells.into_iter().map(cell).collect::<String>())
}

/// A mark for every scenario; without scenarios for every listed state.
fn marks<'a>(states: &'a States, told: &[Told], pump: usize) -> Vec<Mark<'a>> {
    let has_scenarios = states.listed.iter().any(|listed| listed.group == Group::Scenario);
    let mark = |(number, listed): (usize, &'a Listed)| {
        let told = told.get(listed.position)?;
        let [at, _] = told.pumps.get(pump)?.at?;
        let class = told.worst.and_then(|worst| told.zones.get(worst)).map_or("shut", |zone| zone.class);
        Some(Mark { listed: number, name: &listed.name, at, class })
    };
    let marked = states.listed.iter().enumerate();
    marked.filter(|(_, listed)| !has_scenarios || listed.group == Group::Scenario).filter_map(mark).collect()
}

fn legend(number: usize, curves: &Curves, marks: &[Mark<'_>], of_any_state: bool) -> String {
    let line = |class: &str| format!("<path class=\"{class}\" d=\"M2 5H24\"/>");
    let mark = |class: &str| format!("<path class=\"mark {class}\" d=\"{}\"/>", shape(class, [13.0, 5.0]));
    let is_marked = |class: &str| marks.len() > 1 && marks.iter().any(|mark| mark.class == class);
    let what = if of_any_state { "a state" } else { "a scenario" };
    let entries = [
        (true, line("regulated"), "regulated curve".to_owned()),
        (true, line("system"), "system curve of this state".to_owned()),
        (!curves.set_line.is_empty(), line("set-line"), "set-line and head limit".to_owned()),
        (true, line("capped"), "speed cap".to_owned()),
        (!curves.power_limited.is_empty(), line("limited"), "power limit".to_owned()),
        (true, line("full"), "full speed".to_owned()),
        (true, line("drawn"), "power drawn".to_owned()),
        (is_marked("served"), mark("served"), format!("{what}, all served")),
        (is_marked("short"), mark("short"), format!("{what}, a zone gets too little")),
        (is_marked("over"), mark("over"), format!("{what}, a zone gets too much")),
    ];
    let entry = |(_, drawn, name): (bool, String, String)| {
        format!("<li><svg class=\"plot\" viewBox=\"0 0 26 10\" aria-hidden=\"true\">{drawn}</svg>{name}</li>")
    };
    let entries: String = entries.into_iter().filter(|(is_there, ..)| *is_there).map(entry).collect();
    format!("<ul class=\"legend\" data-pump=\"{number}\" aria-label=\"Lines of the plot\">{entries}</ul>\n")
}

fn zones(project: &Project, reach: &str, scale: f64) -> String {
    let mut text = String::from("<div class=\"zone-side\">\n<ul class=\"zones\" aria-label=\"Zones\">\n");
    for zone in project.zones.values() {
        text += &format!(
            "<li class=\"zone\"><label><input type=\"checkbox\" role=\"switch\"><span>{}</span></label><div class=\"stands\"><span \
             class=\"share\"></span> <span class=\"word\"></span></div><div class=\"bar\" aria-hidden=\"true\"><span \
             class=\"band\"></span><span class=\"whole\"></span><span class=\"fill\"></span></div><div \
             class=\"amounts\"></div></li>\n",
            escaped(&zone.name)
        );
    }
    let band = &project.acceptance;
    let [low, high] = [band.low, band.high].map(|share| crate::study::share_as_set(share, &Units::si()));
    text += &format!(
        "</ul>\n<p class=\"scale\">Bars: flow as a share of design flow, up to {} %. Shaded: {low} to {high} ({}).</p>\n",
        (scale * 100.0).floor(),
        escaped(&band.source)
    );
    text + &format!("<p class=\"scale hint\">{}</p>\n</div>\n", escaped(reach))
}
