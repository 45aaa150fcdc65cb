//! Circulators of a record: the three settings, large and clear, with what they are measured by, how the device takes them, and what
//! is predicted of them.

use super::super::table::reference;
use super::sheet::Fact;
use super::solved::Solved;
use crate::document::{ComponentId, PumpUnit, SettingSteps, stepped};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, SPACE, Units};
use crate::study::{PumpResult, governing_at, governing_ranges, share_as_set, verdict_sentence, viscous_sentence};
use serde::Serialize;

/// A circulator with its settings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PumpSheet {
    /// Its unique name.
    pub name: String,
    /// Its identity in the project, for pictures of it.
    #[serde(skip)]
    pub id: ComponentId,
    /// Whether it runs in the project.
    pub runs: bool,
    /// Head limit, slope and speed cap.
    pub settings: Vec<SettingShown>,
    /// The way of control in words.
    pub control: String,
    /// Where the set-line reaches the head limit.
    pub reference: String,
    /// Other settings, and what is predicted.
    pub facts: Vec<Fact>,
    /// What the reader must know of it.
    pub remarks: Vec<String>,
}

/// A setting as it is set at the device.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SettingShown {
    /// Its name.
    pub name: &'static str,
    /// Its value with its unit.
    pub value: String,
    /// Steps in which the device takes it, and the nearest of them where the value lies between two.
    pub step: String,
}

/// All circulators.
pub(super) fn pumps(solved: &Solved, units: &Units) -> Vec<PumpSheet> {
    let sheet = |(id, unit): (ComponentId, &PumpUnit)| {
        let result = solved.results().pumps.get(&id)?;
        let settings = &unit.regulation;
        Some(PumpSheet {
            name: solved.name(id).to_owned(),
            id,
            runs: unit.running,
            settings: shown(settings, &unit.steps, units),
            control: control(settings, units),
            reference: reference(unit, result, units),
            facts: facts(solved, (id, unit), result, units),
            remarks: remarks(solved, result, units),
        })
    };
    solved.project.pumps().filter_map(sheet).collect()
}

fn shown(settings: &Regulation, steps: &SettingSteps, units: &Units) -> Vec<SettingShown> {
    let head = |value: f64| units.format(Quantity::Head, value);
    let share = |value: f64| share_as_set(value, units);
    let speed = |value: f64| units.format(Quantity::Speed, value);
    let limit = match settings.head_limit_m {
        Some(limit) => {
            SettingShown { name: "Head limit", value: head(limit), step: in_steps(limit, steps.head_limit, &head) }
        }
        None => SettingShown { name: "Head limit", value: "none".to_owned(), step: String::new() },
    };
    let slope = match settings.head_limit_m {
        Some(_) => SettingShown {
            name: "Slope",
            value: share(settings.slope),
            step: in_steps(settings.slope, steps.slope, &share),
        },
        None => SettingShown { name: "Slope", value: "–".to_owned(), step: "without a head limit".to_owned() },
    };
    let cap = SettingShown {
        name: "Speed cap",
        value: speed(settings.speed_cap),
        step: in_steps(settings.speed_cap, steps.speed_cap, &speed),
    };
    vec![limit, slope, cap]
}

/// "in steps of 0.10 m", and what to set where the value is no whole step.
fn in_steps(value: f64, step: f64, words: &dyn Fn(f64) -> String) -> String {
    let nearest = stepped(value, step);
    if (nearest - value).abs() <= 1e-6 * step {
        return format!("in steps of {}", words(step));
    }
    format!("between two steps of {}: set {}", words(step), words(nearest))
}

/// The way of control (terms of the trade).
fn control(settings: &Regulation, units: &Units) -> String {
    match settings.head_limit_m {
        None => "Constant speed: it turns at its speed cap whatever flows.".to_owned(),
        Some(limit) if settings.slope == 0.0 => {
            format!(
                "Constant differential pressure: it holds {} as long as the cap lets it.",
                units.format(Quantity::Head, limit)
            )
        }
        Some(limit) => format!(
            "Proportional differential pressure: from {} at no flow up to {} at the reference flow.",
            units.format(Quantity::Head, limit * (1.0 - settings.slope)),
            units.format(Quantity::Head, limit)
        ),
    }
}

fn facts(solved: &Solved, (id, unit): (ComponentId, &PumpUnit), result: &PumpResult, units: &Units) -> Vec<Fact> {
    let format = |quantity, value| units.format(quantity, value);
    let settings = &unit.regulation;
    let mut facts = vec![Fact::new("Minimum speed", format(Quantity::Speed, settings.minimum_speed))];
    if let Some(power) = settings.power_limit_w {
        facts.push(Fact::new("Power limit", format(Quantity::Power, power)));
    }
    facts.push(Fact::new(
        "Full speed",
        format!("{:.0}{SPACE}{}", unit.full_speed_rpm, units.symbol(Quantity::RotationalSpeed)),
    ));
    facts.push(Fact::new("Device address", &*unit.address));
    if !result.running {
        let flow = format(Quantity::Flow, result.flow);
        facts.push(Fact::new("State", format!("stands still in this project; {flow} passes through it")));
        return facts;
    }
    let ranges = solved.study.curves(id).map(|curves| curves.ranges.as_slice()).unwrap_or_default();
    let point = format!("{} at {}", format(Quantity::Flow, result.flow), format(Quantity::Head, result.head));
    let speed = [format(Quantity::Speed, result.speed), format(Quantity::RotationalSpeed, result.speed_rpm)].join(", ");
    let power = [format(Quantity::Power, result.electric_w), format(Quantity::Share, result.wire_to_water)];
    facts.extend([
        Fact::new("All zones open", point),
        Fact::new("Speed there", speed),
        Fact::new("Electric power there", format!("{}, {} of it into the water", power[0], power[1])),
        Fact::new("Governing there", governing_at(result, ranges, units)),
        Fact::new("Over all flows", governing_ranges(ranges, units)),
    ]);
    facts
}

fn remarks(solved: &Solved, result: &PumpResult, units: &Units) -> Vec<String> {
    let said = [viscous_sentence(result, units), verdict_sentence(solved.results(), result)];
    said.into_iter().filter(|text| !text.is_empty()).collect()
}
