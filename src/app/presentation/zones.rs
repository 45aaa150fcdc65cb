//! Zone bars to be read from afar: name, share of design flow with its band, and warmth in words; with a "before" kept its bar stands
//! above the present one. A click on a zone shuts or opens it.

use super::super::look;
use super::super::view::{Intent, View};
use super::super::zones::state_look;
use super::text::{self, Type};
use super::warmth::{self, Comfort, Kind};
use crate::document::{Command, Zone, ZoneId};
use crate::study::{Results, ZoneResult, ZoneState};
use egui::{self, Align2, Id, Painter, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

/// Height of a row and size of its type, points at work.
const ROW: f32 = 20.0;
const SIZE: f32 = 14.0;
/// Rows that stand below each other at most, and zones from which on they stand in two columns.
const ROWS: usize = 5;
const MOST: usize = 2 * ROWS;
/// How much smaller names may be than the rest, where they are long: beyond that they are cut short.
const SMALLEST: f32 = 0.7;
/// Share of design flow at a bar's right end.
const END: f64 = 1.5;

/// Which zones have a row where there are more than rows.
#[derive(Debug, Default)]
pub(super) struct Chosen {
    zones: Vec<ZoneId>,
}

/// Height that so many zones take.
pub(super) fn height(zones: usize, scale: f32) -> f32 {
    let rows = if zones <= ROWS { zones } else { zones.min(MOST).div_ceil(2) };
    rows as f32 * ROW * scale
}

/// Shows them; `before` is how they were, if that is kept.
pub(super) fn show(
    ui: &Ui,
    place: Rect,
    view: &View<'_>,
    chosen: &mut Chosen,
    before: Option<&Results>,
    intents: &mut Vec<Intent>,
) {
    let all = view.project.zones.len();
    chosen.choose(view, ui.input(|i| i.pointer.any_down()));
    let columns = if all <= ROWS { 1 } else { 2 };
    let rows = if columns == 1 { all.max(1) } else { all.min(MOST).div_ceil(2) };
    let size = vec2(place.width() / columns as f32, place.height() / rows as f32);
    // Between two columns there is room, so that none is taken for part of the other.
    let wide = if columns == 1 { size.x } else { size.x - 8.0 * view.scale };
    let column = Columns::new(ui.painter(), view, columns == 1, before.is_some(), wide);
    for (i, id) in chosen.zones.iter().enumerate() {
        let (Some(zone), Some(result)) = (view.project.zones.get(id), view.results.zones.get(id)) else { continue };
        let corner = place.min + vec2((i / rows) as f32 * size.x, (i % rows) as f32 * size.y);
        let rect = Rect::from_min_size(corner, vec2(wide, size.y));
        let was = before.and_then(|before| before.zones.get(id));
        row(ui, rect, view, &column, (*id, zone, result, was), intents);
    }
    if all > MOST {
        let corner = place.min + vec2(size.x, (rows - 1) as f32 * size.y);
        rest(ui, Rect::from_min_size(corner, size), view, &chosen.zones);
    }
}

impl Chosen {
    /// All in their order where there is room; else those furthest outside their band. While the hand is at something they stay.
    fn choose(&mut self, view: &View<'_>, is_busy: bool) {
        let all = &view.project.zones;
        if all.len() <= MOST {
            self.zones = all.keys().copied().collect();
            return;
        }
        if is_busy && self.zones.len() == MOST - 1 && self.zones.iter().all(|id| all.contains_key(id)) {
            return;
        }
        let band = &view.project.acceptance;
        let off = |zone: &ZoneResult| match zone.state {
            ZoneState::Shut => -1.0,
            _ if zone.state.is_short() => 1.0 + (band.low - zone.share).max(0.0),
            ZoneState::Overflowed => zone.share - band.high,
            _ => 0.0,
        };
        let mut order: Vec<(f64, ZoneId)> = view.results.zones.iter().map(|(id, zone)| (off(zone), *id)).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        self.zones = order.into_iter().take(MOST - 1).map(|(_, id)| id).collect();
        self.zones.sort_unstable();
    }
}

/// Where things stand in a row, from its left edge.
struct Columns {
    name: f32,
    bar: (f32, f32),
    share: f32,
    word: Option<f32>,
    /// Whether there is room for the share before; the bars tell it in any.
    compares: bool,
    kind: Type,
    /// All names alike, as small as the longest must be.
    names: Type,
}

impl Columns {
    fn new(painter: &Painter, view: &View<'_>, is_wide: bool, compares: bool, width: f32) -> Self {
        let kind = Type::strong(SIZE * view.scale);
        let gap = 6.0 * view.scale;
        let widest =
            |texts: &mut dyn Iterator<Item = &str>| texts.map(|text| kind.width(painter, text)).fold(0.0, f32::max);
        let names = widest(&mut view.project.zones.values().map(|zone| zone.name.as_str()));
        let name = names.min(if is_wide { 0.3 } else { 0.42 } * width);
        let smaller = (name / names.max(1.0)).max(SMALLEST);
        let word = if is_wide {
            let words = widest(&mut Kind::of(view.project).words(view.project.design.duty).into_iter());
            words + kind.width(painter, "▲ ")
        } else {
            kind.width(painter, "▲")
        };
        let compares = compares && is_wide;
        let share = kind.width(painter, if compares { "110 → 110 %" } else { "110 %" });
        let word_at = width - word;
        let share_at = word_at - gap;
        let bar = (name + gap, (share_at - share - gap).max(name + gap + 10.0));
        let names = Type::strong(smaller * SIZE * view.scale);
        Self { name, bar, share: share_at, word: is_wide.then_some(word_at), compares, kind, names }
    }
}

fn row(
    ui: &Ui,
    rect: Rect,
    view: &View<'_>,
    columns: &Columns,
    (id, zone, result, was): (ZoneId, &Zone, &ZoneResult, Option<&ZoneResult>),
    intents: &mut Vec<Intent>,
) {
    let palette = &view.palette;
    let painter = ui.painter();
    let sense = if zone.valve.is_some() { Sense::click() } else { Sense::hover() };
    let response = ui.interact(rect, Id::unique(("presented zone", id.0)), sense);
    if response.contains_pointer() {
        intents.push(Intent::Hover(id));
    }
    if view.hovered == Some(id) || response.has_focus() {
        painter.rect_filled(rect, 6, palette.raised);
    }
    let shut = result.state == ZoneState::Shut;
    if let Some(valve) = zone.valve.filter(|_| response.clicked()) {
        intents.push(Intent::Change(Command::SetOpen(valve, shut)));
    }
    let (color, mark) = state_look(view, result.state);
    let word = Kind::of(view.project).word(result, view.project.design.duty);
    // The bar tells of water, the word of warmth: one that is warm enough with little water is not marked as cool.
    let (word_color, word_mark) = match (warmth::comfort(result), result.state) {
        (Comfort::Fine, ZoneState::Overflowed) | (Comfort::Shut, _) => (color, mark),
        (Comfort::Fine, _) => (palette.served, ""),
        (_, state) if state.is_short() => (color, mark),
        _ => (palette.starved, "▼"),
    };
    let ink = if shut { palette.shut } else { palette.ink };
    let y = rect.center().y;
    let left = |x: f32| (pos2(rect.left() + x, y), Align2::LEFT_CENTER);
    text::line(painter, left(0.0), columns.name, &zone.name, columns.names, ink);
    let bar = Rect::from_x_y_ranges(
        rect.left() + columns.bar.0..=rect.left() + columns.bar.1,
        rect.top() + 0.16 * rect.height()..=rect.bottom() - 0.16 * rect.height(),
    );
    bars(painter, view, bar, result, was, color);
    let share = warmth::share(view, result, was.filter(|_| columns.compares));
    let room = columns.share - columns.bar.1;
    let at = (pos2(rect.left() + columns.share, y), Align2::RIGHT_CENTER);
    text::line(painter, at, room, &share, columns.kind, ink);
    match columns.word {
        Some(x) => {
            let words = format!("{word_mark} {word}");
            text::line(painter, left(x), rect.width() - x, words.trim(), columns.kind, word_color);
        }
        None => {
            let at = (pos2(rect.right(), y), Align2::RIGHT_CENTER);
            text::line(painter, at, rect.width() - columns.share, word_mark, columns.kind, word_color);
        }
    }
    let told = format!("{}: {share}, {word}", zone.name);
    response.widget_info(|| match zone.valve {
        Some(_) => WidgetInfo::selected(egui::Role::Switch, true, !shut, &told),
        None => WidgetInfo::labeled(egui::Role::Label, true, &told),
    });
}

/// The present bar over the band; above it the one before, paler and thinner.
fn bars(
    painter: &Painter,
    view: &View<'_>,
    rect: Rect,
    result: &ZoneResult,
    was: Option<&ZoneResult>,
    color: egui::Color32,
) {
    let palette = &view.palette;
    let x = |share: f64| rect.left() + rect.width() * (share / END).clamp(0.0, 1.0) as f32;
    painter.rect_filled(rect, 4, look::between(palette.ground, palette.rule, 0.45));
    let band = &view.project.acceptance;
    let band = Rect::from_x_y_ranges(x(band.low)..=x(band.high), rect.y_range());
    painter.rect_filled(band, 0, look::between(palette.ground, palette.served, 0.28));
    let one = |zone: &ZoneResult, from: f32, to: f32, color: egui::Color32| {
        if zone.state != ZoneState::Shut {
            let (top, bottom) = (rect.top() + from * rect.height(), rect.top() + to * rect.height());
            let end = Pos2::new(x(zone.share).max(rect.left() + 2.0), bottom);
            painter.rect_filled(Rect::from_min_max(pos2(rect.left(), top), end), 3, color);
        }
    };
    match was {
        Some(was) => {
            let (before, _) = state_look(view, was.state);
            one(was, 0.08, 0.4, look::between(palette.ground, before, 0.5));
            one(result, 0.46, 0.92, color);
        }
        None => one(result, 0.14, 0.86, color),
    }
    let whole = x(1.0);
    let ends = [pos2(whole, rect.top() - 2.0), pos2(whole, rect.bottom() + 2.0)];
    painter.line_segment(ends, Stroke::new(1.6 * view.weight(), palette.ink));
}

/// How those fare that have no row.
fn rest(ui: &Ui, rect: Rect, view: &View<'_>, shown: &[ZoneId]) {
    let others = || view.results.zones.iter().filter(|(id, _)| !shown.contains(id)).map(|(_, zone)| zone);
    let open = || others().filter(|zone| zone.state != ZoneState::Shut);
    let short = open().filter(|zone| warmth::comfort(zone) > Comfort::Fine).count();
    let words = match (open().count(), short) {
        (0, _) => format!("and {} that are shut", others().count()),
        (open, 0) => format!("and {open} more, none short"),
        (open, short) => format!("and {open} more, {short} short"),
    };
    let response = ui.interact(rect, Id::unique("zones without a row"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &words));
    let at = (pos2(rect.left(), rect.center().y), Align2::LEFT_CENTER);
    text::line(ui.painter(), at, rect.width(), &words, Type::plain(SIZE * view.scale), view.palette.quiet);
}
