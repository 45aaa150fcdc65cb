//! Present figures of what is set at the pump.

use super::super::Here;
use super::super::subject::{InHand, Subject};
use super::{equals, words};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::Quantity;
use crate::study::{limit_name, share_as_set};

pub(super) fn head_limit(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    let Some(limit) = pump.unit.regulation.head_limit_m else {
        return words("none is set: the speed cap alone holds the pump".to_owned());
    };
    let head = |head| of.says(Quantity::Head, head);
    let now =
        if pump.result.running { format!("; the pump gives {} now", head(pump.result.head)) } else { String::new() };
    Some(Here { words: format!("{}{now}", head(limit)), value: Some((Quantity::Head, limit)) })
}

pub(super) fn slope(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    let limit = pump.unit.regulation.head_limit_m?;
    let (start, _) = pump.regulated.set_line(0.0)?;
    let slope = share_as_set(pump.unit.regulation.slope, of.units);
    equals(of, &format!("{} × (1 − {slope})", of.says(Quantity::Head, limit)), Quantity::Head, start)
}

/// What a constant speed gives at the present flow.
fn at_speed(of: &Subject<'_>, pump: &InHand<'_>, speed: f64) -> Option<Here> {
    let flow = pump.result.flow;
    if !(pump.result.running && flow > 0.0 && speed > 0.0) {
        return words(format!("{} of full speed", of.says(Quantity::Speed, speed)));
    }
    let curve = pump.regulated.curve();
    let at_full = of.says(Quantity::Head, curve.full_speed(flow / speed).0);
    let left = format!(
        "({})² × {at_full}, the head at full speed and {}",
        of.says(Quantity::Speed, speed),
        of.says(Quantity::Flow, flow / speed)
    );
    let mut here = equals(of, &left, Quantity::Head, curve.at_speed(flow, speed).0)?;
    here.words.push_str(&format!(" at the present {}", of.says(Quantity::Flow, flow)));
    Some(here)
}

pub(super) fn speed_cap(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    at_speed(of, &pump, pump.unit.regulation.speed_cap)
}

pub(super) fn minimum_speed(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    at_speed(of, &pump, pump.unit.regulation.minimum_speed)
}

pub(super) fn power_limit(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    let power = |watts| of.says(Quantity::Power, watts);
    let takes =
        if pump.result.running { format!("; the pump takes {}", power(pump.result.electric_w)) } else { String::new() };
    match pump.unit.regulation.power_limit_w {
        Some(limit) => Some(Here { words: format!("{}{takes}", power(limit)), value: Some((Quantity::Power, limit)) }),
        None => words(format!("none is set{takes}")),
    }
}

pub(super) fn reference(of: &Subject<'_>) -> Option<Here> {
    match of.in_hand()?.unit.regulation.reference {
        ReferenceFlow::FullSpeed => reference_at(of, true),
        ReferenceFlow::CappedSpeed => reference_at(of, false),
        ReferenceFlow::DesignFlow(_) => reference_as_design(of),
    }
}

/// Where the curve at full speed, or that at the cap, crosses the head limit.
pub(super) fn reference_at(of: &Subject<'_>, is_full: bool) -> Option<Here> {
    let pump = of.in_hand()?;
    let limit = pump.unit.regulation.head_limit_m?;
    let (speed, name) =
        if is_full { (1.0, "full-speed curve") } else { (pump.unit.regulation.speed_cap, "capped curve") };
    let head = of.says(Quantity::Head, limit);
    match pump.regulated.curve().crossing(speed, limit).filter(|flow| *flow > 0.0) {
        Some(flow) => Some(Here {
            words: format!("the {name} crosses {head} at {}", of.says(Quantity::Flow, flow)),
            value: Some((Quantity::Flow, flow)),
        }),
        None => words(format!("the {name} never reaches {head}: the cap alone rules")),
    }
}

pub(super) fn reference_as_design(of: &Subject<'_>) -> Option<Here> {
    let flow = |flow| of.says(Quantity::Flow, flow);
    let all: f64 = of.study.results().zones.values().map(|zone| zone.design_flow).sum();
    match of.in_hand()?.unit.regulation.reference {
        ReferenceFlow::DesignFlow(typed) => Some(Here {
            words: format!("{} as typed; all zones together are designed for {}", flow(typed), flow(all)),
            value: Some((Quantity::Flow, typed)),
        }),
        ReferenceFlow::FullSpeed | ReferenceFlow::CappedSpeed => {
            words(format!("all zones together are designed for {}", flow(all)))
        }
    }
}

pub(super) fn set_line(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    let limit = pump.unit.regulation.head_limit_m?;
    let reference = pump.regulated.reference_m3_per_s()?;
    let flow = if pump.result.running { pump.result.flow.max(0.0) } else { 0.0 };
    let (head, _) = pump.regulated.set_line(flow)?;
    let (limit_words, flow_words) = (of.says(Quantity::Head, limit), of.says(Quantity::Flow, flow));
    let reference_words = of.says(Quantity::Flow, reference);
    let value = Some((Quantity::Head, head));
    if flow >= reference {
        let words =
            format!("{limit_words} at {flow_words}, for that is not below the reference flow, {reference_words}");
        return Some(Here { words, value });
    }
    let slope = share_as_set(pump.unit.regulation.slope, of.units);
    equals(of, &format!("{limit_words} × (1 − {slope} × (1 − {flow_words} ÷ {reference_words}))"), Quantity::Head, head)
}

/// What each limit allows at the present flow, and which of them decides.
pub(super) fn governing(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let flow = pump.result.flow;
    let head = |head| of.says(Quantity::Head, head);
    let regulated = &pump.regulated;
    let mut allowed = Vec::new();
    if let Some((set, _)) = regulated.set_line(flow) {
        allowed.push(format!("set-line {}", head(set)));
    }
    allowed.push(format!("speed cap {}", head(regulated.capped(flow).0)));
    if let Some((limited, _)) = regulated.power_limited(flow) {
        allowed.push(format!("power limit {}", head(limited)));
    }
    let least = regulated.curve().at_speed(flow, pump.unit.regulation.minimum_speed).0;
    if least > 0.0 {
        allowed.push(format!("minimum speed {}", head(least)));
    }
    let (gives, limit) = (pump.result.head, limit_name(regulated.governing(flow)));
    Some(Here {
        words: format!(
            "at {}: {}; the {limit} governs, so {}",
            of.says(Quantity::Flow, flow),
            allowed.join(", "),
            head(gives)
        ),
        value: Some((Quantity::Head, gives)),
    })
}

pub(super) fn steps(of: &Subject<'_>) -> Option<Here> {
    let steps = of.in_hand()?.unit.steps;
    words(format!(
        "{} of head limit, {} of slope, {} of speed cap",
        of.says(Quantity::Head, steps.head_limit),
        share_as_set(steps.slope, of.units),
        share_as_set(steps.speed_cap, of.units)
    ))
}

pub(super) fn variants(of: &Subject<'_>) -> Option<Here> {
    let names: Vec<&str> = of.project.variants.iter().map(|variant| variant.name.as_str()).collect();
    if names.is_empty() { words("none is pinned".to_owned()) } else { words(format!("pinned: {}", names.join(", "))) }
}
