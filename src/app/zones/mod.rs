//! The zones: a bar each, share of design flow with the tolerance band and a second mark for heat; shut zones stay visible.

mod bar;
mod outdoor;

use super::lesson::ring;
use super::look::{self, STEP, size};
use super::term_card;
use super::view::{Intent, View, Work};
use crate::document::{Command, Duty, Zone, ZoneId};
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::report::picture::sheet::sign;
use crate::study::terms::Term;
use crate::study::{ZoneResult, ZoneState, share_beside_state};
use egui::text::{LayoutJob, TextWrapping};
use egui::{self, Align2, Color32, Pos2, Rect, RichText, ScrollArea, Sense, Ui};

const ROW: f32 = 29.0;

/// Height that shows so many zones without scrolling.
#[must_use]
pub(super) fn height(zones: usize) -> f32 {
    ROW * (zones as f32 + 1.0) + 52.0
}

/// Columns of the table: right edges of figures, left edges of words. What a narrow pane has no room for is left out; the
/// diamond on the bar tells the share of heat in any.
struct Columns {
    name: f32,
    bar: (f32, f32),
    share: f32,
    flow: f32,
    design: Option<f32>,
    heat: Option<f32>,
    heat_share: Option<f32>,
    back: Option<f32>,
    room: Option<f32>,
    state: f32,
    valve: f32,
}

impl Columns {
    /// Lays out columns from the right, figures as wide as the present units ask for; the bar takes what they leave.
    fn new(rect: Rect, flow_width: f32, heat_width: f32, asks_for_room: bool) -> Self {
        let name_width = (0.21 * rect.width()).clamp(96.0, 190.0);
        let mut left_over = rect.width() - name_width - 50.0 - 92.0 - 48.0 - flow_width - 3.0 * GAP - 60.0;
        let mut fits = |width: f32| {
            let there = left_over >= width;
            if there {
                left_over -= width;
            }
            there
        };
        let with_room = asks_for_room && fits(58.0 + GAP);
        let with_heat = fits(heat_width + GAP);
        let with_back = with_heat && fits(58.0 + GAP);
        let with_design = with_back && fits(flow_width + GAP);
        let with_heat_share = with_design && fits(48.0 + GAP);
        let valve = rect.right() - 50.0;
        let state = valve - 92.0;
        let mut edge = state - GAP;
        let mut column = |there: bool, width: f32| {
            let at = edge;
            if there {
                edge -= width + GAP;
            }
            there.then_some(at)
        };
        let room = column(with_room, 58.0);
        let back = column(with_back, 58.0);
        let heat_share = column(with_heat_share, 40.0);
        let heat = column(with_heat, heat_width);
        let design = column(with_design, flow_width - 18.0);
        let flow = column(true, flow_width).unwrap_or(state);
        let share = column(true, 46.0).unwrap_or(state);
        let start = rect.left() + name_width;
        Self {
            name: rect.left(),
            bar: (start, edge.max(start + 10.0)),
            share,
            flow,
            design,
            heat,
            heat_share,
            back,
            room,
            state,
            valve,
        }
    }
}

/// Space between columns.
const GAP: f32 = 11.0;

/// Zones up to which all rows are laid out, those scrolled out of sight too, so that the keyboard reaches them.
const ALL_ROWS: usize = 200;

/// Width of the widest figure of a column: that of the greatest, for all have their decimals alike.
fn width(ui: &Ui, view: &View<'_>, quantity: Quantity, figures: impl Iterator<Item = f64>) -> f32 {
    let (low, high) = figures.fold((0.0_f64, 0.0_f64), |(low, high), figure| (low.min(figure), high.max(figure)));
    let texts = [low, high].map(|figure| view.units.format(quantity, figure));
    let longest = texts.into_iter().max_by_key(|text| text.chars().count()).unwrap_or_default();
    ui.painter().layout_no_wrap(longest, look::font(size::BODY), Color32::BLACK).size().x
}

/// Shows the zones.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    scenario_row(ui, view, intents);
    if view.project.zones.is_empty() {
        let words = RichText::new("No zone yet: each emitter on the sheet brings one.").color(view.palette.quiet);
        ui.label(words);
        return;
    }
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let results = || view.results.zones.values();
        let flow = width(ui, view, Quantity::Flow, results().flat_map(|z| [z.flow, z.design_flow]));
        let heat = width(ui, view, Quantity::Heat, results().map(|z| z.heat));
        let (rect, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 20.0), Sense::hover());
        let asks_for_room = results().any(|zone| zone.room_c.is_some());
        let columns = |rect| Columns::new(rect, flow, heat, asks_for_room);
        headings(ui, view, rect, &columns(rect));
        let is_long = view.project.zones.len() > ALL_ROWS;
        for (id, zone) in &view.project.zones {
            let here = Rect::from_min_size(ui.cursor().min, egui::vec2(1.0, ROW));
            if is_long && !ui.is_rect_visible(here) {
                ui.add_space(ROW);
            } else if let Some(result) = view.results.zones.get(id) {
                row(ui, view, *id, zone, result, &columns, intents);
            }
        }
    });
}

/// Scenarios to choose from, a way to open all zones, the weather, and the heat of all.
fn scenario_row(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        let shut: std::collections::BTreeSet<ZoneId> =
            view.project.zones.iter().filter(|(_, z)| view.project.is_zone_shut(z)).map(|(id, _)| *id).collect();
        // While tuning they stand in a strip of their own, whose place a lesson takes.
        let has_strip = view.work == Work::Tune && view.lesson.is_none_or(|shown| shown.keeps_strip);
        if !view.project.scenarios.is_empty() && !has_strip {
            scenarios(ui, view, &shut, intents);
        }
        let can_shut = view.project.zones.values().any(|zone| zone.valve.is_some());
        if can_shut && ui.add_enabled(!shut.is_empty(), egui::Button::new("Open all")).clicked() {
            intents.push(Intent::Change(Command::OpenAllZones));
        }
        outdoor::show(ui, view, intents);
        if ui.available_width() < 210.0 {
            return;
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

fn scenarios(ui: &mut Ui, view: &View<'_>, shut: &std::collections::BTreeSet<ZoneId>, intents: &mut Vec<Intent>) {
    let present = view.project.scenarios.iter().position(|s| s.shut == *shut);
    let text = present.map_or("Own selection", |i| view.project.scenarios[i].name.as_str());
    let combo = egui::ComboBox::from_id_salt("scenario")
        .selected_text(text)
        .width((0.3 * ui.available_width()).clamp(110.0, 200.0))
        .truncate()
        .height(420.0)
        .show_ui(ui, |ui| {
            for (index, scenario) in view.project.scenarios.iter().enumerate() {
                let name = format!("{}   {:.0} h a year", scenario.name, scenario.hours_per_year);
                if ui.selectable_label(present == Some(index), name).clicked() {
                    intents.push(Intent::Change(Command::EnterScenario(index)));
                }
            }
        });
    combo.response.on_hover_text("Open and shut zone valves as a scenario says.");
}

fn headings(ui: &Ui, view: &View<'_>, rect: Rect, at: &Columns) {
    let y = rect.center().y;
    let write = |x: f32, align: Align2, text: &str| {
        ui.painter().text(Pos2::new(x, y), align, text, look::font(size::SMALL), view.palette.quiet)
    };
    let explain = |rect: Rect, term: Term| term_card::word(ui, rect, &format!("zones {term:?}"), view, term);
    let band = &view.project.acceptance;
    let units = view.units;
    let (low, high) = (units.number(Quantity::Share, band.low), units.format(Quantity::Share, band.high));
    explain(write(at.name, Align2::LEFT_CENTER, "Zone"), Term::Zone);
    let room = at.bar.1 - at.bar.0;
    if room > 40.0 {
        // The longest that leaves the next heading free.
        let width = |words: &String| {
            let galley = ui.painter().layout_no_wrap(words.clone(), look::font(size::SMALL), Color32::BLACK);
            galley.size().x
        };
        let short = format!("{low}–{high}");
        let ways = [format!("Design flow, band {short}"), format!("Band {short}")];
        let words = ways.into_iter().find(|words| width(words) < room).unwrap_or(short);
        explain(write(at.bar.0, Align2::LEFT_CENTER, &words), Term::ToleranceBand);
    }
    explain(write(at.share, Align2::RIGHT_CENTER, "share"), Term::ShareOfDesignFlow);
    for (x, text, term) in [
        (Some(at.flow), "flow", Term::Flow),
        (at.design, "design", Term::DesignFlow),
        (at.heat, if view.project.design.duty == Duty::Heating { "heat" } else { "cooling" }, Term::Heat),
        (at.heat_share, "of load", Term::HeatShare),
        (at.back, "return", Term::ReturnTemperature),
        (at.room, "room", Term::RoomTemperature),
    ] {
        if let Some(x) = x {
            explain(write(x, Align2::RIGHT_CENTER, text), term);
        }
    }
}

/// Colour and mark of a zone's state; the mark says without colour which way it is off.
pub(super) fn state_look(view: &View<'_>, state: ZoneState) -> (Color32, &'static str) {
    let palette = &view.palette;
    let color = match state {
        ZoneState::Shut => palette.shut,
        ZoneState::Served | ZoneState::Throttled => palette.served,
        ZoneState::Overflowed => palette.overflowed,
        ZoneState::Still | ZoneState::Backwards | ZoneState::Starved | ZoneState::TooCold | ZoneState::TooWarm => {
            palette.starved
        }
    };
    (color, sign(state))
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    id: ZoneId,
    zone: &Zone,
    result: &ZoneResult,
    columns: &impl Fn(Rect) -> Columns,
    intents: &mut Vec<Intent>,
) {
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), ROW), Sense::hover());
    if response.contains_pointer() {
        intents.push(Intent::Hover(id));
    }
    let palette = &view.palette;
    if view.hovered == Some(id) {
        ui.painter().rect_filled(rect.expand2(egui::vec2(STEP, 0.0)), 4, palette.raised);
    }
    if view.points_out(Look::Zone(id)) {
        ring::about(ui.painter(), palette, rect.expand2(egui::vec2(STEP, 0.0)));
    }
    let at = columns(rect);
    let y = rect.center().y;
    let units = view.units;
    let shut = result.state == ZoneState::Shut;
    let ink = if shut { palette.shut } else { palette.ink };
    let (color, mark) = state_look(view, result.state);
    let word = format!("{mark} {}", result.state.word());
    let mut job = LayoutJob::simple_singleline(zone.name.clone(), look::font(size::BODY), ink);
    job.wrap = TextWrapping::truncate_at_width(at.bar.0 - at.name - 6.0);
    let name = ui.painter().layout_job(job);
    ui.painter().galley(Pos2::new(at.name, y - 0.5 * name.size().y), name, ink);
    let bar = Rect::from_x_y_ranges(at.bar.0..=at.bar.1, (y - 7.0)..=(y + 7.0));
    bar::paint(ui.painter(), view, bar, result, color);
    let figure = |x: f32, strong: bool, text: String, color: Color32| {
        let font = if strong { look::strong(size::BODY) } else { look::font(size::BODY) };
        ui.painter().text(Pos2::new(x, y), Align2::RIGHT_CENTER, text, font, color);
    };
    let share = share_beside_state(result.share, Some(result.state), &view.project.acceptance, units);
    figure(at.share, true, share, ink);
    figure(at.flow, false, units.format(Quantity::Flow, result.flow), ink);
    if let Some(x) = at.design {
        let faint = if shut { palette.shut } else { palette.quiet };
        figure(x, false, units.number(Quantity::Flow, result.design_flow), faint);
    }
    if let Some(x) = at.heat {
        figure(x, false, units.format(Quantity::Heat, result.heat), ink);
    }
    if let Some(x) = at.heat_share {
        figure(x, false, units.format(Quantity::Share, result.heat_share), ink);
    }
    if let Some(x) = at.back {
        figure(x, false, units.format(Quantity::Temperature, result.return_c), palette.quiet);
    }
    if let (Some(x), Some(room_c)) = (at.room, result.room_c.filter(|_| !shut)) {
        figure(x, false, units.format(Quantity::Temperature, room_c), ink);
    }
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
