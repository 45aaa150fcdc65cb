//! The curves: head over flow, with the three settings as handles, and electric power below on the same axis.

mod cloud;
mod grab;
mod handles;
mod hover;
mod labels;
mod lesson;
mod lines;
mod ranges;
#[cfg(test)]
mod tests;

use super::desk::Desk;
use super::lesson::ring;
use super::look::{STEP, size};
use super::view::{Intent, View};
use crate::engine::units::{Quantity, round_step};
use crate::lesson::Look;
use egui::{self, Pos2, Rect, RichText, Ui};
use egui_plot::{GridMark, Plot, PlotBounds, PlotPoint, PlotTransform};
use grab::Grab;
pub(super) use lesson::{focus_guess, guess_has_keys};

/// Height of the power plot.
const POWER_HEIGHT: f32 = 118.0;
/// Most points of the trail.
const TRAIL: usize = 48;

/// What the curves pane remembers between passes.
#[derive(Debug, Default)]
pub(super) struct CurvesState {
    grab: Option<Grab>,
    /// Operating points of the last changes, m³/s and m.
    trail: Vec<[f64; 2]>,
    /// From where the operating point walks, m³/s, and since when: along the regulated curve from one scenario to the next.
    walk: Option<(f64, f64)>,
    /// On which side of the operating point its words stand: they stay there while they can.
    side: usize,
    /// Where what governs is named.
    ranges: Vec<ranges::RangeLabel>,
    /// Which of the lines is explained by key.
    explained: Option<usize>,
}

/// How long the operating point walks from one scenario to the next, seconds.
const WALKS: f64 = 0.7;

impl CurvesState {
    /// Forgets the points: they belong to another pump or another time.
    pub(super) fn clear_trail(&mut self) {
        self.trail.clear();
    }

    /// Lets the operating point walk from a flow, m³/s.
    pub(super) fn begin_walk(&mut self, flow: f64, now: f64) {
        self.walk = Some((flow, now));
    }

    /// The flow at which the walking point is now, m³/s; `None` when it has arrived.
    fn walking(&mut self, ui: &Ui, to: f64) -> Option<f64> {
        let (from, since) = self.walk?;
        let share = (ui.input(|i| i.time) - since) / WALKS;
        if !(0.0..1.0).contains(&share) {
            self.walk = None;
            return None;
        }
        ui.ctx().request_repaint();
        let eased = share * share * (3.0 - 2.0 * share);
        Some(from + eased * (to - from))
    }

    /// Adds the present operating point to the trail.
    pub(super) fn leave_trail(&mut self, desk: &Desk) {
        let point = desk.pump().and_then(|id| desk.study().results().pumps.get(&id)).map(|p| [p.flow, p.head]);
        if let Some(point) = point
            && self.trail.last() != Some(&point)
        {
            self.trail.push(point);
            let over = self.trail.len().saturating_sub(TRAIL);
            self.trail.drain(..over);
        }
    }
}

/// From SI to the plot's units and the screen.
pub(super) struct Chart<'a> {
    view: &'a View<'a>,
    transform: PlotTransform,
    quantity: Quantity,
}

impl Chart<'_> {
    /// Where a flow (m³/s) and a value (SI) lie on the screen.
    fn at(&self, [flow, value]: [f64; 2]) -> Pos2 {
        let units = self.view.units;
        let point = PlotPoint::new(units.from_si(Quantity::Flow, flow), units.from_si(self.quantity, value));
        self.transform.position_from_point(&point)
    }

    /// The flow (m³/s) and value (SI) at a place on the screen.
    fn value(&self, pos: Pos2) -> [f64; 2] {
        let units = self.view.units;
        let point = self.transform.value_from_position(pos);
        [units.to_si(Quantity::Flow, point.x), units.to_si(self.quantity, point.y)]
    }

    fn rect(&self) -> Rect {
        *self.transform.frame()
    }
}

/// Shows both plots.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut CurvesState, intents: &mut Vec<Intent>) {
    if view.curves().is_none() {
        ui.centered_and_justified(|ui| {
            ui.label(RichText::new("No circulator, no curves.").size(size::LEAD));
        });
        return;
    }
    if view.presents {
        let head = plot(ui, view, "head over flow", Quantity::Head, ui.available_height());
        settings_on(ui, &head, state, intents);
        return;
    }
    let power_height = POWER_HEIGHT.min(0.3 * ui.available_height());
    let head_height = (ui.available_height() - power_height - STEP).max(120.0);
    let head = plot(ui, view, "head over flow", Quantity::Head, head_height);
    settings_on(ui, &head, state, intents);
    let power = plot(ui, view, "power over flow", Quantity::Power, power_height);
    labels::power(ui, &power);
    lesson::power(ui, &power);
    hover::axes(ui, view, head.rect(), power.rect());
    if view.points_out(Look::Power) {
        ring::about(ui.painter(), &view.palette, power.rect().expand(2.0));
    }
}

/// What stands on the plot of head over flow, and what the hand does there.
fn settings_on(ui: &mut Ui, head: &Chart<'_>, state: &mut CurvesState, intents: &mut Vec<Intent>) {
    // What a lesson asks for first must not be tried out before.
    let lines = (!head.view.is_held()).then(|| grab::interact(ui, head, state, intents));
    lesson::point_out(ui, head);
    labels::head(ui, head, state);
    // Cards are for the one who works, and too small for those who look on.
    if let Some((moved, response)) = lines.as_ref().filter(|_| !head.view.presents) {
        hover::show(ui, head, response, state, *moved);
    }
    let moved = lines.is_some_and(|(moved, _)| moved);
    let walking = head.view.pump_result().and_then(|pump| state.walking(ui, pump.flow));
    let words = labels::point_words(ui, head, walking, &mut state.side);
    handles::show(ui, head, state, words.as_ref().map(|words| words.rect), intents);
    lesson::place(ui, head, intents);
    labels::operating_point(ui, head, moved, words);
    lesson::head(ui, head);
}

/// Shows head over flow to be looked at only, laid out as the plot that is worked on.
pub(super) fn picture(ui: &mut Ui, view: &View<'_>, state: &CurvesState) {
    if view.curves().is_some() {
        let head = plot(ui, view, "head over flow as it was", Quantity::Head, ui.available_height());
        let mut side = state.side;
        let words = labels::point_words(ui, &head, None, &mut side);
        handles::picture(ui, &head, words.as_ref().map(|words| words.rect));
        labels::operating_point(ui, &head, false, words);
    }
}

/// One plot with fixed bounds: nothing rescales under the hand.
fn plot<'a>(ui: &mut Ui, view: &'a View<'a>, name: &str, quantity: Quantity, height: f32) -> Chart<'a> {
    let end = bounds(view, quantity);
    let is_head = quantity == Quantity::Head;
    // Large figures stand further apart.
    let (across, up) = match (view.presents, is_head) {
        (true, _) => (5.0, 5.0),
        (false, true) => (6.5, 10.0),
        (false, false) => (6.5, 3.0),
    };
    ui.style_mut().text_styles.insert(egui::TextStyle::Body, view.font(size::BODY));
    let mut plot = Plot::new(name)
        .height(height)
        .allow_zoom(false)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_crosshair(false)
        .grid_color(view.palette.grid)
        .grid_fade(0.75)
        .label_formatter(|_| None)
        .y_axis_min_width(if view.presents { 30.0 * view.scale } else { 56.0 })
        .x_grid_spacer(move |input| marks(input.bounds, across))
        .y_grid_spacer(move |input| marks(input.bounds, up))
        .y_axis_label(axis_label(view, quantity))
        .x_axis_formatter(|mark, _| tick(mark.value))
        .y_axis_formatter(|mark, _| tick(mark.value))
        .sense(egui::Sense::hover());
    plot = if is_head && !view.presents {
        plot.x_axis_label("")
    } else {
        plot.x_axis_label(axis_label(view, Quantity::Flow))
    };
    let response = plot.show(ui, |plot| {
        // A little room at the left, so that a handle at zero flow does not hide the axis figures.
        plot.set_plot_bounds(PlotBounds::from_min_max([-0.016 * end[0], 0.0], end));
        if is_head {
            lines::head(plot, view);
        } else {
            lines::power(plot, view);
        }
    });
    Chart { view, transform: response.transform, quantity }
}

/// Upper ends of both axes in the plot's units: the pump's own full-speed curve, whatever is set.
fn bounds(view: &View<'_>, quantity: Quantity) -> [f64; 2] {
    let units = view.units;
    let Some(curves) = view.curves() else { return [1.0, 1.0] };
    let most = match quantity {
        Quantity::Head => 1.08 * curves.frame[1],
        _ => 1.12 * view.unit().map_or(1.0, |u| u.catalogue.iter().map(|p| p.power).fold(1.0, f64::max)),
    };
    [units.from_si(Quantity::Flow, 1.02 * curves.frame[0]), units.from_si(quantity, most)]
}

fn axis_label(view: &View<'_>, quantity: Quantity) -> RichText {
    let words = format!("{}, {}", super::frame::capital(quantity.name()), view.units.symbol(quantity));
    RichText::new(words).font(view.font(size::SMALL))
}

/// Round values between the bounds, about so many.
fn marks((low, high): (f64, f64), about: f64) -> Vec<GridMark> {
    let Some(step_size) = round_step(high - low, about) else { return Vec::new() };
    let first = (low / step_size).ceil();
    (0..=40)
        .filter(|i| first + f64::from(*i) >= 0.0)
        .map(|i| (first + f64::from(i)) * step_size)
        .take_while(|value| *value <= high)
        .map(|value| GridMark { value, step_size })
        .collect()
}

fn tick(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
