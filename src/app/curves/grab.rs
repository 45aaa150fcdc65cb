//! Taking hold of a setting: by its handle, or anywhere along its line. A place on the plot becomes a value of the setting.

use super::super::view::Intent;
use super::{Chart, CurvesState};
use crate::document::{Command, ComponentId, PumpUnit, stepped, within};
use egui::{self, CursorIcon, Id, PointerButton, Pos2, Response, Sense, Ui};

/// How near to a line the pointer takes hold of it, points.
const REACH: f32 = 7.0;

/// The setting that is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Grab {
    HeadLimit(ComponentId),
    Slope(ComponentId),
    SpeedCap(ComponentId),
}

/// Lets the lines themselves be dragged. The handles, added later, come first under the pointer. Returns whether a drag goes on, and
/// the plot's response.
pub(super) fn interact(
    ui: &mut Ui,
    chart: &Chart<'_>,
    state: &mut CurvesState,
    intents: &mut Vec<Intent>,
) -> (bool, Response) {
    let response = ui.interact(chart.rect(), Id::unique("setting lines"), Sense::drag());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Unknown, true, "Head over flow"));
    if response.drag_started_by(PointerButton::Primary) {
        state.grab = response.interact_pointer_pos().and_then(|pos| nearest(chart, pos));
        if state.grab.is_some() {
            state.trail.clear();
        }
    }
    if response.drag_stopped() || !ui.input(|i| i.pointer.any_down()) {
        state.grab = None;
    }
    if let (true, Some(grab), Some(pos)) = (response.dragged(), state.grab, response.interact_pointer_pos()) {
        let fine = ui.input(|i| i.modifiers.shift);
        intents.extend(command(chart, grab, pos, fine).map(Intent::Change));
    }
    if let Some(pos) = response.hover_pos()
        && nearest(chart, pos).is_some()
    {
        ui.ctx().set_cursor_icon(CursorIcon::Grab);
    }
    (state.grab.is_some(), response)
}

/// The setting whose line lies under the pointer.
fn nearest(chart: &Chart<'_>, pos: Pos2) -> Option<Grab> {
    let (curves, unit, id) = (chart.view.curves()?, chart.view.unit()?, chart.view.pump?);
    let mut found: Vec<(f32, Grab)> = vec![(distance(chart, &curves.capped, pos), Grab::SpeedCap(id))];
    if let Some(limit) = unit.regulation.head_limit_m {
        if curves.set_line.len() > 1 && unit.regulation.slope > 0.0 {
            found.push((distance(chart, &curves.set_line[..2], pos), Grab::Slope(id)));
        }
        let line = [[0.0, limit], [curves.frame[0], limit]];
        found.push((distance(chart, &line, pos), Grab::HeadLimit(id)));
    }
    found
        .into_iter()
        .filter(|(far, _)| *far <= REACH * chart.view.weight())
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, grab)| grab)
}

/// Distance of a place on the screen from a line of SI points.
fn distance(chart: &Chart<'_>, points: &[[f64; 2]], pos: Pos2) -> f32 {
    let points: Vec<Pos2> = points.iter().map(|point| chart.at(*point)).collect();
    far(&points, pos)
}

/// Distance of a place on the screen from a line there.
pub(super) fn far(points: &[Pos2], pos: Pos2) -> f32 {
    points
        .windows(2)
        .map(|pair| {
            let (a, b) = (pair[0], pair[1]);
            let along = b - a;
            let share =
                if along.length_sq() > 0.0 { ((pos - a).dot(along) / along.length_sq()).clamp(0.0, 1.0) } else { 0.0 };
            pos.distance(a + share * along)
        })
        .fold(f32::INFINITY, f32::min)
}

/// The command that puts a held setting's line under the pointer, at whole steps of the device unless `fine`.
pub(super) fn command(chart: &Chart<'_>, grab: Grab, pos: Pos2, fine: bool) -> Option<Command> {
    let (curves, unit) = (chart.view.curves()?, chart.view.unit()?);
    let [flow, head] = chart.value(pos);
    let settings = unit.regulation;
    let (steps, ranges) = (unit.steps, unit.ranges());
    let stepped = |value: f64, step: f64| if fine { value } else { stepped(value, step) };
    Some(match grab {
        Grab::HeadLimit(id) => {
            Command::SetHeadLimit(id, Some(within(stepped(head, steps.head_limit), ranges.head_limit)))
        }
        Grab::Slope(id) => {
            let limit = settings.head_limit_m?;
            let reference = curves.set_line.get(1)?[0];
            // The line is held where the pointer is, not only at its end; close to the reference flow it has no leverage.
            let leverage = (1.0 - flow.max(0.0) / reference).max(0.2);
            Command::SetSlope(id, within(stepped((1.0 - head / limit) / leverage, steps.slope), ranges.slope))
        }
        Grab::SpeedCap(id) => {
            let speed = unit.fitted().ok()?.curve.speed_for(flow, head);
            Command::SetSpeedCap(id, within(stepped(speed, steps.speed_cap), ranges.speed_cap))
        }
    })
}

impl Grab {
    /// The command that moves the setting by so many steps of the device; more is up on the plot, so less slope.
    pub(super) fn stepped(self, unit: &PumpUnit, more: f64) -> Option<Command> {
        let (settings, steps, ranges) = (unit.regulation, unit.steps, unit.ranges());
        let to = |value: f64, step: f64, by: f64| stepped(value + by * step, step);
        Some(match self {
            Self::HeadLimit(id) => {
                let limit = to(settings.head_limit_m?, steps.head_limit, more);
                Command::SetHeadLimit(id, Some(within(limit, ranges.head_limit)))
            }
            Self::Slope(id) => Command::SetSlope(id, within(to(settings.slope, steps.slope, -more), ranges.slope)),
            Self::SpeedCap(id) => {
                Command::SetSpeedCap(id, within(to(settings.speed_cap, steps.speed_cap, more), ranges.speed_cap))
            }
        })
    }
}
