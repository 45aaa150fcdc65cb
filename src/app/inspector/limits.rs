//! The limits of a design: what friction, velocity, authority and pressure may come to.

use super::form::Form;
use super::number::Measure;
use crate::document::{Command, Limits};
use crate::engine::units::Quantity;

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>) {
    form.section("Limits of the design");
    form.group("limits", figures);
}

fn figures(form: &mut Form<'_, '_>) {
    let limits = &form.view.project.limits;
    let mut wanted = None;
    let friction = Measure::Of(Quantity::FrictionGradient);
    let velocity = Measure::Of(Quantity::Velocity);
    let [least, most] = limits.friction;
    let hint = "A pipe with less is larger than it need be.";
    if let Some(least) = form.number("Friction, least", hint, friction, least, (0.0, 1e4)) {
        wanted = Some(Limits { friction: [least, most], ..limits.clone() });
    }
    let hint = "A pipe with more costs head.";
    if let Some(most) = form.number("Friction, most", hint, friction, most, (1.0, 1e5)) {
        wanted = Some(Limits { friction: [least, most], ..limits.clone() });
    }
    let [least, most] = limits.velocity;
    let hint = "Slower water does not carry air along.";
    if let Some(least) = form.number("Velocity, least", hint, velocity, least, (0.0, 10.0)) {
        wanted = Some(Limits { velocity: [least, most], ..limits.clone() });
    }
    let hint = "Faster water is heard; up to DN 50. Above it friction alone decides.";
    if let Some(most) = form.number("Velocity, most", hint, velocity, most, (0.01, 20.0)) {
        wanted = Some(Limits { velocity: [least, most], ..limits.clone() });
    }
    let hint = "Least share of its branch's pressure drop that a valve which regulates holds when open.";
    if let Some(authority) =
        form.number("Authority, least", hint, Measure::Of(Quantity::Share), limits.authority, (0.0, 0.99))
    {
        wanted = Some(Limits { authority, ..limits.clone() });
    }
    let hint = "Least distance of the pressure from that at which the water boils.";
    let margin = limits.boiling_margin;
    if let Some(boiling_margin) =
        form.number("Boiling margin", hint, Measure::Of(Quantity::Pressure), margin, (0.0, 1e6))
    {
        wanted = Some(Limits { boiling_margin, ..limits.clone() });
    }
    let hint = "A valve that regulates is heard at more. Common practice.";
    let drop = limits.valve_drop;
    if let Some(valve_drop) = form.number("Valve drop, most", hint, Measure::Of(Quantity::Pressure), drop, (1.0, 1e6)) {
        wanted = Some(Limits { valve_drop, ..limits.clone() });
    }
    if let Some(source) = form.lines("Source", "Where the limits come from.", &limits.source, 2) {
        wanted = Some(Limits { source, ..limits.clone() });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetLimits(wanted));
    }
}
