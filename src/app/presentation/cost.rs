//! Comfort and cost in one line: how many rooms get what they need, what the pump takes in a year, and what that costs.

use super::super::view::View;
use super::before::Before;
use super::text::{self, Type};
use super::warmth;
use crate::engine::units::Quantity;
use egui::{self, Align2, Id, Rect, Sense, Ui, WidgetInfo, pos2};

/// What all circulators take, as far as it can be told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Taken {
    /// Energy of a year, J.
    Year(f64),
    /// Mean power over the scenarios, W: nobody has said how long each lasts.
    Mean(f64),
    /// Power now, W: there is no scenario.
    Now(f64),
    /// The scenarios are being probed.
    Awaited,
}

/// What all circulators take at the present settings.
pub(super) fn taken(view: &View<'_>) -> Taken {
    let now = || Taken::Now(view.results.pumps.values().filter(|p| p.running).map(|p| p.electric_w).sum());
    if view.project.scenarios.is_empty() || view.pump_result().is_none_or(|pump| !pump.running) {
        return now();
    }
    match view.part_load.present() {
        None => Taken::Awaited,
        Some(_) if view.part_load.is_old() => Taken::Awaited,
        Some(present) if present.year.hours > 0.0 => Taken::Year(present.year.total_j()),
        Some(present) => Taken::Mean(present.mean_w),
    }
}

/// What an energy costs, in the user's currency.
pub(super) fn price(view: &View<'_>, energy_j: f64) -> Option<f64> {
    Some(view.project.energy.price_per_kwh? * energy_j / 3.6e6)
}

/// Shows the line.
pub(super) fn show(ui: &Ui, place: Rect, view: &View<'_>, before: Option<&Before>) {
    let pieces = pieces(view, before);
    let told = pieces.iter().map(|(figure, words)| format!("{figure} {words}")).collect::<Vec<_>>().join(" · ");
    let response = ui.interact(place, Id::unique("comfort and cost"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &told));
    let size = 14.5 * view.scale;
    let painter = ui.painter();
    painter.rect_filled(place, 8, view.palette.raised);
    // Each stands in a column of its own, so that none moves when another changes.
    let inner = place.shrink2(egui::vec2(5.0 * view.scale, 0.0));
    let wide = inner.width() / pieces.len().max(1) as f32;
    for (i, (figure, words)) in pieces.iter().enumerate() {
        let at = pos2(inner.left() + i as f32 * wide, inner.center().y);
        let room = wide - 6.0 * view.scale;
        let (strong, plain) = (Type::strong(size), Type::plain(size));
        let gap = 3.0 * view.scale;
        let asked = strong.width(painter, figure) + gap + plain.width(painter, words);
        let smaller = (room / asked).min(1.0);
        let (strong, plain) = (Type::strong(smaller * size), Type::plain(smaller * size));
        let figure = text::line(painter, (at, Align2::LEFT_CENTER), room, figure, strong, view.palette.ink);
        let after = pos2(figure.right() + smaller * gap, at.y);
        let left = at.x + room + 1.0 - after.x;
        text::line(painter, (after, Align2::LEFT_CENTER), left, words, plain, view.palette.quiet);
    }
}

/// Figures and the words behind them.
fn pieces(view: &View<'_>, before: Option<&Before>) -> Vec<(String, &'static str)> {
    let (open, served) = warmth::rooms(view.results);
    let mut all = Vec::new();
    if !view.project.zones.is_empty() {
        all.push((format!("{served} of {open}"), "rooms get what they need"));
    }
    let was = before.map(|before| before.taken);
    let units = view.units;
    match taken(view) {
        Taken::Year(now_j) => {
            let was_j = was.and_then(|was| if let Taken::Year(was_j) = was { Some(was_j) } else { None });
            all.push((
                changed(was_j, now_j, |j| units.number(Quantity::Energy, j), |j| units.format(Quantity::Energy, j)),
                "a year",
            ));
            if let Some(now) = price(view, now_j) {
                let was = was_j.and_then(|was_j| price(view, was_j));
                let money = |amount| units.money(&view.project.energy.currency, amount);
                all.push((changed(was, now, money, |amount| units.money("", amount)), "a year"));
            }
        }
        Taken::Mean(now_w) => {
            let was_w = was.and_then(|was| if let Taken::Mean(was_w) = was { Some(was_w) } else { None });
            all.push((power(view, was_w, now_w), "on average"));
        }
        Taken::Now(now_w) => {
            let was_w = was.and_then(|was| if let Taken::Now(was_w) = was { Some(was_w) } else { None });
            all.push((power(view, was_w, now_w), "for the pump now"));
        }
        Taken::Awaited => all.push(("…".to_owned(), "a year")),
    }
    all
}

fn power(view: &View<'_>, was_w: Option<f64>, now_w: f64) -> String {
    let units = view.units;
    changed(was_w, now_w, |w| units.number(Quantity::Power, w), |w| units.format(Quantity::Power, w))
}

/// "204 → 180 kWh", or only what is so now: `first` writes what stands first of two, `last` what stands last or alone.
fn changed(was: Option<f64>, now: f64, first: impl Fn(f64) -> String, last: impl Fn(f64) -> String) -> String {
    match was.map(&first) {
        Some(was) => format!("{was} → {}", last(now)),
        None => last(now),
    }
}
