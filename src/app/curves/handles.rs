//! The three settings as handles on the plot: drag them, or focus them and use the arrow keys. Each has a shape of its own:
//! a bar on the limit line, a ring at the set-line's zero-flow end, a diamond on the capped curve. They answer to the first button: the
//! other writes on what is presented.

use super::super::lesson::ring;
use super::super::look::size;
use super::super::term_card::TermCard;
use super::super::view::Intent;
use super::grab::{Grab, command};
use super::{Chart, CurvesState};
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::study::terms::Term;
use egui::{
    self, Align2, Color32, CursorIcon, EventFilter, Id, Key, PointerButton, Pos2, Rect, Sense, Shape, Stroke, Ui, vec2,
};

/// A handle and what it shows.
struct Handle {
    grab: Grab,
    at: [f64; 2],
    color: Color32,
    name: &'static str,
    value: String,
    number: f64,
    label: (Align2, egui::Vec2),
    look: Look,
}

/// Shows the handles and turns their drags and keys into commands; `covered` is what the words of the operating point will lie over.
pub(super) fn show(
    ui: &mut Ui,
    chart: &Chart<'_>,
    state: &mut CurvesState,
    covered: Option<Rect>,
    intents: &mut Vec<Intent>,
) {
    for handle in handles(chart) {
        let center = chart.at(handle.at);
        let center = center.clamp(chart.rect().min, chart.rect().max);
        let id = Id::unique(("setting handle", handle.name));
        let is_held = chart.view.is_held();
        let sense = if is_held { Sense::hover() } else { Sense::click_and_drag() };
        let response = ui.interact(Rect::from_center_size(center, chart.view.weight() * vec2(26.0, 26.0)), id, sense);
        response.widget_info(|| egui::WidgetInfo::slider(!is_held, handle.number, format!("{} handle", handle.name)));
        let starts = response.drag_started_by(PointerButton::Primary);
        if starts || response.clicked() {
            response.request_focus();
        }
        if starts {
            state.trail.clear();
        }
        let dragged = response.dragged_by(PointerButton::Primary);
        let active = dragged || state.grab == Some(handle.grab);
        if dragged && let Some(pos) = response.interact_pointer_pos() {
            let fine = ui.input(|i| i.modifiers.shift);
            intents.extend(command(chart, handle.grab, pos, fine).map(Intent::Change));
        }
        if response.has_focus() {
            keys(ui, chart, handle.grab, id, intents);
        }
        if (response.hovered() || active) && !is_held {
            ui.ctx().set_cursor_icon(if active { CursorIcon::Grabbing } else { CursorIcon::Grab });
        }
        if response.has_focus() {
            let ring = Rect::from_center_size(center, chart.view.weight() * vec2(34.0, 28.0));
            ui.painter().rect_stroke(ring, 6, Stroke::new(2.0, chart.view.palette.accent), egui::StrokeKind::Outside);
        }
        if chart.view.points_out(handle.look) {
            ring::round(ui.painter(), &chart.view.palette, center, 20.0 * chart.view.weight());
        }
        if !active {
            let hint = "Drag it, or step it with the arrow keys; with Shift a drag goes between the device's steps.";
            let term = match handle.grab {
                Grab::HeadLimit(_) => Term::HeadLimit,
                Grab::Slope(_) => Term::Slope,
                Grab::SpeedCap(_) => Term::SpeedCap,
            };
            TermCard::new(chart.view, term).hint(hint).beside(chart.rect()).on(&response);
        }
        let is_active = active || response.has_focus();
        paint(ui, chart, &handle, center, is_active, response.hovered());
        name(ui, chart, &handle, center, is_active, covered);
    }
}

/// Where the handles and their words stand: other labels keep clear of them.
pub(super) fn places(chart: &Chart<'_>) -> Vec<Rect> {
    handles(chart)
        .iter()
        .map(|handle| {
            let at = chart.at(handle.at);
            words(chart, handle).union(Rect::from_center_size(at, chart.view.weight() * vec2(26.0, 26.0)))
        })
        .collect()
}

/// Where the handles stand, without their words.
pub(super) fn knobs(chart: &Chart<'_>) -> Vec<Rect> {
    let side = chart.view.weight() * vec2(26.0, 26.0);
    handles(chart).iter().map(|handle| Rect::from_center_size(chart.at(handle.at), side)).collect()
}

fn handles(chart: &Chart<'_>) -> Vec<Handle> {
    let view = chart.view;
    let (Some(curves), Some(unit), Some(id)) = (view.curves(), view.unit(), view.pump) else { return Vec::new() };
    let settings = unit.regulation;
    let units = view.units;
    let mut all = Vec::new();
    if let Some(limit) = settings.head_limit_m {
        all.push(Handle {
            grab: Grab::HeadLimit(id),
            at: [0.9 * curves.frame[0], limit],
            color: view.palette.head_limit,
            name: "Head limit",
            value: units.format(Quantity::Head, limit),
            number: units.from_si(Quantity::Head, limit),
            label: (Align2::CENTER_BOTTOM, vec2(0.0, -9.0)),
            look: Look::HeadLimit,
        });
        if let Some(start) = curves.set_line.first() {
            all.push(Handle {
                grab: Grab::Slope(id),
                at: *start,
                color: view.palette.slope,
                name: "Slope",
                value: units.format(Quantity::Share, settings.slope),
                number: units.from_si(Quantity::Share, settings.slope),
                label: (Align2::LEFT_TOP, vec2(12.0, 8.0)),
                look: Look::Slope,
            });
        }
    }
    // The diamond rides where the capped curve has given up a good part of its head.
    let ride = 0.76 * curves.frame[0] * settings.speed_cap;
    if let Some(at) = curves.capped.iter().find(|p| p[0] >= ride) {
        all.push(Handle {
            grab: Grab::SpeedCap(id),
            at: *at,
            color: view.palette.cap,
            name: "Speed cap",
            value: units.format(Quantity::Share, settings.speed_cap),
            number: units.from_si(Quantity::Share, settings.speed_cap),
            // Large words have no room at the right.
            label: match view.presents {
                true => (Align2::RIGHT_TOP, vec2(-7.0, 9.0)),
                false => (Align2::LEFT_CENTER, vec2(14.0, 0.0)),
            },
            look: Look::SpeedCap,
        });
    }
    keep_apart(chart, &mut all);
    all
}

/// About where the words of a handle stand.
fn words(chart: &Chart<'_>, handle: &Handle) -> Rect {
    let (align, by) = handle.label;
    // Where type is large there is no room to give away.
    let size = if chart.view.presents { vec2(92.0, 14.5) } else { vec2(112.0, 18.0) };
    align.anchor_size(chart.at(handle.at) + chart.view.weight() * by, chart.view.scale * size)
}

/// Where the cap's words would lie over those of the head limit, the latter stand below their line; where over those of the slope, which
/// large ones can, the latter stand above the ring.
fn keep_apart(chart: &Chart<'_>, all: &mut [Handle]) {
    let Some((cap, others)) = all.split_last_mut().filter(|(last, _)| matches!(last.grab, Grab::SpeedCap(_))) else {
        return;
    };
    for other in others.iter_mut().filter(|other| words(chart, other).intersects(words(chart, cap))) {
        other.label = match other.grab {
            Grab::HeadLimit(_) => (Align2::CENTER_TOP, vec2(0.0, 9.0)),
            _ => (Align2::LEFT_BOTTOM, vec2(12.0, -8.0)),
        };
    }
}

/// Shows where the settings stand, to be looked at only.
pub(super) fn picture(ui: &Ui, chart: &Chart<'_>, covered: Option<Rect>) {
    for handle in handles(chart) {
        let center = chart.at(handle.at).clamp(chart.rect().min, chart.rect().max);
        paint(ui, chart, &handle, center, false, false);
        name(ui, chart, &handle, center, false, covered);
    }
}

/// Arrow keys step a focused handle; the keys then do not move the focus.
fn keys(ui: &Ui, chart: &Chart<'_>, grab: Grab, id: Id, intents: &mut Vec<Intent>) {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let steps = ui.input(|i| {
        let pressed = |key| i.num_presses(key) as f64;
        pressed(Key::ArrowUp) + pressed(Key::ArrowRight) - pressed(Key::ArrowDown) - pressed(Key::ArrowLeft)
    });
    if steps != 0.0
        && let Some(unit) = chart.view.unit()
    {
        intents.extend(grab.stepped(unit, steps).map(Intent::Change));
    }
}

fn paint(ui: &Ui, chart: &Chart<'_>, handle: &Handle, center: Pos2, active: bool, near: bool) {
    let view = chart.view;
    let palette = &view.palette;
    let thick = view.weight();
    let grow = if active {
        2.5
    } else if near {
        1.5
    } else {
        0.0
    };
    let edge = Stroke::new(2.0 * thick, palette.sheet);
    let painter = ui.painter();
    match handle.grab {
        Grab::HeadLimit(_) => {
            let rect = Rect::from_center_size(center, thick * vec2(26.0 + 2.0 * grow, 9.0 + grow));
            painter.rect(rect, 4, handle.color, edge, egui::StrokeKind::Outside);
        }
        Grab::Slope(_) => {
            painter.circle(center, thick * (7.5 + grow), palette.sheet, Stroke::new(4.0 * thick, handle.color));
        }
        Grab::SpeedCap(_) => {
            let d = thick * (9.0 + grow);
            let points = [vec2(0.0, -d), vec2(d, 0.0), vec2(0.0, d), vec2(-d, 0.0)].map(|offset| center + offset);
            painter.add(Shape::convex_polygon(points.to_vec(), handle.color, edge));
        }
    }
}

/// A handle's words. Before onlookers they are left out where the operating point's would hide them; those in hand first try the other
/// side of their line.
fn name(ui: &Ui, chart: &Chart<'_>, handle: &Handle, center: Pos2, active: bool, covered: Option<Rect>) {
    let view = chart.view;
    let palette = &view.palette;
    let painter = ui.painter();
    let thick = view.weight();
    let text = format!("{} {}", handle.name, handle.value);
    let font = if active { view.strong(size::BODY) } else { view.strong(size::SMALL) };
    let galley = painter.layout_no_wrap(text, font, if active { palette.sheet } else { handle.color });
    // The ground about words in hand stays off the frame too.
    let bounds = chart.rect().shrink(if view.presents { 5.0 * thick } else { 4.0 });
    let place = |(align, offset): (Align2, egui::Vec2)| {
        let rect = align.anchor_size(center + thick * offset, galley.size());
        rect.translate(vec2((bounds.right() - rect.right()).min(0.0) + (bounds.left() - rect.left()).max(0.0), 0.0))
    };
    let hidden = |rect: &Rect| view.presents && covered.is_some_and(|covered| covered.intersects(rect.expand(3.0)));
    let (Align2([across, up]), by) = handle.label;
    let other = if active { place((Align2([across, up.flipped()]), vec2(by.x, -by.y))) } else { place(handle.label) };
    let Some(rect) = [place(handle.label), other].into_iter().find(|rect| !hidden(rect)) else { return };
    if active {
        painter.rect_filled(rect.expand2(vec2(6.0, 3.0)), 5, handle.color);
    } else {
        painter.rect_filled(rect.expand2(vec2(3.0, 1.0)), 3, palette.sheet.gamma_multiply(0.85));
    }
    painter.galley(rect.min, galley, handle.color);
}
