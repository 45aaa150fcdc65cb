//! The sentence for people who look on: how the rooms fare, and below it what the pump does for that; with a "before" kept, the
//! difference instead.

use super::super::desk::Standing;
use super::super::view::View;
use super::before::Before;
use super::text::{self, Type};
use super::warmth;
use crate::engine::network::Verdict;
use crate::engine::units::Quantity;
use crate::study::{ZoneState, verdict_sentence};
use egui::{self, Id, Rect, Sense, Ui, WidgetInfo, pos2};

/// Size of type of the first line and of the second, points at work.
const FIRST: f32 = 18.0;
const SECOND: f32 = 14.5;

/// What the place takes for so large type.
pub(super) fn height(scale: f32) -> f32 {
    (1.28 * (FIRST + SECOND) + 4.0) * scale
}

/// Shows it.
pub(super) fn show(ui: &Ui, place: Rect, view: &View<'_>, before: Option<&Before>) {
    let (told, is_grave) = match before.filter(|_| !view.is_stale()) {
        Some(before) => ([before.difference(view), String::new()], false),
        None => words(view),
    };
    let response = ui.interact(place, Id::unique("sentence of comfort"), Sense::hover());
    let whole = told.iter().filter(|text| !text.is_empty()).cloned().collect::<Vec<_>>().join(" ");
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &whole));
    let palette = &view.palette;
    let color = if is_grave { palette.starved } else { palette.ink };
    let painter = ui.painter();
    let [first, second] = &told;
    if second.is_empty() {
        text::lines(painter, place, first, Type::strong(FIRST * view.scale), 2, color);
        return;
    }
    // Each line has its own place, so that the second stays where it is whatever the first says.
    let split = place.top() + place.height() * FIRST / (FIRST + SECOND);
    let above = Rect::from_min_max(place.min, pos2(place.right(), split));
    let below = Rect::from_min_max(pos2(place.left(), split), place.max);
    text::lines(painter, above, first, Type::strong(FIRST * view.scale), 1, color);
    text::lines(painter, below, second, Type::plain(SECOND * view.scale), 1, palette.quiet);
}

/// Both lines, and whether they tell of something that is not as it should be.
fn words(view: &View<'_>) -> ([String; 2], bool) {
    let old = "What is pale is of the drawing before.".to_owned();
    match view.standing {
        Standing::Current => {}
        Standing::Failed(why) => return ([format!("This drawing cannot be solved: {why}"), old], true),
        Standing::Working(seconds) => return ([format!("Solving, for {seconds:.0} s."), old], false),
        Standing::GivenUp => return (["This drawing has not been solved.".to_owned(), old], true),
    }
    let Some(pump) = view.pump_result() else {
        return (["There is no circulator: nothing flows.".to_owned(), String::new()], true);
    };
    let verdict = verdict_sentence(view.results, pump);
    // Beyond the catalogue's data the rooms can still be told of; figures that do not hold must not be.
    let holds = view.results.verdict == Verdict::Converged && view.results.stable && view.results.temperatures_agree;
    if !holds {
        return ([verdict, String::new()], true);
    }
    let (comfort, is_grave) = comfort(view);
    let below = if verdict.is_empty() { doing(view) } else { verdict };
    ([comfort, below], is_grave)
}

/// How the rooms fare.
fn comfort(view: &View<'_>) -> (String, bool) {
    let zones = || view.project.zones.iter().filter_map(|(id, zone)| Some((zone, view.results.zones.get(id)?)));
    let (open, served) = warmth::rooms(view.results);
    if open == 0 {
        let all = if view.project.zones.is_empty() { "There is no room yet." } else { "All rooms are shut." };
        return (all.to_owned(), false);
    }
    let short = open - served;
    let worst =
        zones().filter(|(_, zone)| zone.state.is_short()).min_by(|a, b| a.1.heat_share.total_cmp(&b.1.heat_share));
    if let Some((zone, result)) = worst {
        let word = super::super::frame::capital(warmth::word(result, view.project.design.duty));
        let rest = match (short, served) {
            (1, 0) => String::new(),
            (1, 1) => " The other room gets what it needs.".to_owned(),
            (1, others) => format!(" The other {others} rooms get what they need."),
            (_, 0) => format!(" None of {open} rooms gets what it needs."),
            (_, others) => format!(" {others} of {open} rooms get what they need."),
        };
        return (format!("{word}: {}.{rest}", zone.name), true);
    }
    let every = if open < view.results.zones.len() { "Every open room" } else { "Every room" };
    let mut more = zones().filter(|(_, zone)| zone.state == ZoneState::Overflowed);
    let text = match (more.next(), more.count()) {
        (None, _) => format!("{every} gets what it needs."),
        (Some((zone, _)), 0) => format!("{every} gets what it needs. More than that: {}.", zone.name),
        (Some(_), others) => format!("{every} gets what it needs, {} of them more.", others + 1),
    };
    (text, false)
}

/// The scenario, and what the pumps take for what they move.
fn doing(view: &View<'_>) -> String {
    let units = view.units;
    let running: Vec<_> = view.results.pumps.values().filter(|pump| pump.running).collect();
    let power = units.format(Quantity::Power, running.iter().map(|pump| pump.electric_w).sum());
    let pumps = match running.as_slice() {
        [] => "the pump is off".to_owned(),
        [pump] => format!("the pump moves {} with {power}", units.format(Quantity::Flow, pump.flow)),
        several => format!("{} pumps take {power}", several.len()),
    };
    let scenario = view.scenario.and_then(|index| view.project.scenarios.get(index));
    match scenario {
        Some(scenario) => format!("{}: {pumps}.", scenario.name),
        None => format!("{}.", super::super::frame::capital(&pumps)),
    }
}
