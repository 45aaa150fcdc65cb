//! The plane itself: colours, region, lines, axes, and the hand on it.

use super::super::look::{self, size};
use super::super::term_card::{self, TermCard};
use super::super::view::{Intent, View};
use super::{amounts, axes_words, labels, marks};
use crate::document::{self, Command, PumpUnit, within};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, round_step};
use crate::study::part_load::Reason;
use crate::study::settings::{Axes, MapCell, Outline, SettingMap, miss_words};
use crate::study::terms::Term;
use egui::{
    self, Align2, Color32, CursorIcon, EventFilter, Id, Key, Mesh, Painter, Pos2, Rect, Sense, Shape, Stroke,
    StrokeKind, Ui, pos2, vec2,
};

/// From settings to the screen.
pub(super) struct Sheet<'a> {
    pub(super) view: &'a View<'a>,
    pub(super) map: &'a SettingMap,
    pub(super) rect: Rect,
}

impl Sheet<'_> {
    /// Where a place of the plane lies.
    pub(super) fn at(&self, [x, y]: [f64; 2]) -> Pos2 {
        let share = |value: f64, [low, high]: [f64; 2]| ((value - low) / (high - low)) as f32;
        let (plane, rect) = (&self.map.plane, self.rect);
        pos2(rect.left() + share(x, plane.x) * rect.width(), rect.bottom() - share(y, plane.y) * rect.height())
    }

    /// The place of the plane at a place on the screen, within the plane.
    fn place(&self, pos: Pos2) -> [f64; 2] {
        let along = f64::from((pos.x - self.rect.left()) / self.rect.width());
        let up = f64::from((self.rect.bottom() - pos.y) / self.rect.height());
        self.map.plane.at([along.clamp(0.0, 1.0), up.clamp(0.0, 1.0)])
    }

    /// What stands on the axes.
    fn quantities(&self) -> (Quantity, Quantity) {
        match self.map.plane.axes {
            Axes::LimitOverSlope => (Quantity::Share, Quantity::Head),
            Axes::LimitOverCap => (Quantity::Share, Quantity::Head),
            Axes::SlopeOverCap => (Quantity::Share, Quantity::Share),
        }
    }
}

/// Shows the plane.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, map: &SettingMap, intents: &mut Vec<Intent>) {
    let whole = ui.available_rect_before_wrap();
    let rect = Rect::from_min_max(whole.min + vec2(56.0, 8.0), whole.max - vec2(14.0, 40.0));
    if rect.width() < 60.0 || rect.height() < 60.0 {
        return;
    }
    let sheet = Sheet { view, map, rect };
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 0, view.palette.sheet);
    cells(&painter, &sheet);
    for outline in &map.starves_none {
        edge(&painter, &sheet, outline, Stroke::new(1.2, view.palette.starved), true);
    }
    for outline in &map.region {
        fill(&painter, &sheet, outline, served(view));
        edge(&painter, &sheet, outline, Stroke::new(2.0, view.palette.served), false);
    }
    axes(ui, &sheet);
    let mut taken = marks::places(&sheet);
    let energies = labels::contours(&painter, &sheet, &mut taken);
    labels::regions(&painter, &sheet, &mut taken);
    let over_energy = ui.rect_contains_pointer(rect)
        && ui.ctx().pointer_hover_pos().is_some_and(|pos| energies.iter().any(|label| label.contains(pos)));
    hand(ui, &sheet, over_energy, intents);
    marks::show(&painter, &sheet);
    ui.painter().rect_stroke(rect, 0, Stroke::new(1.0, view.palette.rule), StrokeKind::Outside);
    ui.allocate_rect(whole, Sense::hover());
}

fn served(view: &View<'_>) -> Color32 {
    look::between(view.palette.sheet, view.palette.served, 0.3)
}

/// The colour of what goes wrong first.
pub(super) fn color(view: &View<'_>, reason: &Reason) -> Color32 {
    match reason {
        Reason::Starves(_) => view.palette.starved,
        Reason::Overflows(_) => view.palette.overflowed,
        Reason::TooLoud(_) => view.palette.head_limit,
    }
}

/// Every cell in the colour of what is nearest to go wrong there, with a sparse mark of its shape: the region lies over them.
fn cells(painter: &Painter, sheet: &Sheet<'_>) {
    let (map, rect, view) = (sheet.map, sheet.rect, sheet.view);
    let columns = map.columns;
    let (width, height) = (rect.width() / columns as f32, rect.height() / columns as f32);
    let mut mesh = Mesh::default();
    for (index, cell) in map.cells.iter().enumerate() {
        let (column, row) = ((index % columns) as f32, (index / columns) as f32);
        let Some(nearest) = cell.nearest else { continue };
        let min = pos2(rect.left() + column * width, rect.bottom() - (row + 1.0) * height);
        let color = look::between(view.palette.sheet, color(view, &nearest.reason), 0.16);
        mesh.add_colored_rect(Rect::from_min_size(min, vec2(width + 0.5, height + 0.5)), color);
    }
    painter.add(mesh);
    // Marks on a grid of their own, so that they stay as they are when cells become finer.
    let every = 26.0;
    let mut y = rect.top() + 0.5 * every;
    let mut odd = false;
    while y < rect.bottom() {
        let mut x = rect.left() + if odd { every } else { 0.5 * every };
        while x < rect.right() {
            if let Some(nearest) = map.cell(sheet.place(pos2(x, y))).and_then(MapCell::miss) {
                let color = color(view, &nearest.reason).gamma_multiply(0.55);
                painter.add(mark(pos2(x, y), &nearest.reason, color));
            }
            x += every;
        }
        y += every;
        odd = !odd;
    }
}

/// The shape of what goes wrong: down for too little, up for too much, a bar for too loud.
pub(super) fn mark(at: Pos2, reason: &Reason, color: Color32) -> Shape {
    let d = 2.6;
    match reason {
        Reason::Starves(_) => {
            Shape::convex_polygon(vec![at + vec2(-d, -d), at + vec2(d, -d), at + vec2(0.0, d)], color, Stroke::NONE)
        }
        Reason::Overflows(_) => {
            Shape::convex_polygon(vec![at + vec2(-d, d), at + vec2(0.0, -d), at + vec2(d, d)], color, Stroke::NONE)
        }
        Reason::TooLoud(_) => Shape::line_segment([at - vec2(d, d), at + vec2(d, d)], Stroke::new(1.4, color)),
    }
}

/// Fills an outline that goes along its lower ends and back along its upper ones.
fn fill(painter: &Painter, sheet: &Sheet<'_>, outline: &Outline, color: Color32) {
    let half = outline.len() / 2;
    let mut mesh = Mesh::default();
    for (low, high) in outline[..half].iter().zip(outline[half..].iter().rev()) {
        mesh.colored_vertex(sheet.at(*low), color);
        mesh.colored_vertex(sheet.at(*high), color);
    }
    for k in 0..(half as u32).saturating_sub(1) {
        mesh.add_triangle(2 * k, 2 * k + 1, 2 * k + 2);
        mesh.add_triangle(2 * k + 1, 2 * k + 3, 2 * k + 2);
    }
    painter.add(mesh);
}

/// The edge of an outline; dashed, without what runs along the plane's own border.
fn edge(painter: &Painter, sheet: &Sheet<'_>, outline: &Outline, stroke: Stroke, dashed: bool) {
    let mut points: Vec<Pos2> = outline.iter().map(|place| sheet.at(*place)).collect();
    points.extend(points.first().copied());
    if !dashed {
        painter.add(Shape::line(points, stroke));
        return;
    }
    let rect = sheet.rect;
    let is_border = |a: Pos2, b: Pos2| {
        let same = |a: f32, b: f32, edge: f32| (a - edge).abs() < 0.5 && (b - edge).abs() < 0.5;
        same(a.x, b.x, rect.left())
            || same(a.x, b.x, rect.right())
            || same(a.y, b.y, rect.top())
            || same(a.y, b.y, rect.bottom())
    };
    let mut run: Vec<Pos2> = Vec::new();
    for pair in points.windows(2) {
        if is_border(pair[0], pair[1]) {
            painter.extend(Shape::dashed_line(&std::mem::take(&mut run), stroke, 5.0, 4.0));
            continue;
        }
        if run.is_empty() {
            run.push(pair[0]);
        }
        run.push(pair[1]);
    }
    painter.extend(Shape::dashed_line(&run, stroke, 5.0, 4.0));
}

/// Figures and names of the axes.
fn axes(ui: &Ui, sheet: &Sheet<'_>) {
    let (view, rect, plane) = (sheet.view, sheet.rect, &sheet.map.plane);
    let (x, y) = sheet.quantities();
    let (x_name, y_name) = axes_words(plane.axes);
    let painter = ui.painter();
    let explain = |rect: Rect, axis: &str| {
        let term = match axis {
            "Slope" => Term::Slope,
            "Speed cap" => Term::SpeedCap,
            _ => Term::HeadLimit,
        };
        term_card::word(ui, rect, axis, view, term);
    };
    let (ink, grid) = (view.palette.quiet, view.palette.ink.gamma_multiply(0.08));
    let shown =
        |quantity, [low, high]: [f64; 2]| [view.units.from_si(quantity, low), view.units.from_si(quantity, high)];
    for value in round_values(shown(x, plane.x), rect.width() / 70.0) {
        let at = sheet.at([view.units.to_si(x, value), plane.y[0]]);
        painter.line_segment([at, pos2(at.x, rect.top())], Stroke::new(1.0, grid));
        painter.text(at + vec2(0.0, 4.0), Align2::CENTER_TOP, figure(value), look::font(size::SMALL), ink);
    }
    for value in round_values(shown(y, plane.y), rect.height() / 44.0) {
        let at = sheet.at([plane.x[0], view.units.to_si(y, value)]);
        painter.line_segment([at, pos2(rect.right(), at.y)], Stroke::new(1.0, grid));
        painter.text(at - vec2(5.0, 0.0), Align2::RIGHT_CENTER, figure(value), look::font(size::SMALL), ink);
    }
    let name = |name: &str, quantity| format!("{name}, {}", view.units.symbol(quantity));
    let below = pos2(rect.center().x, rect.bottom() + 20.0);
    let words = painter.text(below, Align2::CENTER_TOP, name(x_name, x), look::font(size::SMALL), view.palette.ink);
    explain(words, x_name);
    let galley = painter.layout_no_wrap(name(y_name, y), look::font(size::SMALL), view.palette.ink);
    let at = pos2(rect.left() - 52.0, rect.center().y + 0.5 * galley.size().x);
    let covers = Rect::from_min_size(at - vec2(0.0, galley.size().x), vec2(galley.size().y, galley.size().x));
    explain(covers, y_name);
    let turned = egui::epaint::TextShape::new(at, galley, view.palette.ink).with_angle(-std::f32::consts::FRAC_PI_2);
    painter.add(turned);
}

/// Round values between two ends, about so many.
fn round_values([low, high]: [f64; 2], about: f32) -> Vec<f64> {
    let Some(step) = round_step(high - low, f64::from(about.max(2.0))) else { return vec![low] };
    let first = (low / step - 1e-9).ceil() as i64;
    (first..first + 100).map(|k| k as f64 * step).take_while(|value| *value <= high + 1e-9 * step).collect()
}

fn figure(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The hand: a press anywhere takes the present point there, arrow keys step it.
///
/// Over the figure of a line of equal energy the line is explained, elsewhere what the place does.
fn hand(ui: &Ui, sheet: &Sheet<'_>, over_energy: bool, intents: &mut Vec<Intent>) {
    let (view, map) = (sheet.view, sheet.map);
    let (Some(pump), Some(unit)) = (view.pump, view.unit()) else { return };
    let id = Id::unique("map of settings");
    let response = ui.interact(sheet.rect, id, Sense::click_and_drag());
    let told = told(sheet, &unit.regulation);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Slider, true, format!("Map of settings: {told}")));
    if response.drag_started() || response.clicked() {
        response.request_focus();
    }
    if (response.dragged() || response.clicked())
        && let Some(pos) = response.interact_pointer_pos()
    {
        let fine = ui.input(|i| i.modifiers.shift);
        let wanted = stepped(map, unit, sheet.place(pos), fine);
        if wanted != unit.regulation {
            intents.push(Intent::Change(Command::SetRegulation(pump, wanted)));
        }
    } else if over_energy {
        TermCard::new(view, Term::EqualEnergy).beside(sheet.rect).on(&response);
    } else if let Some(pos) = response.hover_pos() {
        let place = sheet.place(pos);
        let settings = map.plane.settings(place);
        response.clone().on_hover_text_at_pointer(told_at(sheet, place, &settings));
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        let [along, up] = ui.input(|i| {
            let pressed = |key| i.num_presses(key) as f64;
            [pressed(Key::ArrowRight) - pressed(Key::ArrowLeft), pressed(Key::ArrowUp) - pressed(Key::ArrowDown)]
        });
        if (along != 0.0 || up != 0.0)
            && let Some([x, y]) = map.plane.place(&unit.regulation)
        {
            let [step_x, step_y] = steps(map.plane.axes, unit);
            let wanted = stepped(map, unit, [x + along * step_x, y + up * step_y], false);
            intents.push(Intent::Change(Command::SetRegulation(pump, wanted)));
        }
        ui.painter().rect_stroke(sheet.rect, 0, Stroke::new(2.0, view.palette.accent), StrokeKind::Outside);
    }
    if response.hovered() {
        ui.ctx().set_cursor_icon(if response.dragged() { CursorIcon::Grabbing } else { CursorIcon::Crosshair });
    }
}

fn steps(axes: Axes, unit: &PumpUnit) -> [f64; 2] {
    let steps = unit.steps;
    match axes {
        Axes::LimitOverSlope => [steps.slope, steps.head_limit],
        Axes::LimitOverCap => [steps.speed_cap, steps.head_limit],
        Axes::SlopeOverCap => [steps.speed_cap, steps.slope],
    }
}

/// Settings at a place, at whole steps of the device unless `fine`, within what can be set.
fn stepped(map: &SettingMap, unit: &PumpUnit, [x, y]: [f64; 2], fine: bool) -> Regulation {
    let [step_x, step_y] = steps(map.plane.axes, unit);
    let whole = |value: f64, step: f64| if fine { value } else { document::stepped(value, step) };
    let at = map.plane.settings([whole(x, step_x), whole(y, step_y)]);
    let ranges = unit.ranges();
    let present = unit.regulation;
    let limit = |limit: Option<f64>| limit.map(|limit| within(limit, ranges.head_limit));
    let (slope, cap) = (within(at.slope, ranges.slope), within(at.speed_cap, ranges.speed_cap));
    match map.plane.axes {
        Axes::LimitOverSlope => Regulation { slope, head_limit_m: limit(at.head_limit_m), ..present },
        Axes::LimitOverCap => Regulation { speed_cap: cap, head_limit_m: limit(at.head_limit_m), ..present },
        Axes::SlopeOverCap => Regulation { speed_cap: cap, slope, ..present },
    }
}

fn told(sheet: &Sheet<'_>, settings: &Regulation) -> String {
    match sheet.map.plane.place(settings) {
        Some(place) => told_at(sheet, place, settings),
        None => "no head limit".to_owned(),
    }
}

/// What settings do, in words: "slope 40 %, head limit 4.20 m: 131 kWh a year; Office radiators starves in “Office alone”".
fn told_at(sheet: &Sheet<'_>, [x, y]: [f64; 2], settings: &Regulation) -> String {
    let view = sheet.view;
    let (x_name, y_name) = axes_words(sheet.map.plane.axes);
    let (x_of, y_of) = sheet.quantities();
    let place =
        format!("{} {}, {} {}", y_name, view.units.format(y_of, y), x_name.to_lowercase(), view.units.format(x_of, x));
    let Some((part_load, deciding)) = view.part_load.source() else { return place };
    let law = part_load.law(settings);
    let costs = amounts::whole(view, part_load, part_load.mean_power_w(&law));
    let miss = deciding.worst(&law);
    let does = miss.map_or_else(
        || "every zone keeps its band".to_owned(),
        |miss| miss_words(view.project, part_load, &miss, view.units),
    );
    format!("{place}: {does}; {costs}")
}
