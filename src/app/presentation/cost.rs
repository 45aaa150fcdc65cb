//! Comfort and cost in one line: how many rooms get what they need, what the pump takes in a year, and what that costs.

use super::super::view::View;
use super::before::Before;
use super::text::{self, Type};
use super::warmth;
use crate::document::Duty;
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

/// A figure, the words behind it, and its share of the line: fixed, so that none moves when another changes.
struct Piece {
    figure: String,
    words: String,
    share: f32,
}

/// Shows the line.
pub(super) fn show(ui: &Ui, place: Rect, view: &View<'_>, before: Option<&Before>) {
    let pieces = pieces(view, before);
    let told: Vec<String> = pieces.iter().map(|piece| format!("{} {}", piece.figure, piece.words)).collect();
    let response = ui.interact(place, Id::unique("comfort and cost"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, told.join(" · ")));
    let painter = ui.painter();
    painter.rect_filled(place, 8, view.palette.raised);
    let inner = place.shrink2(egui::vec2(5.0 * view.scale, 0.0));
    let all: f32 = pieces.iter().map(|piece| piece.share).sum();
    let (size, gap, apart) = (14.5 * view.scale, 3.0 * view.scale, 6.0 * view.scale);
    let mut left = inner.left();
    for Piece { figure, words, share } in &pieces {
        let room = inner.width() * share / all - apart;
        let asked = Type::strong(size).width(painter, figure) + gap + Type::plain(size).width(painter, words);
        let smaller = (room / asked).min(1.0);
        let at = (pos2(left, inner.center().y), Align2::LEFT_CENTER);
        let figure = text::line(painter, at, room, figure, Type::strong(smaller * size), view.palette.ink);
        let at = (pos2(figure.right() + smaller * gap, at.0.y), Align2::LEFT_CENTER);
        let rest = left + room + 1.0 - at.0.x;
        text::line(painter, at, rest, words, Type::plain(smaller * size), view.palette.quiet);
        left += room + apart;
    }
}

/// What stands in it.
fn pieces(view: &View<'_>, before: Option<&Before>) -> Vec<Piece> {
    let (open, served) = warmth::served(view.results);
    let kind = warmth::Kind::of(view.project);
    let mut all = Vec::new();
    if !view.project.zones.is_empty() {
        let enough = match view.project.design.duty {
            Duty::Heating => "warm enough",
            Duty::Cooling => "cool enough",
        };
        let (figure, words) = match open {
            0 => (format!("No {}", kind.one()), "open".to_owned()),
            open => (
                format!("{served} of {open}"),
                format!("{} {enough}", if open == 1 { kind.one() } else { kind.many() }),
            ),
        };
        all.push(Piece { figure, words, share: 1.15 });
    }
    let was = before.map(|before| before.taken);
    let units = view.units;
    match taken(view) {
        Taken::Year(now_j) => {
            let was_j = was.and_then(|was| if let Taken::Year(was_j) = was { Some(was_j) } else { None });
            let number = |energy_j| units.number(Quantity::Energy, energy_j);
            let now = units.format(Quantity::Energy, now_j);
            all.push(Piece {
                figure: after(was_j.map(number), &number(now_j), now),
                words: "a year".to_owned(),
                share: 1.0,
            });
            if let Some(now) = price(view, now_j) {
                let money = |amount| units.money(&view.project.energy.currency, amount);
                let was = was_j.and_then(|was_j| price(view, was_j)).map(money).filter(|was| *was != money(now));
                // The currency stands once.
                let last = if was.is_some() { units.money("", now) } else { money(now) };
                all.push(Piece { figure: after(was, &money(now), last), words: "a year".to_owned(), share: 1.0 });
            }
        }
        Taken::Mean(now_w) => {
            let was_w = was.and_then(|was| if let Taken::Mean(was_w) = was { Some(was_w) } else { None });
            all.push(power(view, was_w, now_w, "on average"));
        }
        Taken::Now(now_w) => {
            let was_w = was.and_then(|was| if let Taken::Now(was_w) = was { Some(was_w) } else { None });
            let is_one = view.results.pumps.len() == 1;
            all.push(power(view, was_w, now_w, if is_one { "for the pump now" } else { "for the pumps now" }));
        }
        Taken::Awaited => all.push(Piece { figure: "…".to_owned(), words: "a year".to_owned(), share: 2.0 }),
    }
    all
}

fn power(view: &View<'_>, was_w: Option<f64>, now_w: f64, words: &'static str) -> Piece {
    let number = |power_w| view.units.number(Quantity::Power, power_w);
    let now = view.units.format(Quantity::Power, now_w);
    Piece { figure: after(was_w.map(number), &number(now_w), now), words: words.to_owned(), share: 1.4 }
}

/// "204 → 180 kWh", or only what is so now where it was the same, `number` without its unit.
fn after(was: Option<String>, number: &str, now: String) -> String {
    match was {
        Some(was) if was != number => format!("{was} → {now}"),
        _ => now,
    }
}
