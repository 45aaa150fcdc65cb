//! Goals and faults out of their written form: what cannot be reached or put in by its nature is told of on loading.

use super::fault::{Fault, FaultPuzzle};
use super::goal::{Band, Goal, PumpSetting};
use super::names::Names;
use super::script::{BandForm, FaultForm, GoalForm, LimitForm, ReferenceKind, SettingForm};
use super::steps::{Flaw, fraction};
use super::template::Template;
use crate::document::{ComponentId, ComponentKind, Project, SettingRanges, ZoneId};
use crate::engine::pump::{GoverningLimit, ReferenceFlow};
use crate::engine::units::Unit;

/// All goals of a step.
pub(super) fn read_all(
    names: &Names,
    pump: ComponentId,
    state: &Project,
    forms: Vec<GoalForm>,
) -> Result<Vec<Goal>, Flaw> {
    if forms.is_empty() {
        return Err(Flaw::near("goals", "there is nothing to reach: write at least one goal"));
    }
    forms.into_iter().map(|form| read(names, pump, state, form)).collect()
}

fn read(names: &Names, pump: ComponentId, state: &Project, form: GoalForm) -> Result<Goal, Flaw> {
    let at = |name: &str| {
        let name = name.to_owned();
        move |what: String| Flaw::at(&name, what)
    };
    let same = |value: f64| value;
    let ranges = state.pump(pump).map(|unit| unit.ranges());
    let setting = |setting: PumpSetting, field: &str, form: BandForm, si: fn(f64) -> f64| {
        let band = band(form, field, si)?;
        let range = ranges.as_ref().map_or((0.0, f64::INFINITY), |ranges| range_of(setting, ranges));
        reachable(band, range, field)?;
        Ok(Goal::Setting(setting, band))
    };
    Ok(match form {
        GoalForm::Governs(limit) => Goal::Governs(governing(limit)),
        GoalForm::ZoneShare { zone, least_percent, most_percent } => {
            let form = BandForm { least: least_percent, most: most_percent };
            Goal::ZoneShare(names.zone(&zone).map_err(at(&zone))?, band(form, &format!("\"{zone}\""), fraction)?)
        }
        GoalForm::AllZonesServed => Goal::AllZonesServed,
        GoalForm::AllScenariosServed => Goal::AllScenariosServed,
        GoalForm::Stable => Goal::Stable,
        GoalForm::Power(form) => Goal::Power(band(form, "power_w", same)?),
        GoalForm::Flow(form) => Goal::Flow(band(form, "flow_m3_per_h", |flow| Unit::CubicMetrePerHour.to_si(flow))?),
        GoalForm::Head(form) => {
            let band = band(form, "head_m", same)?;
            if let Some(ranges) = &ranges {
                reachable(band, (0.0, ranges.head_limit.1), "head_m")?;
            }
            Goal::Head(band)
        }
        GoalForm::ZoneOpen(zone) => Goal::ZoneOpen(movable(names, &zone)?, true),
        GoalForm::ZoneShut(zone) => Goal::ZoneOpen(movable(names, &zone)?, false),
        GoalForm::Runs(name) => Goal::Runs(names.pump(&name).map_err(at(&name))?, true),
        GoalForm::Stands(name) => Goal::Runs(names.pump(&name).map_err(at(&name))?, false),
        GoalForm::HeadLimit(form) => setting(PumpSetting::HeadLimit, "head_limit_m", form, same)?,
        GoalForm::Slope(form) => setting(PumpSetting::Slope, "slope_percent", form, fraction)?,
        GoalForm::SpeedCap(form) => setting(PumpSetting::SpeedCap, "speed_cap_percent", form, fraction)?,
        GoalForm::MinimumSpeed(form) => setting(PumpSetting::MinimumSpeed, "minimum_speed_percent", form, fraction)?,
        GoalForm::ReferenceFlow(kind) => Goal::Reference(match kind {
            ReferenceKind::FullSpeed => ReferenceFlow::FullSpeed,
            ReferenceKind::CappedSpeed => ReferenceFlow::CappedSpeed,
            // Only which of the three it is counts.
            ReferenceKind::DesignFlow => ReferenceFlow::DesignFlow(1.0),
        }),
        GoalForm::Kept(SettingForm::HeadLimit) => Goal::Kept(PumpSetting::HeadLimit),
        GoalForm::Kept(SettingForm::Slope) => Goal::Kept(PumpSetting::Slope),
        GoalForm::Kept(SettingForm::SpeedCap) => Goal::Kept(PumpSetting::SpeedCap),
        GoalForm::Kept(SettingForm::MinimumSpeed) => Goal::Kept(PumpSetting::MinimumSpeed),
        GoalForm::NearBestPercent(percent) if percent >= 0.0 => Goal::NearBest(fraction(percent)),
        GoalForm::NearBestPercent(_) => {
            return Err(Flaw::near("near_best_percent", "near_best_percent must not be negative: correct it"));
        }
    })
}

/// A zone that can be shut.
fn movable(names: &Names, zone: &str) -> Result<ZoneId, Flaw> {
    names.valve_of(zone).and_then(|_| names.zone(zone)).map_err(|what| Flaw::at(zone, what))
}

fn band(form: BandForm, field: &str, si: impl Fn(f64) -> f64) -> Result<Band, Flaw> {
    let BandForm { least, most } = form;
    match (least, most) {
        (None, None) => Err(Flaw::near(field, "a goal has neither a least nor a most: write one of them")),
        _ if [least, most].into_iter().flatten().any(|end| !end.is_finite()) => {
            Err(Flaw::near(field, "an end of its band is no number: write figures"))
        }
        (Some(least), Some(most)) if least > most => {
            Err(Flaw::near(field, format!("nothing is at least {least} and at most {most}: exchange the two")))
        }
        _ => Ok(Band { least: least.map(&si), most: most.map(&si) }),
    }
}

/// Whether a band has a value within a range.
fn reachable(band: Band, (low, high): (f64, f64), field: &str) -> Result<(), Flaw> {
    let beyond = band.least.is_some_and(|least| least > high + 1e-9) || band.most.is_some_and(|most| most < low - 1e-9);
    if beyond {
        let what = format!("the circulator cannot reach {field} of that goal: bring it into the circulator's range");
        return Err(Flaw::near(field, what));
    }
    Ok(())
}

fn range_of(setting: PumpSetting, ranges: &SettingRanges) -> (f64, f64) {
    match setting {
        PumpSetting::HeadLimit => ranges.head_limit,
        PumpSetting::Slope => ranges.slope,
        PumpSetting::SpeedCap => (0.05, 1.0),
        PumpSetting::MinimumSpeed => (0.0, 1.0),
    }
}

pub(super) fn governing(limit: LimitForm) -> GoverningLimit {
    match limit {
        LimitForm::SetLine => GoverningLimit::SetLine,
        LimitForm::HeadLimit => GoverningLimit::HeadLimit,
        LimitForm::SpeedCap => GoverningLimit::SpeedCap,
        LimitForm::PowerLimit => GoverningLimit::PowerLimit,
        LimitForm::MinimumSpeed => GoverningLimit::MinimumSpeed,
    }
}

/// A puzzle of its seed, its suspects and its texts.
pub(super) fn puzzle(
    (names, project): (&Names, &Project),
    (seed, forms): (u64, Vec<FaultForm>),
    question: Template,
    because: Template,
) -> Result<FaultPuzzle, Flaw> {
    let suspects: Result<Vec<Fault>, Flaw> = forms.into_iter().map(|form| fault(names, project, form)).collect();
    let suspects = suspects.map_err(|flaw| flaw.behind("suspects"))?;
    if suspects.len() < 2 {
        return Err(Flaw::near("suspects", "there must be at least two suspects: write another one"));
    }
    Ok(FaultPuzzle { seed, suspects, question, because })
}

fn fault(names: &Names, project: &Project, form: FaultForm) -> Result<Fault, Flaw> {
    let part = |name: &str, wanted: &str, is: fn(&ComponentKind) -> bool| {
        let id = names.component(name).map_err(|what| Flaw::at(name, what))?;
        match project.components.get(&id) {
            Some(component) if is(&component.kind) => Ok(id),
            _ => Err(Flaw::at(name, format!("“{name}” is no {wanted}: name one"))),
        }
    };
    let share = |name: &str, percent: f64, most: f64| match percent > 0.0 && percent <= most {
        true => Ok(fraction(percent)),
        false => Err(Flaw::at(name, format!("its per cent must lie above 0 and up to {most}: correct it"))),
    };
    let zone = |name: &str| names.zone(name).map_err(|what| Flaw::at(name, what));
    let two_position = |name: &str| {
        let valve = names.valve_of(name).map_err(|what| Flaw::at(name, what))?;
        match project.components.get(&valve).map(|component| &component.kind) {
            Some(ComponentKind::ZoneValve { .. }) => zone(name),
            _ => Err(Flaw::at(name, format!("“{name}” has no zone valve that is open or shut: name a zone with one"))),
        }
    };
    let is_pump = |kind: &ComponentKind| matches!(kind, ComponentKind::Pump(_));
    Ok(match form {
        FaultForm::Nothing => Fault::Nothing,
        FaultForm::FouledStrainer { component, kv_percent } => Fault::FouledStrainer(
            part(&component, "strainer", |kind| matches!(kind, ComponentKind::Strainer { .. }))?,
            share(&component, kv_percent, 100.0)?,
        ),
        FaultForm::BlockedEmitter { zone: name, kv_percent } => {
            Fault::BlockedEmitter(zone(&name)?, share(&name, kv_percent, 100.0)?)
        }
        FaultForm::WrongPresetting { valve, kv_percent } => Fault::WrongPresetting(
            part(&valve, "balancing valve", |kind| matches!(kind, ComponentKind::BalancingValve { .. }))?,
            share(&valve, kv_percent, 1000.0)?,
        ),
        FaultForm::LeakingValve { zone: name, kv_percent } => {
            Fault::LeakingValve(two_position(&name)?, share(&name, kv_percent, 100.0)?)
        }
        FaultForm::StuckValve { zone: name, kv_percent } => {
            Fault::StuckValve(two_position(&name)?, share(&name, kv_percent, 100.0)?)
        }
        FaultForm::LowCap { pump, cap_percent } => {
            Fault::LowCap(part(&pump, "circulator", is_pump)?, share(&pump, cap_percent, 100.0)?)
        }
        FaultForm::WornPump { pump, head_percent } => {
            Fault::WornPump(part(&pump, "circulator", is_pump)?, share(&pump, head_percent, 100.0)?)
        }
    })
}
