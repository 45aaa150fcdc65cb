//! The sentence for people who look on: how the rooms fare, and below it what the pump does for that; with a "before" kept, the
//! difference instead.

use super::super::desk::Standing;
use super::super::view::View;
use super::before::Before;
use super::text::{self, Type};
use super::{rooms, source};
use crate::engine::network::Verdict;
use crate::engine::units::Quantity;
use crate::study::verdict_sentence;
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
    let Told { lines: told, is_grave, source_lacks } = match before.filter(|_| !view.is_stale()) {
        Some(before) => Told::new(before.difference(view), String::new(), false),
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
    if source_lacks {
        text::lines(painter, below, second, Type::strong(SECOND * view.scale), 1, palette.starved);
    } else {
        text::lines(painter, below, second, Type::plain(SECOND * view.scale), 1, palette.quiet);
    }
}

/// What is told.
struct Told {
    lines: [String; 2],
    /// Whether the first line tells of something that is not as it should be.
    is_grave: bool,
    /// Whether the second tells of a source that lacks water.
    source_lacks: bool,
}

impl Told {
    fn new(first: String, second: String, is_grave: bool) -> Self {
        Self { lines: [first, second], is_grave, source_lacks: false }
    }
}

/// Both lines.
fn words(view: &View<'_>) -> Told {
    let old = "What is pale is of the drawing before.".to_owned();
    match view.standing {
        Standing::Current => {}
        Standing::Failed(why) => return Told::new(format!("This drawing cannot be solved: {why}"), old, true),
        Standing::Working(seconds) => return Told::new(format!("Solving, for {seconds:.0} s."), old, false),
        Standing::GivenUp => return Told::new("This drawing has not been solved.".to_owned(), old, true),
    }
    let Some(pump) = view.pump_result() else {
        return Told::new("There is no circulator: nothing flows.".to_owned(), String::new(), true);
    };
    let verdict = verdict_sentence(view.results, pump);
    // Beyond the catalogue's data the rooms can still be told of; figures that do not hold must not be.
    let holds = view.results.verdict == Verdict::Converged && view.results.stable && view.results.temperatures_agree;
    if !holds {
        return Told::new(verdict, String::new(), true);
    }
    let (comfort, is_grave) = rooms::sentence(view);
    // Before what the pump does comes what may bring harm.
    if let Some(lacks) = source::short(view) {
        let below = scenario(view).map_or(lacks.clone(), |name| format!("{name}. {lacks}"));
        return Told { lines: [comfort, below], is_grave, source_lacks: true };
    }
    let below = if verdict.is_empty() { doing(view) } else { verdict };
    Told::new(comfort, below, is_grave)
}

/// The scenario that the valves stand in.
fn scenario<'a>(view: &View<'a>) -> Option<&'a str> {
    view.project.scenarios.get(view.scenario?).map(|scenario| scenario.name.as_str())
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
    match scenario(view) {
        Some(name) => format!("{name}: {pumps}."),
        None => format!("{}.", super::super::frame::capital(&pumps)),
    }
}
