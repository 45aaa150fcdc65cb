//! Below the list: what is wrong, place by place, or what the system comes to.

use super::super::look::{self, Palette, STEP, size};
use super::outcome::{Fault, Outcome, Place};
use crate::document::{ComponentKind, Project};
use crate::engine::units::{Quantity, Units};
use crate::file::table::ZONE_FIELDS;
use crate::report::sized_notes;
use crate::study::sizing::{SizedSystem, SizingLimits};
use egui::{self, Align, Label, Layout, RichText, ScrollArea, Ui};

/// Shows it; returns the cell of a fault that was clicked.
pub(super) fn show(ui: &mut Ui, outcome: &Outcome, units: &Units, palette: &Palette) -> Option<(usize, usize)> {
    let pair = outcome.system.as_deref();
    match pair {
        Some((system, limits)) => {
            reckoned(ui, system, limits, units, palette);
            None
        }
        None if outcome.faults.is_empty() => {
            ui.label("The list is sound. It is long: press Reckon to have it sized and balanced.");
            None
        }
        None => faults(ui, outcome, units, palette),
    }
}

/// Where a fault lies, in words.
pub(super) fn place(fault: &Fault, units: &Units) -> String {
    match fault.place {
        Place::Cell(row, column) => {
            let heading = ZONE_FIELDS.get(column).map_or("", |field| field.name(units));
            format!("Row {}, {heading}", row + 1)
        }
        Place::Plant(figure) => figure.name().to_owned(),
        Place::Whole => "The list".to_owned(),
    }
}

fn faults(ui: &mut Ui, outcome: &Outcome, units: &Units, palette: &Palette) -> Option<(usize, usize)> {
    let mut clicked = None;
    ScrollArea::vertical().id_salt("faults").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.spacing_mut().interact_size.y = 18.0;
        // What is wrong comes before what is only missing.
        for is_missing in [false, true] {
            let of_kind = outcome.faults.iter().filter(|fault| fault.is_missing == is_missing);
            for fault in of_kind {
                let color = if is_missing { palette.head_limit } else { palette.starved };
                ui.horizontal(|ui| {
                    let word = if is_missing { "to fill in" } else { "to mend" };
                    let word = RichText::new(word).font(look::strong(size::SMALL)).color(color);
                    ui.allocate_ui_with_layout(egui::vec2(58.0, 18.0), Layout::left_to_right(Align::Center), |ui| {
                        ui.set_min_width(58.0);
                        ui.label(word);
                    });
                    let text = format!("{}: {}", place(fault, units), fault.message);
                    if let Place::Cell(row, column) = fault.place {
                        let label = Label::new(text).truncate().sense(egui::Sense::click());
                        if ui.add(label).on_hover_text("Go to the cell").clicked() {
                            clicked = Some((row, column));
                        }
                    } else {
                        ui.add(Label::new(text).truncate());
                    }
                });
            }
        }
    });
    clicked
}

fn reckoned(ui: &mut Ui, system: &SizedSystem, limits: &SizingLimits, units: &Units, palette: &Palette) {
    let height = ui.available_height();
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0 * STEP;
        let first = (0.27 * ui.available_width()).clamp(276.0, 340.0);
        ui.allocate_ui_with_layout(egui::vec2(first, height), Layout::top_down(Align::LEFT), |ui| {
            ui.set_min_size(egui::vec2(first, height));
            facts(ui, system, units, palette);
        });
        let rest = (ui.available_width() - 6.0 * STEP).max(300.0);
        let zones = (0.62 * rest).max(450.0).clamp(300.0, 620.0);
        ui.allocate_ui_with_layout(egui::vec2(zones, height), Layout::top_down(Align::LEFT), |ui| {
            ui.set_min_size(egui::vec2(zones, height));
            ui.spacing_mut().item_spacing.y = 0.0;
            presettings(ui, system, units, palette);
        });
        ui.allocate_ui_with_layout(egui::vec2(rest - zones, height), Layout::top_down(Align::LEFT), |ui| {
            let notes = sized_notes(system, limits, units);
            strong(ui, "To look at", palette);
            ScrollArea::vertical().id_salt("notes").auto_shrink(false).show(ui, |ui| {
                if notes.is_empty() {
                    ui.label("Nothing stands out.");
                }
                for note in notes {
                    ui.label(RichText::new(note).size(size::SMALL).color(palette.quiet));
                }
            });
        });
    });
}

fn strong(ui: &mut Ui, words: &str, palette: &Palette) {
    ui.label(RichText::new(words).font(look::strong(size::SMALL)).color(palette.ink));
}

/// Name and figure in two columns.
fn facts(ui: &mut Ui, system: &SizedSystem, units: &Units, palette: &Palette) {
    let project = &system.project;
    strong(ui, "What it comes to", palette);
    let load: f64 = project.zones.values().map(|zone| zone.load).sum();
    let index = project.zones.get(&system.balance.index).map_or("", |zone| zone.name.as_str());
    let length: f64 = system.runs.iter().filter_map(|run| project.pipes.get(&run.pipe)).map(|pipe| pipe.length).sum();
    let valves = system.balance.presettings.len();
    let pump = match system.pump.is_enough() {
        true if system.is_stand_in => format!("a stand-in at {}", units.format(Quantity::Speed, system.pump.speed)),
        true => format!("{} of full speed", units.format(Quantity::Speed, system.pump.speed)),
        false => "too small".to_owned(),
    };
    let rows = [
        ("Heat", units.format(Quantity::Heat, load)),
        ("Flow", units.format(Quantity::Flow, system.balance.flow)),
        ("Index circuit", index.to_owned()),
        ("Head needed", units.format(Quantity::Head, system.balance.head_m)),
        ("Circulator", pump),
        ("Pipes", format!("{}, together {}", system.runs.len(), units.format(Quantity::Length, length))),
        (
            "Balancing valves",
            format!("{valves}, taking {}", units.format(Quantity::Power, system.balance.throttled_w())),
        ),
    ];
    egui::Grid::new("facts").num_columns(2).spacing([14.0, 2.0]).min_row_height(18.0).show(ui, |ui| {
        for (name, value) in rows {
            ui.label(RichText::new(name).color(palette.quiet));
            ui.add(Label::new(RichText::new(value)).truncate());
            ui.end_row();
        }
    });
}

/// Right edges of the figures of a zone, from the right edge of the row, and their headings.
const FIGURES: [(&str, f32); 4] = [("flow", 258.0), ("branch", 178.0), ("balancing valve", 76.0), ("takes", 0.0)];

/// A row a zone: flow, branch, presetting.
fn presettings(ui: &mut Ui, system: &SizedSystem, units: &Units, palette: &Palette) {
    let project = &system.project;
    row(ui, ("Zone", palette.ink), FIGURES.map(|(name, _)| name.to_owned()), look::strong(size::SMALL));
    ScrollArea::vertical().id_salt("presettings").auto_shrink(false).show_rows(
        ui,
        LINE,
        project.zones.len(),
        |ui, shown| {
            for (id, zone) in project.zones.iter().skip(shown.start).take(shown.len()) {
                let is_index = *id == system.balance.index;
                let name = if is_index { format!("{} (index)", zone.name) } else { zone.name.clone() };
                let set = system.balance.presettings.iter().find(|set| is_valve_of(project, &zone.name, set.valve));
                let branch = format!("{} branch flow", zone.name);
                let run =
                    system.runs.iter().find(|run| project.pipes.get(&run.pipe).is_some_and(|pipe| pipe.name == branch));
                let size = run.map(|run| match run.chosen {
                    Some(chosen) => chosen.size.nominal.to_owned(),
                    None => units.format(Quantity::Bore, run.bore),
                });
                let figures = [
                    run.map(|run| units.format(Quantity::Flow, run.flow)),
                    size,
                    set.map(|set| match set.is_open {
                        true => "fully open".to_owned(),
                        false => units.format(Quantity::FlowCoefficient, set.kv),
                    }),
                    set.map(|set| units.format(Quantity::Pressure, set.drop)),
                ];
                let figures = figures.map(|figure| figure.unwrap_or_else(|| "none".to_owned()));
                row(ui, (&name, palette.ink), figures, look::font(size::BODY));
            }
        },
    );
}

/// Height of a row.
const LINE: f32 = 20.0;

fn row(ui: &mut Ui, (name, color): (&str, egui::Color32), figures: [String; FIGURES.len()], font: egui::FontId) {
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), LINE), egui::Sense::hover());
    let label = format!("{name}: {}", figures.join(", "));
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &label));
    let right = rect.right() - 8.0;
    let mut job = egui::text::LayoutJob::simple_singleline(name.to_owned(), font.clone(), color);
    job.wrap = egui::text::TextWrapping::truncate_at_width(rect.width() - FIGURES[0].1 - 96.0);
    let galley = ui.painter().layout_job(job);
    ui.painter().galley(egui::pos2(rect.left(), rect.center().y - galley.size().y / 2.0), galley, color);
    for ((_, edge), figure) in FIGURES.into_iter().zip(figures) {
        let at = egui::pos2(right - edge, rect.center().y);
        ui.painter().text(at, egui::Align2::RIGHT_CENTER, figure, font.clone(), color);
    }
}

fn is_valve_of(project: &Project, zone: &str, valve: crate::document::ComponentId) -> bool {
    project.components.get(&valve).is_some_and(|component| {
        matches!(component.kind, ComponentKind::BalancingValve { .. })
            && component.name == format!("{zone} balancing valve")
    })
}
