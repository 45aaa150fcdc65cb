//! What a page's script shows of each state: texts in both sets of units, made by the same functions as everywhere else, and places in
//! the plot. The script computes nothing.

use super::super::record::scenarios::worst;
use super::plot::{Frame, Spot, path, rounded};
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::study::{
    Curves, Results, Study, ZoneResult, ZoneState, governing_at, ill_source, limit_name, share_beside_state,
    verdict_sentence,
};
use serde::Serialize;

/// How far a state's own regulated curve may lie from the drawn one before it is drawn instead, in the plot's units.
const APART: f64 = 0.75;

/// SI, then inch-pound.
pub(super) type Both = [String; 2];

/// A text in both sets of units.
pub(super) fn in_both(text: impl Fn(&Units) -> String) -> Both {
    [text(&Units::si()), text(&Units::inch_pound())]
}

/// What one state comes to.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Told {
    /// One letter a zone: `1` open, `0` shut.
    pub open: String,
    /// Outdoors, °C; none for the design's.
    pub outdoor: Option<f64>,
    /// Whether the figures stand.
    pub stands: bool,
    pub pumps: Vec<PumpTold>,
    pub zones: Vec<ZoneTold>,
    /// The zone that is worst off, by number.
    pub worst: Option<usize>,
    /// Which source comes to harm, if any, and how the zones fare.
    pub says: Both,
    /// Electric power of all pumps.
    pub total: Both,
}

/// What one pump does.
#[derive(Clone, Debug, Serialize)]
pub(super) struct PumpTold {
    /// Operating point in the plot, of head and of power; none where there is none to show.
    pub at: Option<[Spot; 2]>,
    pub flow: Both,
    pub head: Both,
    pub speed: String,
    pub power: Both,
    pub governs: &'static str,
    /// What governs, in a sentence.
    pub says: Both,
    /// System curve, a path.
    pub system: String,
    /// Regulated curve where the water of this state makes it another than the drawn one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub regulated: Option<String>,
}

/// What one zone gets.
#[derive(Clone, Debug, Serialize)]
pub(super) struct ZoneTold {
    /// Flow over design flow.
    pub share: f64,
    pub shown: String,
    pub word: &'static str,
    pub class: &'static str,
    pub flow: Both,
    pub heat: Both,
    pub heat_share: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<Both>,
}

/// The class of a zone that stands so: what colour, mark and words hang on.
pub(super) fn class(state: ZoneState) -> &'static str {
    match state {
        ZoneState::Shut => "shut",
        ZoneState::Overflowed => "over",
        state if state.is_short() => "short",
        _ => "served",
    }
}

/// A pump on the page.
pub(super) struct Shown<'a> {
    pub id: ComponentId,
    pub curves: &'a Curves,
    pub frame: Frame,
}

/// What is told of a studied state.
pub(super) fn told(project: &Project, study: &Study, pumps: &[Shown<'_>], outdoor: Option<f64>) -> Told {
    let results = study.results();
    let zones: Vec<&ZoneResult> = results.zones.values().collect();
    let open = zones.iter().map(|zone| if zone.state == ZoneState::Shut { '0' } else { '1' }).collect();
    let worst = worst(results);
    Told {
        open,
        outdoor,
        stands: results.converged(),
        pumps: pumps.iter().map(|pump| pump_told(study, pump)).collect(),
        zones: zones.into_iter().map(|zone| zone_told(project, zone)).collect(),
        worst: worst.and_then(|(id, _)| results.zones.keys().position(|zone| *zone == id)),
        says: in_both(|units| {
            let fares = fares(project, results, worst, units);
            ill(project, results, units).map_or_else(|| fares.clone(), |ill| format!("{ill} {fares}"))
        }),
        total: in_both(|units| units.format(Quantity::Power, super::super::energy::power_w(results))),
    }
}

fn pump_told(study: &Study, shown: &Shown<'_>) -> PumpTold {
    let results = study.results();
    let frame = &shown.frame;
    let Some(pump) = results.pumps.get(&shown.id) else {
        let none = || [String::new(), String::new()];
        return PumpTold {
            at: None,
            flow: none(),
            head: none(),
            speed: String::new(),
            power: none(),
            governs: "",
            says: none(),
            system: String::new(),
            regulated: None,
        };
    };
    let curves = study.curves(shown.id);
    let spots = [frame.at_head([pump.flow, pump.head]), frame.at_power([pump.flow, pump.electric_w])].map(rounded);
    let is_shown = pump.running && results.converged() && spots.iter().flatten().all(|value| value.is_finite());
    let stands = |text: String| if pump.running { text } else { "–".to_owned() };
    let drawn = |curves: &Curves| path(curves.regulated.iter().map(|point| frame.at_head(*point)));
    PumpTold {
        at: is_shown.then_some(spots),
        flow: in_both(|units| stands(units.format(Quantity::Flow, pump.flow))),
        head: in_both(|units| stands(units.format(Quantity::Head, pump.head))),
        speed: stands(Units::si().format(Quantity::Speed, pump.speed)),
        power: in_both(|units| units.format(Quantity::Power, pump.electric_w)),
        governs: pump.governing.map_or("off", limit_name),
        says: in_both(|units| {
            let governs = governing_at(pump, curves.map_or(&[], |curves| &curves.ranges), units);
            let verdict = verdict_sentence(results, pump);
            if verdict.is_empty() { governs } else { format!("{governs} {verdict}") }
        }),
        system: curves.map_or_else(String::new, |curves| path(curves.system.iter().map(|p| frame.at_head(*p)))),
        regulated: curves.filter(|curves| lie_apart(curves, shown.curves, frame)).map(drawn),
    }
}

/// Whether two regulated curves are seen to differ.
fn lie_apart(one: &Curves, other: &Curves, frame: &Frame) -> bool {
    let head = |curves: &Curves, flow: f64| -> Option<f64> {
        let pair = curves.regulated.windows(2).find(|pair| pair[0][0] <= flow && flow <= pair[1][0])?;
        let along = pair[1][0] - pair[0][0];
        let share = if along > 0.0 { (flow - pair[0][0]) / along } else { 0.0 };
        Some(pair[0][1] + share * (pair[1][1] - pair[0][1]))
    };
    one.regulated.iter().any(|&[flow, here]| {
        head(other, flow)
            .is_some_and(|there| (frame.at_head([flow, here])[1] - frame.at_head([flow, there])[1]).abs() > APART)
    })
}

fn zone_told(project: &Project, zone: &ZoneResult) -> ZoneTold {
    let si = Units::si();
    ZoneTold {
        share: (zone.share * 1e4).round() / 1e4,
        shown: share_beside_state(zone.share, Some(zone.state), &project.acceptance, &si),
        word: zone.state.word(),
        class: class(zone.state),
        flow: in_both(|units| units.format(Quantity::Flow, zone.flow)),
        heat: in_both(|units| units.format(Quantity::Heat, zone.heat)),
        heat_share: si.format(Quantity::Share, zone.heat_share),
        room: zone.room_c.map(|room_c| in_both(|units| units.format(Quantity::Temperature, room_c))),
    }
}

/// The source that comes to harm, with what helps.
fn ill(project: &Project, results: &Results, units: &Units) -> Option<String> {
    let (what, help) = ill_source(project, results, units).filter(|_| results.converged())?;
    Some(format!("{what} {help}"))
}

/// How the zones fare, with the worst of them.
fn fares(project: &Project, results: &Results, worst: Option<(ZoneId, &ZoneResult)>, units: &Units) -> String {
    if !results.converged() {
        return String::new();
    }
    let Some((id, zone)) = worst else { return "No zone is open.".to_owned() };
    let name = project.zones.get(&id).map_or("", |zone| zone.name.as_str());
    let share = share_beside_state(zone.share, Some(zone.state), &project.acceptance, units);
    let outside = crate::study::zones_outside(results);
    let open = results.zones.values().filter(|zone| zone.state != ZoneState::Shut).count();
    match (zone.state, open) {
        (ZoneState::TooCold | ZoneState::TooWarm, _) => {
            let room = zone.room_c.map_or_else(String::new, |room_c| units.format(Quantity::Temperature, room_c));
            format!("{outside} Worst: {name}, {} at {room}.", zone.state.word())
        }
        (ZoneState::Still, _) => format!("{outside} Worst: {name}, without flow."),
        (state, _) if class(state) != "served" => {
            format!("{outside} Worst: {name} with {share} of design flow, {}.", state.word())
        }
        (ZoneState::Throttled, _) => {
            format!(
                "All {open} open zones are served; {name} is throttled by its thermostatic valve to {share} of design flow."
            )
        }
        (_, 1) => format!("{name} is served with {share} of design flow."),
        (_, open) => format!("All {open} open zones are served; least has {name} with {share} of design flow."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_state_of_a_zone_has_its_class() {
        let classes = [ZoneState::Starved, ZoneState::Overflowed, ZoneState::Throttled, ZoneState::Shut].map(class);
        assert_eq!(classes, ["short", "over", "served", "shut"]);
    }
}
