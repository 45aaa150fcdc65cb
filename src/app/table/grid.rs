//! The list on screen: headings, rows, what is wrong in a cell outlined there, the cell in hand, words to choose from.

use super::super::look::{self, Palette, size};
use super::cell::{self, Look};
use super::contents::Contents;
use super::cursor::{Cursor, Draft};
use super::outcome::Outcome;
use crate::engine::pipes::PipeSeries;
use crate::engine::units::{Quantity, Units};
use crate::file::table::{Holding, ZONE_FIELDS, ZoneField};
use egui::scroll_area::ScrollBarVisibility;
use egui::{self, Align2, EventFilter, Id, Pos2, Rect, ScrollArea, Sense, Ui, pos2, vec2};

pub(super) const ROW: f32 = 25.0;
const HEAD: f32 = 78.0;
const NUMBER: f32 = 32.0;
/// Least widths of the columns, points.
const WIDTHS: [f32; ZONE_FIELDS.len()] =
    [156.0, 64.0, 80.0, 62.0, 92.0, 62.0, 62.0, 80.0, 112.0, 56.0, 58.0, 60.0, 58.0, 76.0, 58.0, 58.0];
/// Fields that belong together: where each group begins, and its name.
const GROUPS: [(ZoneField, &str); 5] = [
    (ZoneField::Name, "Zone"),
    (ZoneField::Emitter, "Emitter and room"),
    (ZoneField::Valve, "Valve"),
    (ZoneField::Branch, "Branch, one way"),
    (ZoneField::Before, "Main before its tee, one way"),
];

/// What the list is shown with.
pub(super) struct Shown<'a> {
    pub(super) outcome: &'a Outcome,
    pub(super) units: &'a Units,
    pub(super) palette: &'a Palette,
    pub(super) series: &'a PipeSeries,
}

/// The one thing in the list that has the keyboard, whichever cell is in hand.
pub(super) fn id() -> Id {
    Id::unique("list of zones")
}

/// Whether a field holds a bore, which can be taken from the pipes on sale.
pub(super) fn is_bore(field: ZoneField) -> bool {
    matches!(field, ZoneField::BranchBore | ZoneField::MainBore)
}

/// Left edges of the columns and the right edge of the last.
struct Edges(Vec<f32>);

impl Edges {
    fn new(left: f32, width: f32) -> Self {
        let share = ((width - NUMBER) / WIDTHS.iter().sum::<f32>()).max(1.0);
        let mut edge = left + NUMBER;
        let mut edges = vec![edge];
        for width in WIDTHS {
            edge += (width * share).floor();
            edges.push(edge);
        }
        Self(edges)
    }

    fn of(&self, column: usize) -> (f32, f32) {
        let at = |index: usize| self.0.get(index).copied().unwrap_or_default();
        (at(column), at(column + 1))
    }

    fn right(&self) -> f32 {
        self.0.last().copied().unwrap_or_default()
    }

    fn column_at(&self, x: f32) -> usize {
        self.0.iter().skip(1).take(ZONE_FIELDS.len() - 1).filter(|edge| **edge <= x).count()
    }
}

/// Shows the list and takes what is typed and clicked.
pub(super) fn show(ui: &mut Ui, cursor: &mut Cursor, contents: &mut Contents, shown: &Shown<'_>) {
    let has_keyboard = ui.memory(|memory| memory.has_focus(id()));
    if has_keyboard && !ui.input(|input| input.pointer.any_click()) {
        cursor.wants_keyboard = false;
    }
    if !has_keyboard {
        cursor.keep(contents);
    } else {
        let mut events = ui.input_mut(|input| std::mem::take(&mut input.events));
        cursor.take(&mut events, contents, shown.units);
        ui.input_mut(|input| input.events = events);
        if let Some(text) = cursor.copied.take() {
            ui.ctx().copy_text(text);
        }
        if std::mem::take(&mut cursor.leaves) {
            cursor.keep(contents);
            ui.memory_mut(|memory| memory.surrender_focus(id()));
        }
    }
    let outer = ui.available_rect_before_wrap();
    ui.painter().rect_filled(outer, 4, shown.palette.sheet);
    let mut is_drawn = false;
    ScrollArea::horizontal().id_salt("columns").auto_shrink(false).show(ui, |ui| {
        let area = ui.available_rect_before_wrap();
        let edges = Edges::new(area.left(), outer.width() - 10.0);
        ui.set_width(edges.right() - area.left() + 10.0);
        ui.spacing_mut().item_spacing.y = 0.0;
        head(ui, &edges, cursor, shown);
        let fitting = ((ui.available_height() / ROW).floor() as usize).max(1);
        let count = (contents.rows().len() + 1).max(fitting).max(cursor.row + 1);
        let mut scroll = ScrollArea::vertical().id_salt("rows").auto_shrink(false);
        scroll = scroll.scroll_bar_visibility(ScrollBarVisibility::VisibleWhenNeeded);
        scroll.show_viewport(ui, |ui, viewport| {
            ui.set_height(ROW * count as f32);
            let origin = ui.min_rect().min;
            let first = (viewport.top() / ROW).floor().max(0.0) as usize;
            let last = ((viewport.bottom() / ROW).ceil().max(0.0) as usize).min(count);
            if std::mem::take(&mut cursor.comes_into_view) {
                let (left, right) = edges.of(cursor.column);
                let top = origin.y + ROW * cursor.row as f32;
                ui.scroll_to_rect(Rect::from_min_max(pos2(left, top), pos2(right, top + ROW)), None);
            }
            for row in first..last {
                let top = origin.y + ROW * row as f32;
                number(
                    ui,
                    Rect::from_min_size(pos2(area.left(), top), vec2(NUMBER, ROW)),
                    row,
                    cursor,
                    contents,
                    shown,
                );
                for column in 0..ZONE_FIELDS.len() {
                    let (left, right) = edges.of(column);
                    let rect = Rect::from_min_max(pos2(left, top), pos2(right, top + ROW));
                    one_cell(ui, rect, (row, column), &edges, origin, cursor, contents, shown);
                }
            }
            if (first..last).contains(&cursor.row) {
                let (left, right) = edges.of(cursor.column);
                let top = origin.y + ROW * cursor.row as f32;
                let rect = Rect::from_min_max(pos2(left, top), pos2(right, top + ROW));
                in_hand(ui, rect, cursor, contents, shown);
                is_drawn = true;
            }
        });
    });
    if !is_drawn {
        // Out of view the cell in hand keeps the keyboard, but nothing stays half typed there.
        if matches!(cursor.draft, Draft::Edited(_)) {
            cursor.keep(contents);
        }
        holder(ui, Rect::from_min_size(outer.min, vec2(1.0, 1.0)), cursor, contents, shown);
    }
    if cursor.wants_keyboard {
        // Last, for a click beside the cell that was in hand takes the keyboard away from it; and until it is there, for nothing
        // can have it while the sheet is measured.
        ui.memory_mut(|memory| memory.request_focus(id()));
        ui.ctx().request_repaint();
    }
}

/// The headings.
fn head(ui: &mut Ui, edges: &Edges, cursor: &Cursor, shown: &Shown<'_>) {
    let palette = shown.palette;
    let width = edges.right() - ui.min_rect().left();
    let (rect, _) = ui.allocate_exact_size(vec2(width, HEAD), Sense::hover());
    let painter = ui.painter().clone();
    let right_of = |index: usize| {
        GROUPS.get(index + 1).and_then(|(field, _)| place(*field)).map_or(edges.right(), |at| edges.of(at).0)
    };
    for (index, (field, name)) in GROUPS.iter().enumerate() {
        let left = place(*field).map_or(rect.left(), |at| edges.of(at).0);
        painter.text(
            pos2(left + 6.0, rect.top() + 10.0),
            Align2::LEFT_CENTER,
            name,
            look::strong(size::SMALL),
            palette.ink,
        );
        let y = rect.top() + 20.0;
        painter.hline(left + 4.0..=right_of(index) - 4.0, y, egui::Stroke::new(1.0, palette.rule));
    }
    for (column, field) in ZONE_FIELDS.into_iter().enumerate() {
        let (left, right) = edges.of(column);
        let color = if column == cursor.column { palette.ink } else { palette.quiet };
        let is_words = !matches!(field.holding(), Holding::Figure(_) | Holding::Number);
        let name = cell::short_name(field, shown.units);
        let unit = field.unit(shown.units);
        let text = if unit.is_empty() { name.to_owned() } else { format!("{name}\n{unit}") };
        let mut job = egui::text::LayoutJob::simple(text, look::font(size::SMALL), color, right - left - 10.0);
        job.halign = if is_words { egui::Align::LEFT } else { egui::Align::RIGHT };
        let galley = painter.layout_job(job);
        let x = if is_words { left + 6.0 } else { right - 6.0 };
        painter.galley(pos2(x, rect.bottom() - 4.0 - galley.size().y), galley, color);
        let area = Rect::from_min_max(pos2(left, rect.top() + 20.0), pos2(right, rect.bottom()));
        let about = format!("{}: {}", field.heading(shown.units), cell::about(field));
        ui.interact(area, id().with(("heading", column)), Sense::hover()).on_hover_text(about);
    }
    painter.hline(rect.left()..=edges.right(), rect.bottom(), egui::Stroke::new(1.0, palette.quiet));
}

fn place(field: ZoneField) -> Option<usize> {
    super::outcome::column(field)
}

/// The number of a row; a click takes the row in hand.
fn number(ui: &mut Ui, rect: Rect, row: usize, cursor: &mut Cursor, contents: &mut Contents, shown: &Shown<'_>) {
    let response = ui.interact(rect, id().with(("number", row)), Sense::CLICK);
    if response.clicked() {
        cursor.take_row(contents, row, ui.input(|input| input.modifiers.shift));
        cursor.wants_keyboard = true;
    }
    let block = cursor.block();
    let is_in_hand = (block.top..=block.bottom).contains(&row);
    let palette = shown.palette;
    if is_in_hand {
        ui.painter().rect_filled(rect, 0, palette.grid);
    }
    let color = if is_in_hand { palette.ink } else { palette.quiet };
    let at = rect.right_center() - vec2(8.0, 0.0);
    ui.painter().text(at, Align2::RIGHT_CENTER, row + 1, look::font(size::SMALL), color);
}

#[expect(clippy::too_many_arguments, reason = "all of them make one cell")]
fn one_cell(
    ui: &mut Ui,
    rect: Rect,
    (row, column): (usize, usize),
    edges: &Edges,
    origin: Pos2,
    cursor: &mut Cursor,
    contents: &mut Contents,
    shown: &Shown<'_>,
) {
    let is_here = (cursor.row, cursor.column) == (row, column);
    let edits = is_here && matches!(cursor.draft, Draft::Edited(_));
    let fault = shown.outcome.at.get(&(row, column));
    let block = cursor.block();
    let is_in_hand = (block.top..=block.bottom).contains(&row) && (block.left..=block.right).contains(&column);
    let look = Look { palette: shown.palette, fault: fault.map(|(is_missing, _)| *is_missing), is_in_hand };
    let field = ZONE_FIELDS[column];
    let text = if is_here && cursor.draft != Draft::None { "" } else { contents.cell(row, column) };
    cell::paint(ui, rect, field, text, &look);
    if edits {
        return;
    }
    let mut response = ui.interact(rect, id().with((row, column)), Sense::CLICK | Sense::DRAG);
    let label = format!("{}, row {}", field.heading(shown.units), row + 1);
    let value = contents.cell(row, column).to_owned();
    response.widget_info(|| egui::WidgetInfo {
        current_text_value: Some(value.clone()),
        ..egui::WidgetInfo::labeled(egui::Role::Cell, true, &label)
    });
    if let Some((_, message)) = fault {
        response = response.on_hover_text(message);
    }
    let spreads = ui.input(|input| input.modifiers.shift);
    if response.clicked() || response.drag_started() {
        let at_arrow =
            ui.input(|input| input.pointer.interact_pos()).is_some_and(|at| at.x > rect.right() - cell::ARROW);
        let opens = is_here && at_arrow && cell::offers(field) && !cursor.is_choosing;
        cursor.go(contents, (row, column), spreads);
        cursor.is_choosing = opens;
        cursor.wants_keyboard = true;
    }
    if response.dragged()
        && let Some(at) = response.interact_pointer_pos()
    {
        let to = (((at.y - origin.y) / ROW).floor().max(0.0) as usize, edges.column_at(at.x));
        if to != (cursor.row, cursor.column) {
            cursor.go(contents, to, true);
        }
    }
    if response.double_clicked() && !spreads {
        cursor.edit(contents);
    }
}

/// The cell in hand: its frame, what is typed there, the words to choose from.
fn in_hand(ui: &mut Ui, rect: Rect, cursor: &mut Cursor, contents: &mut Contents, shown: &Shown<'_>) {
    let palette = shown.palette;
    let field = ZONE_FIELDS[cursor.column];
    let has_keyboard = ui.memory(|memory| memory.has_focus(id()));
    if let Draft::Edited(text) = &mut cursor.draft {
        ui.painter().rect_filled(rect, 0, palette.raised);
        cell::editor(ui, rect, field, text, id());
    } else {
        if let Draft::Typed(text) = &cursor.draft {
            ui.painter().rect_filled(rect, 0, palette.raised);
            cell::typed(ui, rect, field, text, palette);
        }
        holder(ui, rect, cursor, contents, shown);
    }
    let color = if has_keyboard { palette.accent } else { palette.quiet };
    ui.painter().rect_stroke(rect, 2, egui::Stroke::new(2.0, color), egui::StrokeKind::Inside);
    if cursor.draft == Draft::None && cell::offers(field) {
        cell::arrow(ui, rect, palette);
    }
    if let Some(chosen) = choices(ui, rect, field, cursor, shown) {
        contents.set(cursor.row, cursor.column, &chosen);
        cursor.is_choosing = false;
        cursor.wants_keyboard = true;
    }
}

/// Holds the keyboard for the whole list, so that no key is lost between two cells; told to screen readers as the cell in hand.
fn holder(ui: &mut Ui, rect: Rect, cursor: &Cursor, contents: &Contents, shown: &Shown<'_>) {
    let response = ui.interact(rect, id(), Sense::FOCUSABLE);
    let filter = EventFilter { tab: true, horizontal_arrows: true, vertical_arrows: true, escape: true };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id(), filter));
    let heading = ZONE_FIELDS[cursor.column].heading(shown.units);
    let fault = shown.outcome.at.get(&(cursor.row, cursor.column)).map_or("", |(_, message)| message.as_str());
    let label = format!("List of zones: row {}, {heading} {fault}", cursor.row + 1);
    let value = contents.cell(cursor.row, cursor.column).to_owned();
    response.widget_info(|| egui::WidgetInfo {
        current_text_value: Some(value.clone()),
        ..egui::WidgetInfo::labeled(egui::Role::Grid, true, &label)
    });
}

/// Words of the field, or sizes of the pipes; returns what was chosen.
fn choices(ui: &mut Ui, rect: Rect, field: ZoneField, cursor: &mut Cursor, shown: &Shown<'_>) -> Option<String> {
    if !cursor.is_choosing {
        return None;
    }
    let all: Vec<(String, String)> = match field.holding() {
        Holding::Word(words) => words.into_iter().map(|word| (word.to_owned(), word.to_owned())).collect(),
        _ => {
            let of = |size: &crate::engine::pipes::PipeSize| {
                let bore = format!("{:.3}", shown.units.from_si(Quantity::Bore, size.bore_m()));
                let bore = bore.trim_end_matches('0').trim_end_matches('.').to_owned();
                (format!("{}  –  {bore} {}", size.nominal, shown.units.symbol(Quantity::Bore)), bore)
            };
            let chosen = ("chosen for it".to_owned(), String::new());
            std::iter::once(chosen).chain(shown.series.sizes.iter().map(of)).collect()
        }
    };
    let width = rect.width().max(if is_bore(field) { 230.0 } else { 150.0 });
    let mut chosen = None;
    let popup = egui::Popup::new(id().with("choices"), ui.ctx().clone(), rect, ui.layer_id());
    popup.open_bool(&mut cursor.is_choosing).width(width).show(|ui| {
        ScrollArea::vertical().max_height(260.0).show(ui, |ui| {
            ui.set_min_width(width - 12.0);
            for (words, text) in all {
                if ui.selectable_label(false, words).clicked() {
                    chosen = Some(text);
                }
            }
        });
    });
    chosen
}
