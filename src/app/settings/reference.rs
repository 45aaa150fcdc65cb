//! What fixes the reference flow, the slowest turning, and the most power.

use super::super::lesson::ring;
use super::super::look::size;
use super::super::term_card::TermCard;
use super::super::typed::Typed;
use super::super::view::{Intent, View};
use crate::document::{Command, ComponentId, PumpUnit, within};
use crate::engine::pump::{GoverningLimit, ReferenceFlow};
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::study::terms::Term;
use egui::{ComboBox, Rect, RichText, Ui};

/// The least flow that can be typed, m³/s.
const LEAST_FLOW: f64 = 1e-7;

/// Shows the row.
pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    (id, unit): (ComponentId, &PumpUnit),
    pane: Rect,
    intents: &mut Vec<Intent>,
) {
    let units = view.units;
    let now = unit.regulation.reference;
    let present = view.pump_result().and_then(|pump| pump.reference_flow);
    ui.horizontal_wrapped(|ui| {
        let label = ui.label(RichText::new("Reference flow").color(view.palette.quiet));
        TermCard::new(view, Term::ReferenceFlow).beside(pane).on(&label);
        let combo = ComboBox::from_id_salt("reference flow").selected_text(word(now)).width(130.0).show_ui(ui, |ui| {
            let design = total_design_flow(view).max(LEAST_FLOW);
            for choice in [ReferenceFlow::FullSpeed, ReferenceFlow::CappedSpeed, ReferenceFlow::DesignFlow(design)] {
                let same = std::mem::discriminant(&choice) == std::mem::discriminant(&now);
                let response = ui.selectable_label(same, word(choice));
                TermCard::new(view, Term::of_reference(choice)).beside(pane).on(&response);
                if response.clicked() && !same {
                    intents.push(Intent::Change(Command::SetReferenceFlow(id, choice)));
                }
            }
        });
        if view.points_out(Look::ReferenceFlow) {
            ring::about(ui.painter(), &view.palette, combo.response.rect.union(label.rect).expand(4.0));
        }
        TermCard::new(view, Term::of_reference(now)).beside(pane).on(&combo.response.labelled_by(label.id));
        match (now, present) {
            (ReferenceFlow::DesignFlow(flow), _) => {
                let mut set = flow;
                let shown = units.format(Quantity::Flow, flow);
                let typed = Typed::new(units, Quantity::Flow, flow, shown, (LEAST_FLOW, 10.0));
                let field = typed.field(&mut set).speed(0.002 * total_design_flow(view).max(LEAST_FLOW));
                if ui.add(field).labelled_by(label.id).changed() {
                    intents.push(Intent::Change(Command::SetReferenceFlow(id, ReferenceFlow::DesignFlow(set))));
                }
                intents.extend(typed.complaint("Reference flow").map(Intent::Reject));
            }
            (_, Some(flow)) => {
                ui.label(units.format(Quantity::Flow, flow));
            }
            (_, None) => {
                ui.label(RichText::new("never reached: the cap alone rules").size(size::SMALL));
            }
        }
        ui.add_space(10.0);
        minimum_speed(ui, view, (id, unit), pane, intents);
        ui.add_space(10.0);
        // Lessons leave its row to the plot, unless there is one.
        if view.lesson.is_none() || unit.regulation.power_limit_w.is_some() {
            power_limit(ui, view, (id, unit), pane, intents);
        }
    });
}

/// The slowest turning; it says so when it governs.
fn minimum_speed(
    ui: &mut Ui,
    view: &View<'_>,
    (id, unit): (ComponentId, &PumpUnit),
    pane: Rect,
    intents: &mut Vec<Intent>,
) {
    let governs = is_governing(view, GoverningLimit::MinimumSpeed);
    let (words, color) =
        if governs { ("Minimum speed governs", view.palette.ink) } else { ("Minimum speed", view.palette.quiet) };
    let label = ui.label(RichText::new(words).color(color));
    TermCard::new(view, Term::MinimumSpeed).beside(pane).on(&label);
    let present = unit.regulation.minimum_speed;
    let mut speed = present;
    let shown = view.units.format(Quantity::Speed, present);
    let typed = Typed::new(view.units, Quantity::Speed, present, shown, (0.0, unit.regulation.speed_cap));
    let field = ui.add(typed.field(&mut speed).speed(0.002)).labelled_by(label.id);
    if view.points_out(Look::MinimumSpeed) {
        ring::about(ui.painter(), &view.palette, field.rect.union(label.rect).expand(4.0));
    }
    TermCard::new(view, Term::MinimumSpeed).beside(pane).on(&field);
    if field.changed() {
        intents.push(Intent::Change(Command::SetMinimumSpeed(id, speed)));
    }
    intents.extend(typed.complaint("Minimum speed").map(Intent::Reject));
}

/// The most electric power, where the device can hold one; it says so when it governs.
fn power_limit(
    ui: &mut Ui,
    view: &View<'_>,
    (id, unit): (ComponentId, &PumpUnit),
    pane: Rect,
    intents: &mut Vec<Intent>,
) {
    let governs = is_governing(view, GoverningLimit::PowerLimit);
    let (words, color) =
        if governs { ("Power limit governs", view.palette.ink) } else { ("Power limit", view.palette.quiet) };
    let range = unit.ranges().power_limit;
    let mut has = unit.regulation.power_limit_w.is_some();
    let toggle = ui.checkbox(&mut has, RichText::new(words).color(color));
    TermCard::new(view, Term::PowerLimit).beside(pane).on(&toggle);
    if toggle.changed() {
        // Where it begins to tell: the present power, or what the pump takes at most.
        let start = view.pump_result().filter(|pump| pump.running).map_or(range.1, |pump| pump.electric_w.round());
        let wanted = has.then(|| within(start, range));
        intents.push(Intent::Change(Command::SetPowerLimit(id, wanted)));
    }
    let Some(present) = unit.regulation.power_limit_w else { return };
    let mut limit = present;
    let shown = view.units.format(Quantity::Power, present);
    let typed = Typed::new(view.units, Quantity::Power, present, shown, range);
    let field = ui.add(typed.field(&mut limit).speed(0.002 * range.1)).labelled_by(toggle.id);
    TermCard::new(view, Term::PowerLimit).beside(pane).on(&field);
    if field.changed() {
        intents.push(Intent::Change(Command::SetPowerLimit(id, Some(limit))));
    }
    intents.extend(typed.complaint("Power limit").map(Intent::Reject));
}

/// Whether a limit governs and may be said to.
fn is_governing(view: &View<'_>, limit: GoverningLimit) -> bool {
    !view.hides_governing() && view.pump_result().and_then(|pump| pump.governing) == Some(limit)
}

fn word(reference: ReferenceFlow) -> &'static str {
    match reference {
        ReferenceFlow::FullSpeed => "at full speed",
        ReferenceFlow::CappedSpeed => "at capped speed",
        ReferenceFlow::DesignFlow(_) => "design flow",
    }
}

/// Sum of all zones' design flows.
fn total_design_flow(view: &View<'_>) -> f64 {
    view.results.zones.values().map(|zone| zone.design_flow).sum()
}
