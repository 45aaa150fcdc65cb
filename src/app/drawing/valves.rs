//! Valves answer to a click: it shuts or opens them. Pumps are taken in hand by a click.

use super::super::view::{Below, Intent, View};
use super::camera::Camera;
use super::id_of;
use crate::document::{Command, ComponentKind};
use crate::engine::units::Quantity;
use crate::problems::Place;
use egui::{self, CursorIcon, Rect, Sense, Ui, vec2};

/// Below this size of a grid step valves are too small to be worked, points.
const WORKED: f32 = 4.0;

/// Lets components be pointed at and clicked.
pub(super) fn interact(ui: &Ui, pane: Rect, view: &View<'_>, camera: &Camera, intents: &mut Vec<Intent>) {
    if camera.zoom < WORKED {
        return;
    }
    for (id, component) in &view.project.components {
        if component.kind == ComponentKind::Junction {
            continue;
        }
        let center = camera.at(component.at);
        let rect = Rect::from_center_size(center, vec2(2.0, 2.0) * camera.zoom.max(9.0)).intersect(pane);
        if !rect.is_positive() {
            continue;
        }
        let open = component.is_open();
        let is_pump = matches!(component.kind, ComponentKind::Pump(_));
        let sense = if open.is_some() || is_pump { Sense::click() } else { Sense::hover() };
        let response = ui.interact(rect, id_of("component", id.0), sense);
        if let Some(open) = open {
            response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Switch, true, open, &component.name));
            if response.clicked() {
                intents.push(Intent::Change(Command::SetOpen(*id, !open)));
            }
        } else {
            response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &component.name));
            if is_pump && response.clicked() {
                intents.push(Intent::TakeInHand(*id));
            }
        }
        if response.hovered() {
            if let Some(zone) = view.project.zone_of(*id) {
                intents.push(Intent::Hover(zone));
            }
            if view.below == Below::HeadPath {
                intents.push(Intent::PointAt(Place::Component(*id)));
            }
            if open.is_some() || is_pump {
                ui.ctx().set_cursor_icon(CursorIcon::PointingHand);
            }
        }
        if response.has_focus() {
            let ring = egui::Stroke::new(2.0, view.palette.accent);
            ui.painter().with_clip_rect(pane).rect_stroke(rect.expand(2.0), 5, ring, egui::StrokeKind::Outside);
        }
        if !view.presents {
            response.on_hover_text_at_pointer(facts(view, *id, open));
        }
    }
}

/// What a component is and does, in a few lines.
pub(super) fn facts(view: &View<'_>, id: crate::document::ComponentId, open: Option<bool>) -> String {
    let Some(component) = view.project.components.get(&id) else { return String::new() };
    let units = view.units;
    let kind = component.kind_name();
    let named = component.name.to_lowercase().contains(kind);
    let mut lines = vec![if named { component.name.clone() } else { format!("{} ({kind})", component.name) }];
    if let Some(pump) = view.results.pumps.get(&id) {
        if pump.running {
            lines.push(format!(
                "{} at {}, {}, {}",
                units.format(Quantity::Flow, pump.flow),
                units.format(Quantity::Head, pump.head),
                units.format(Quantity::Speed, pump.speed),
                units.format(Quantity::Power, pump.electric_w)
            ));
        } else {
            lines.push("off".to_owned());
        }
    } else if let Some(result) = view.results.components.get(&id) {
        let drop =
            if result.drop.is_finite() { units.format(Quantity::Pressure, result.drop) } else { "–".to_owned() };
        lines.push(format!("{}, takes {drop}", units.format(Quantity::Flow, result.flow)));
    }
    if let (ComponentKind::ThreeWayValve(valve), Some(bypass)) = (&component.kind, view.results.bypasses.get(&id)) {
        let position = units.format(Quantity::Share, valve.position);
        lines.push(format!("{} by the bypass, position {position}", units.format(Quantity::Flow, bypass.flow)));
    }
    if let Some(reading) = view.results.readings.get(&id) {
        lines.push(format!("reads {}", reading.text(units)));
    }
    match open {
        Some(true) => lines.push("open: click to shut".to_owned()),
        Some(false) => lines.push("shut: click to open".to_owned()),
        None => {}
    }
    lines.join("\n")
}
