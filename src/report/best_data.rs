//! The best setting as JSON, in the units that the key names say.

use super::CAUTION;
use super::beside::{beside_values, settings_value};
use super::best::{BestView, Moved};
use super::energy::KWH_J;
use super::margins::margin_values;
use super::proof::Fault;
use super::reasons::{place, verdict};
use crate::engine::units::Units;
use crate::study::settings::{Best, OffCase, Remedy};
use serde_json::{Value, json};

/// The best setting as JSON.
#[must_use]
pub fn best_data(view: &BestView<'_>) -> String {
    let whole = json!({
        "title": view.project.title,
        "caution": CAUTION,
        "pump": view.pump(),
        "runs_in_the_file": !view.stands,
        "serves_every_zone": view.serves,
        "settings": view.best.map(|best| found(view, &best)),
        "present": settings_value(&view.present),
        "explanation": view.reasons(&Units::si()),
        "combinations": view.part_load.combined.as_ref().map(|combined| &combined.words),
        "proof": {
            "holds": view.proof.holds(),
            "states": view.proof.states,
            "unsolved": view.proof.unsolved,
            "faults": view.proof.faults.iter().map(|fault| faulty(view, fault)).collect::<Vec<_>>(),
        },
        "sources": view.best.map(|best| crate::study::settings::sources_words(view.part_load, &best.settings)),
        "presettings": view.moved.iter().map(|moved| preset(view, moved)).collect::<Vec<_>>(),
        "margins": margin_values(&view.margins()),
        "comparison": beside_values(view.project, view.beside),
        "robustness": view.robust.map(|robust| json!({
            "cases": robust.cases.iter().map(|case| off(view, case)).collect::<Vec<_>>(),
            "still_serves": robust.still.as_ref().map(|(part, best)| json!({
                "part_of_deviations_percent": 100.0 * part,
                "settings": found(view, best),
            })),
        })),
        "remedies": view.remedies.map(|(zone, helps)| json!({
            "zone": zone.map(|zone| view.zone(zone)),
            "each_alone": helps.iter().map(|remedy| help(view, remedy)).collect::<Vec<_>>(),
        })),
    });
    format!("{whole:#}\n")
}

/// Settings with what they take.
fn found(view: &BestView<'_>, best: &Best) -> Value {
    let mut value = settings_value(&best.settings);
    value["mean_power_w"] = json!(best.mean_w);
    value["energy_kwh_per_year"] =
        json!(view.part_load.has_hours().then(|| view.part_load.year_of_mean_j(best.mean_w) / KWH_J));
    value
}

/// What a difference of mean powers comes to in a year; `None` where no scenario has hours.
fn kwh(view: &BestView<'_>, mean_w: f64) -> Option<f64> {
    view.part_load.has_hours().then(|| view.part_load.energy_of_mean_j(mean_w) / KWH_J)
}

fn faulty(view: &BestView<'_>, fault: &Fault) -> Value {
    json!({
        "zone": view.zone(fault.zone),
        "scenario": fault.state,
        "share_percent": 100.0 * fault.share,
        "state": fault.is.word(),
    })
}

fn preset(view: &BestView<'_>, moved: &Moved) -> Value {
    let name = view.project.components.get(&moved.valve).map(|component| component.name.as_str());
    json!({ "valve": name, "present_kv_m3_per_h": moved.from, "kv_m3_per_h": moved.to })
}

fn off(view: &BestView<'_>, case: &OffCase) -> Value {
    json!({
        "name": case.name,
        "verdict": case.miss.map_or(super::reasons::SERVED, |(miss, _)| verdict(&miss.reason)),
        "place": case.miss.map(|(miss, _)| place(view.project, &miss.reason)),
        "scenario": case.miss.map(|(miss, _)| view.part_load.state_name(miss.state)),
        "share_percent": case.miss.and_then(|(_, share)| share).map(|share| 100.0 * share),
    })
}

fn help(view: &BestView<'_>, remedy: &Remedy) -> Value {
    json!({
        "what": remedy.words,
        "settings": remedy.best.as_ref().ok().map(|best| found(view, best)),
        "saves_mean_power_w": remedy.saves_w,
        "saves_kwh_per_year": remedy.saves_w.and_then(|saves_w| kwh(view, saves_w)),
    })
}
