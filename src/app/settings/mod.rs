//! The settings of the pump in hand: three large numbers that can be typed, dragged and stepped, the one that governs marked
//! by a word; below them what fixes the reference flow, the minimum speed and the power limit.

mod figure;
mod reference;

use super::look::{self, STEP, size};
use super::term_card::TermCard;
use super::view::{Intent, View};
use crate::document::{Command, ComponentId, PumpUnit, stepped, within};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::study::PumpResult;
use crate::study::terms::Term;
use egui::{self, Rect, RichText, Ui};
use figure::Figure;

/// Shows the settings.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let (Some(id), Some(unit), Some(result)) = (view.pump, view.unit(), view.pump_result()) else {
        ui.label("No circulator.");
        return;
    };
    let pane = ui.max_rect();
    pump_row(ui, view, intents);
    let regulation = unit.regulation;
    let ranges = unit.ranges();
    let palette = view.palette;
    let tells = !view.hides_governing();
    let governs = |limit, words| (tells && result.governing == Some(limit)).then_some(words);
    ui.columns(3, |columns| {
        head_limit(&mut columns[0], view, id, (unit, result), pane, intents);
        let slope = Figure {
            name: "Slope",
            quantity: Quantity::Share,
            value: regulation.slope,
            step: unit.steps.slope,
            range: ranges.slope,
            color: palette.slope,
            governs: governs(GoverningLimit::SetLine, "set-line governs"),
            hint: "0 % is constant pressure.",
            look: Look::Slope,
            term: Term::Slope,
            pane,
        };
        if let Some(value) = slope.show(&mut columns[1], view, intents) {
            intents.push(Intent::Change(Command::SetSlope(id, value)));
        }
        let cap = Figure {
            name: "Speed cap",
            quantity: Quantity::Share,
            value: regulation.speed_cap,
            step: unit.steps.speed_cap,
            range: ranges.speed_cap,
            color: palette.cap,
            governs: governs(GoverningLimit::SpeedCap, "governs"),
            hint: "",
            look: Look::SpeedCap,
            term: Term::SpeedCap,
            pane,
        };
        if let Some(value) = cap.show(&mut columns[2], view, intents) {
            intents.push(Intent::Change(Command::SetSpeedCap(id, value)));
        }
    });
    ui.add_space(STEP);
    reference::show(ui, view, (id, unit), pane, intents);
    ui.add_space(STEP);
}

/// The head limit, or, for a pump held by its speed alone, a way to give it one.
fn head_limit(
    ui: &mut Ui,
    view: &View<'_>,
    id: ComponentId,
    (unit, result): (&PumpUnit, &PumpResult),
    pane: Rect,
    intents: &mut Vec<Intent>,
) {
    let range = unit.ranges().head_limit;
    let Some(value) = unit.regulation.head_limit_m else {
        ui.label(RichText::new("Head limit: none").color(view.palette.quiet));
        if ui.button("Set a head limit").clicked() {
            let start = stepped(0.6 * range.1, unit.steps.head_limit);
            intents.push(Intent::Change(Command::SetHeadLimit(id, Some(within(start, range)))));
        }
        return;
    };
    let figure = Figure {
        name: "Head limit",
        quantity: Quantity::Head,
        value,
        step: unit.steps.head_limit,
        range,
        color: view.palette.head_limit,
        governs: (!view.hides_governing() && result.governing == Some(GoverningLimit::HeadLimit)).then_some("governs"),
        hint: "",
        look: Look::HeadLimit,
        term: Term::HeadLimit,
        pane,
    };
    if let Some(value) = figure.show(ui, view, intents) {
        intents.push(Intent::Change(Command::SetHeadLimit(id, Some(value))));
    }
}

/// The pumps to choose from, what the chosen one does now, and a way to start or stop it.
fn pump_row(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let several = view.project.pumps().count() > 1;
    ui.horizontal(|ui| {
        for (id, _) in view.project.pumps() {
            let name = view.project.components.get(&id).map_or("", |c| c.name.as_str());
            let in_hand = view.pump == Some(id);
            let text = RichText::new(name).font(look::strong(size::BODY));
            if !several {
                ui.label(text);
            } else if ui.selectable_label(in_hand, text).clicked() && !in_hand {
                intents.push(Intent::TakeInHand(id));
            }
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if let (Some(id), Some(unit)) = (view.pump, view.unit()) {
                let word = if unit.running { "Stop" } else { "Start" };
                let hint = "Start or stop this pump in the study; nothing is sent to any device.";
                if ui.button(word).on_hover_text(hint).clicked() {
                    intents.push(Intent::Change(Command::SetRunning(id, !unit.running)));
                }
            }
            if !several {
                doing(ui, view);
            }
        });
    });
    if several {
        doing(ui, view);
    }
}

/// Speed, power and efficiency of the pump, and the power of all where several run; each explains itself.
fn doing(ui: &mut Ui, view: &View<'_>) {
    let units = view.units;
    let mut parts: Vec<(String, Option<Term>)> = match view.pump_result() {
        Some(pump) if pump.running => vec![
            (units.format(Quantity::Speed, pump.speed), Some(Term::Speed)),
            (units.format(Quantity::RotationalSpeed, pump.speed_rpm), Some(Term::Speed)),
            (units.format(Quantity::Power, pump.electric_w), Some(Term::ElectricPower)),
            (format!("{} wire to water", units.format(Quantity::Share, pump.wire_to_water)), Some(Term::Efficiency)),
        ],
        _ => vec![("off".to_owned(), None)],
    };
    let running = || view.results.pumps.values().filter(|pump| pump.running);
    if running().count() > 1 {
        let all = units.format(Quantity::Power, running().map(|pump| pump.electric_w).sum());
        parts.push((format!("all pumps {all}"), Some(Term::ElectricPower)));
    }
    let text = parts.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>().join(BETWEEN);
    let response = ui.add(egui::Label::new(RichText::new(text).color(view.palette.quiet)).truncate());
    // One label, so that it is cut as a whole where the pane is narrow; the pointer tells which part is meant.
    let Some(pos) = response.hover_pos() else { return };
    let mut right = response.rect.left();
    for (text, term) in parts {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let text = format!("{text}{BETWEEN}");
        right += ui.painter().layout_no_wrap(text, font, egui::Color32::BLACK).size().x;
        if pos.x < right {
            if let Some(term) = term {
                TermCard::new(view, term).beside(ui.max_rect().union(response.rect)).on(&response);
            }
            return;
        }
    }
}

/// What stands between two figures in a row.
const BETWEEN: &str = " · ";
