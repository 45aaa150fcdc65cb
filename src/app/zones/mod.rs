//! The zones: a bar each, share of design flow with the tolerance band and a second mark for heat; shut zones stay visible.

mod bar;

use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::document::{Command, Zone, ZoneId};
use crate::engine::units::Quantity;
use crate::study::{ZoneResult, ZoneState};
use egui::{self, Align2, Color32, Pos2, Rect, RichText, ScrollArea, Sense, Ui};

const ROW: f32 = 29.0;

/// Height that shows so many zones without scrolling.
#[must_use]
pub(super) fn height(zones: usize) -> f32 {
    ROW * (zones as f32 + 1.0) + 44.0
}

/// Columns of the table: right edges of figures, left edges of words. Design flow and share of heat need a wide pane; the
/// diamond on the bar tells the share of heat in any.
struct Columns {
    name: f32,
    bar: (f32, f32),
    share: f32,
    flow: f32,
    design: Option<f32>,
    heat: f32,
    heat_share: Option<f32>,
    back: f32,
    state: f32,
    valve: f32,
}

impl Columns {
    /// Lays out columns from the right; the bar takes what the figures leave.
    fn new(rect: Rect) -> Self {
        let wide = rect.width() > 780.0;
        let valve = rect.right() - 50.0;
        let state = valve - 96.0;
        let back = state - 14.0;
        let after_heat = back - 58.0;
        let (heat_share, heat) = if wide { (Some(after_heat), after_heat - 54.0) } else { (None, after_heat) };
        let before_heat = heat - 72.0;
        let (design, flow) = if wide { (Some(before_heat), before_heat - 58.0) } else { (None, before_heat) };
        let share = flow - 88.0;
        let bar_end = share - 48.0;
        let bar_start = (rect.left() + if wide { 190.0 } else { 142.0 }).min(bar_end - 30.0);
        Self { name: rect.left(), bar: (bar_start, bar_end), share, flow, design, heat, heat_share, back, state, valve }
    }
}

/// Shows the zones.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    scenario_row(ui, view, intents);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let (rect, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 20.0), Sense::hover());
        headings(ui, view, rect);
        for (id, zone) in &view.project.zones {
            if let Some(result) = view.results.zones.get(id) {
                row(ui, view, *id, zone, result, intents);
            }
        }
    });
}

/// Scenarios as buttons, and one that opens all zones.
fn scenario_row(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        ui.label(RichText::new("Zones").font(look::strong(size::BODY)));
        let shut: std::collections::BTreeSet<ZoneId> =
            view.project.zones.iter().filter(|(_, z)| view.project.is_zone_shut(z)).map(|(id, _)| *id).collect();
        let present = view.project.scenarios.iter().position(|s| s.shut == shut);
        let text = present.map_or("Own selection", |i| view.project.scenarios[i].name.as_str());
        let combo = egui::ComboBox::from_id_salt("scenario").selected_text(text).width(190.0).show_ui(ui, |ui| {
            for (index, scenario) in view.project.scenarios.iter().enumerate() {
                if ui.selectable_label(present == Some(index), &scenario.name).clicked() {
                    intents.push(Intent::Change(Command::EnterScenario(index)));
                }
            }
        });
        combo.response.on_hover_text("Open and shut zone valves as a scenario says.");
        if ui.add_enabled(!shut.is_empty(), egui::Button::new("Open all")).clicked() {
            intents.push(Intent::Change(Command::OpenAllZones));
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let (load, heat) = (view.project.zones.values().map(|z| z.load).sum::<f64>(), view.results.total_heat());
            let text = format!(
                "{} of {} ({})",
                view.units.format(Quantity::Heat, heat),
                view.units.format(Quantity::Heat, load),
                view.units.format(Quantity::Share, if load > 0.0 { heat / load } else { 0.0 })
            );
            ui.label(RichText::new(text).color(view.palette.quiet));
        });
    });
}

fn headings(ui: &Ui, view: &View<'_>, rect: Rect) {
    let at = Columns::new(rect);
    let y = rect.center().y;
    let write = |x: f32, align: Align2, text: &str| {
        ui.painter().text(Pos2::new(x, y), align, text, look::font(size::SMALL), view.palette.quiet);
    };
    let band = &view.project.acceptance;
    let units = view.units;
    let (low, high) = (units.number(Quantity::Share, band.low), units.format(Quantity::Share, band.high));
    write(at.name, Align2::LEFT_CENTER, "Zone");
    write(at.bar.0, Align2::LEFT_CENTER, &format!("Design flow, band {low}–{high}"));
    for (x, text) in [
        (Some(at.flow), "flow"),
        (at.design, "design"),
        (Some(at.heat), "heat"),
        (at.heat_share, "share"),
        (Some(at.back), "return"),
    ] {
        if let Some(x) = x {
            write(x, Align2::RIGHT_CENTER, text);
        }
    }
}

/// Colour and mark of a zone's state; the mark says without colour which way it is off.
pub(super) fn state_look(view: &View<'_>, state: ZoneState) -> (Color32, &'static str) {
    let palette = &view.palette;
    match state {
        ZoneState::Shut => (palette.shut, ""),
        ZoneState::Still | ZoneState::Backwards | ZoneState::Starved => (palette.starved, "▼"),
        ZoneState::Served => (palette.served, ""),
        ZoneState::Overflowed => (palette.overflowed, "▲"),
    }
}

fn row(ui: &mut Ui, view: &View<'_>, id: ZoneId, zone: &Zone, result: &ZoneResult, intents: &mut Vec<Intent>) {
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), ROW), Sense::hover());
    if response.contains_pointer() {
        intents.push(Intent::Hover(id));
    }
    let palette = &view.palette;
    if view.hovered == Some(id) {
        ui.painter().rect_filled(rect.expand2(egui::vec2(STEP, 0.0)), 4, palette.raised);
    }
    let at = Columns::new(rect);
    let y = rect.center().y;
    let units = view.units;
    let shut = result.state == ZoneState::Shut;
    let ink = if shut { palette.shut } else { palette.ink };
    let (color, mark) = state_look(view, result.state);
    let word = format!("{mark} {}", result.state.word());
    let name_rect = Rect::from_min_max(rect.min, Pos2::new(at.bar.0 - 6.0, rect.bottom()));
    ui.painter().with_clip_rect(name_rect).text(
        Pos2::new(at.name, y),
        Align2::LEFT_CENTER,
        &zone.name,
        look::font(size::BODY),
        ink,
    );
    let bar = Rect::from_x_y_ranges(at.bar.0..=at.bar.1, (y - 7.0)..=(y + 7.0));
    bar::paint(ui.painter(), view, bar, result, color);
    let figure = |x: f32, strong: bool, text: String, color: Color32| {
        let font = if strong { look::strong(size::BODY) } else { look::font(size::BODY) };
        ui.painter().text(Pos2::new(x, y), Align2::RIGHT_CENTER, text, font, color);
    };
    figure(at.share, true, units.format(Quantity::Share, result.share), ink);
    figure(at.flow, false, units.format(Quantity::Flow, result.flow), ink);
    if let Some(x) = at.design {
        figure(x, false, units.number(Quantity::Flow, result.design_flow), palette.quiet);
    }
    figure(at.heat, false, units.format(Quantity::Heat, result.heat), ink);
    if let Some(x) = at.heat_share {
        figure(x, false, units.format(Quantity::Share, result.heat_share), ink);
    }
    let back = units.format(Quantity::Temperature, result.return_c);
    figure(at.back, false, back, palette.quiet);
    ui.painter().text(Pos2::new(at.state, y), Align2::LEFT_CENTER, word.trim(), look::strong(size::SMALL), color);
    if let Some(valve) = zone.valve {
        let button =
            Rect::from_min_max(Pos2::new(at.valve, rect.top() + 3.0), Pos2::new(rect.right(), rect.bottom() - 3.0));
        let word = if shut { "Open" } else { "Shut" };
        let response = ui.put(button, egui::Button::new(RichText::new(word).size(size::SMALL)));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("{word} {}", zone.name)));
        if response.clicked() {
            intents.push(Intent::Change(Command::SetOpen(valve, shut)));
        }
    }
    response.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::Role::Label,
            true,
            format!(
                "{}: {}, {} of design flow, {}",
                zone.name,
                units.format(Quantity::Flow, result.flow),
                units.format(Quantity::Share, result.share),
                units.format(Quantity::Heat, result.heat)
            ),
        )
    });
}
