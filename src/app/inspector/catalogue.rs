//! The catalogue points of a circulator as a table: a row a point, to be typed over, added and taken away.

use super::super::look::size;
use super::figures::POWER;
use super::form::{Form, ROW, in_sight};
use super::number::{Measure, Number};
use super::pump;
use crate::document::{CataloguePoint, ComponentId, PumpUnit};
use crate::engine::units::Quantity;
use egui::{self, Align, Button, Id, Layout, RichText};

/// Flows that can be typed, m³/s.
const FLOW: (f64, f64) = (0.0, 10.0);
/// Heads that can be typed, m.
const HEAD: (f64, f64) = (0.0, 300.0);
/// Width of the button that takes a row away.
const REMOVE: f32 = 26.0;
const COLUMNS: [(&str, Quantity, (f64, f64)); 3] =
    [("Flow", Quantity::Flow, FLOW), ("Head", Quantity::Head, HEAD), ("Power", Quantity::Power, POWER)];

fn cell(point: &mut CataloguePoint, column: usize) -> &mut f64 {
    match column {
        0 => &mut point.flow,
        1 => &mut point.head,
        _ => &mut point.power,
    }
}

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, unit: &PumpUnit) {
    let gap = 4.0;
    let width = ((form.ui.available_width() - REMOVE - 3.0 * gap) / 3.0).floor();
    let headings = headings(form, width, gap);
    let mut wanted: Option<Vec<CataloguePoint>> = None;
    for (row, point) in unit.catalogue.iter().enumerate() {
        form.within(&format!("point {row}"), Layout::left_to_right(Align::Min), |form| {
            form.ui.spacing_mut().item_spacing.x = gap;
            for (column, ((name, quantity, range), named)) in COLUMNS.into_iter().zip(headings).enumerate() {
                let mut changed = *point;
                let name = format!("{name} of point {}", row + 1);
                let measure = Measure::Of(quantity);
                let value = *cell(&mut changed, column);
                let number = Number { name: &name, measure, value, range, drags: false, with_unit: false };
                if let Some(value) = number.show(form, named, width) {
                    *cell(&mut changed, column) = value;
                    let mut points = unit.catalogue.clone();
                    points[row] = changed;
                    wanted = Some(points);
                }
            }
            form.ui.spacing_mut().button_padding.x = gap;
            let remove = in_sight(form.ui.add(Button::new("−").min_size(egui::vec2(REMOVE, ROW))));
            let words = format!("Take point {} away", row + 1);
            remove.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &words));
            if remove.on_hover_text("Takes this point away").clicked() {
                let mut points = unit.catalogue.clone();
                points.remove(row);
                wanted = Some(points);
            }
        });
    }
    if form.buttons("point", &[("Add a point", "In the widest gap, on the curve as it is")]).is_some() {
        wanted = Some(with_point(unit));
    }
    if let Some(mut catalogue) = wanted {
        catalogue.sort_by(|a, b| a.flow.total_cmp(&b.flow));
        form.change(pump::set(id, PumpUnit { catalogue, ..unit.clone() }));
    }
}

/// The row of headings with the units; its labels name the cells.
fn headings(form: &mut Form<'_, '_>, width: f32, gap: f32) -> [Id; 3] {
    let (units, quiet) = (form.view.units, form.view.palette.quiet);
    form.within("headings", Layout::left_to_right(Align::Min), |form| {
        form.ui.spacing_mut().item_spacing.x = gap;
        COLUMNS.map(|(name, quantity, _)| {
            let size_of = egui::vec2(width, 18.0);
            let layout = Layout::right_to_left(Align::Center);
            let text = RichText::new(format!("{name}, {}", units.symbol(quantity))).size(size::SMALL).color(quiet);
            form.ui
                .allocate_ui_with_layout(size_of, layout, |ui| {
                    ui.set_min_size(size_of);
                    ui.add_space(8.0);
                    ui.label(text).id
                })
                .inner
        })
    })
}

/// The points with one more: in the middle of the widest gap of flow, on the fitted curves; between its neighbours where nothing
/// can be fitted.
pub(super) fn with_point(unit: &PumpUnit) -> Vec<CataloguePoint> {
    let mut points = unit.catalogue.clone();
    let widest = (1..points.len()).max_by(|a, b| {
        let gap = |at: usize| points[at].flow - points[at - 1].flow;
        gap(*a).total_cmp(&gap(*b))
    });
    let Some(at) = widest else {
        let last = points.last().copied().unwrap_or(CataloguePoint { flow: 0.0, head: 1.0, power: 10.0 });
        points.push(CataloguePoint { flow: last.flow + 1e-4, head: 0.8 * last.head, power: last.power });
        return points;
    };
    let (before, after) = (points[at - 1], points[at]);
    let flow = 0.5 * (before.flow + after.flow);
    let between =
        CataloguePoint { flow, head: 0.5 * (before.head + after.head), power: 0.5 * (before.power + after.power) };
    let point = unit.fitted().map_or(between, |pump| CataloguePoint {
        flow,
        head: pump.curve.full_speed(flow).0,
        power: pump.power.electric_w(flow, 1.0),
    });
    points.insert(at, point);
    points
}
