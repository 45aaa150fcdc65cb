//! A system out of a list: a sheet over the whole window in which zones are typed, pasted or taken from a file, with what the
//! plant needs above and what it comes to below. "Draw it" hands the finished drawing over as a new project.
//!
//! - `contents`: the cells, as typed, with their undo; `cursor`: the cells in hand, moved and filled by keys; `plant`: all else;
//! - `outcome`: both read by the reader of lists and sized, at each change;
//! - `grid` and `cell`, `form`, `summary`: what is on screen; `wanted`: what files are asked for; `example`: an invented building.

mod cell;
mod contents;
mod cursor;
mod example;
mod form;
mod grid;
mod outcome;
mod plant;
mod summary;
mod wanted;

use super::import::Import;
use super::look::{self, Palette, STEP, size};
use super::view::Intent;
use crate::engine::units::Units;
use crate::file::table::{ZONE_FIELDS, cells_in_units, load_cells, load_pump};
use contents::Contents;
use cursor::Cursor;
use egui::{self, Button, Key, Margin, RichText, Ui};
use outcome::{LIVE_ZONES, Outcome};
use plant::{Chosen, Plant};
use std::path::Path;
use wanted::Wanted;

/// Height of what the list comes to.
const SUMMARY: f32 = 176.0;

/// The sheet. It keeps what was typed while it is closed.
#[derive(Debug, Default)]
pub struct TableSheet {
    is_open: bool,
    contents: Contents,
    plant: Plant,
    cursor: Cursor,
    import: Import<Wanted>,
    /// Units in which bare figures were typed.
    units: Units,
    outcome: Outcome,
    /// Changes of the cells that the outcome knows; `None` before the first.
    known: Option<u64>,
    is_asked: bool,
    /// Changes of the cells that were drawn.
    drawn: u64,
}

impl TableSheet {
    /// Opens the sheet with what it held before.
    pub fn open(&mut self) {
        self.is_open = true;
        self.cursor.wants_keyboard = true;
        self.cursor.comes_into_view = true;
    }

    /// Whether it holds a list that has not been drawn.
    #[must_use]
    pub fn is_undrawn(&self) -> bool {
        !self.contents.is_empty() && self.contents.revision() != self.drawn
    }

    /// Counts what it holds as of no more use.
    pub fn let_go(&mut self) {
        self.drawn = self.contents.revision();
    }

    /// The drawing made of it was not taken.
    pub fn not_taken(&mut self) {
        self.drawn = u64::MAX;
    }

    /// Whether it covers the window.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.is_open
    }

    /// Shows the sheet while it is open. A finished drawing is handed over as [`Intent::Take`], and the sheet closes.
    pub fn show(&mut self, ctx: &egui::Context, units: &Units, palette: &Palette, intents: &mut Vec<Intent>) {
        if !self.is_open {
            return;
        }
        self.turn(units);
        let whole = ctx.content_rect();
        let frame =
            egui::Frame::NONE.fill(palette.ground).inner_margin(Margin::symmetric(4 * STEP as i8, 3 * STEP as i8));
        let area = egui::Modal::default_area(egui::Id::unique("system out of a list")).fade_in(false);
        let inner = whole.size() - frame.total_margin().sum();
        let mut wanted = None;
        egui::Modal::new(egui::Id::unique("system out of a list")).area(area).frame(frame).show(ctx, |ui| {
            ui.set_min_size(inner);
            ui.set_max_size(inner);
            self.sheet(ui, palette, intents, &mut wanted);
        });
        if let Some(wanted) = wanted {
            self.import.ask(wanted);
        }
        let was_asking = self.import.is_asking();
        if let Some((wanted, path)) = self.import.show(ctx) {
            self.take_file(wanted, &path);
        }
        let popup = egui::Popup::is_any_open(ctx);
        if !was_asking && !popup && ctx.input(|input| input.key_pressed(Key::Escape)) {
            self.is_open = false;
        }
    }

    /// Reckons what is typed over to other units.
    fn turn(&mut self, units: &Units) {
        if self.units != *units {
            self.cursor.keep(&mut self.contents);
            let cells = cells_in_units(self.contents.rows(), &self.units, units);
            self.contents.turn(cells);
            self.plant.turn(&self.units, units);
            self.units = *units;
            self.known = None;
        }
    }

    fn sheet(&mut self, ui: &mut Ui, palette: &Palette, intents: &mut Vec<Intent>, wanted: &mut Option<Wanted>) {
        self.reckon();
        let none = egui::Frame::NONE;
        let gap = |frame: egui::Frame| frame.inner_margin(Margin { top: 2 * STEP as i8, ..Margin::ZERO });
        egui::Panel::top("list: plant").frame(none).resizable(false).show_separator_line(false).show(ui, |ui| {
            self.heading(ui, palette);
            ui.add_space(STEP);
            let changed = form::show(ui, &mut self.plant, &self.outcome, &self.units, palette, wanted);
            if changed {
                self.known = None;
            }
            ui.add_space(2.0 * STEP);
            self.row_buttons(ui, palette, wanted);
            ui.add_space(STEP);
        });
        let bottom = egui::Panel::bottom("list: actions").frame(gap(none)).resizable(false).show_separator_line(false);
        bottom.show(ui, |ui| self.actions(ui, palette, intents));
        let bottom = egui::Panel::bottom("list: summary").frame(gap(none)).resizable(false).show_separator_line(false);
        bottom.exact_size(SUMMARY).show(ui, |ui| {
            let clicked = summary::show(ui, &self.outcome, &self.units, palette);
            if let Some(place) = clicked {
                self.cursor.go(&mut self.contents, place, false);
                self.cursor.wants_keyboard = true;
            }
        });
        let bottom = egui::Panel::bottom("list: cell").frame(gap(none)).resizable(false).show_separator_line(false);
        bottom.exact_size(32.0).show(ui, |ui| self.about_cell(ui, palette));
        egui::CentralPanel::default().frame(none).show(ui, |ui| {
            let shown = grid::Shown { outcome: &self.outcome, units: &self.units, palette, series: self.plant.series };
            grid::show(ui, &mut self.cursor, &mut self.contents, &shown);
        });
        if self.known != Some(self.contents.revision()) {
            ui.ctx().request_discard("what the list comes to belongs in the frame of its change");
        }
    }

    /// Reads and sizes what is typed, if it changed.
    fn reckon(&mut self) {
        let revision = self.contents.revision();
        if self.known != Some(revision) || (self.is_asked && self.outcome.waits) {
            self.outcome = Outcome::of(&self.contents, &self.plant, &self.units, self.is_asked);
            self.known = Some(revision);
            self.is_asked = false;
        }
    }

    fn heading(&mut self, ui: &mut Ui, palette: &Palette) {
        ui.horizontal(|ui| {
            ui.label(RichText::new("A system out of a list").font(look::strong(size::LEAD + 2.0)));
            let about = "One zone a row, from near to far. It is drawn, its pipes are sized and its valves preset.";
            ui.add(egui::Label::new(RichText::new(about).color(palette.quiet)).truncate());
        });
    }

    fn row_buttons(&mut self, ui: &mut Ui, palette: &Palette, wanted: &mut Option<Wanted>) {
        ui.horizontal(|ui| {
            let block = self.cursor.block();
            let count = self.contents.rows().len();
            let is_in_list = block.top < count;
            let mut acted = false;
            let mut button = |ui: &mut Ui, enabled: bool, word: &str, about: &str, why_not: &str| {
                let clicked = ui.add_enabled(enabled, Button::new(word)).on_hover_text(about).on_disabled_hover_text(why_not);
                acted |= clicked.clicked();
                clicked.clicked()
            };
            let empty = "The row is empty: type in it.";
            if button(ui, is_in_list, "Add a row", "An empty row above this one", empty) {
                self.cursor.keep(&mut self.contents);
                self.contents.insert(block.top);
            }
            if button(ui, is_in_list, "Remove", "Take the rows in hand out of the list", empty) {
                self.cursor.draft = cursor::Draft::None;
                self.contents.remove(block);
            }
            if button(ui, is_in_list && block.top > 0, "Move up", "Nearer to the plant (Alt+Up)", "It is the first row.") {
                self.cursor.shift_rows(&mut self.contents, false);
            }
            let last = "It is the last row.";
            if button(ui, block.bottom + 1 < count, "Move down", "Farther from the plant (Alt+Down)", last) {
                self.cursor.shift_rows(&mut self.contents, true);
            }
            if button(ui, count > 0, "Clear all", "Empty the list (Ctrl+Z brings it back)", "The list is empty.") {
                self.contents.clear_all();
                self.cursor = Cursor::default();
            }
            ui.add_space(3.0 * STEP);
            if ui.button("From a file…").on_hover_text("Take a list of zones from a CSV file").clicked() {
                *wanted = Some(Wanted::Zones);
            }
            let about = "An invented library with four zones; it takes the place of what is typed (Ctrl+Z brings the list back)";
            if button(ui, true, "Fill in an example", about, "") {
                self.fill_in_example();
            }
            if acted {
                self.cursor.wants_keyboard = true;
            }
            let hint = "Tab, Enter and arrows move · F2 edits · Ctrl+V pastes from a spreadsheet · F6 leaves the list";
            if ui.available_width() < 500.0 {
                return;
            }
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(hint).size(size::SMALL).color(palette.quiet)).truncate());
            });
        });
    }

    fn fill_in_example(&mut self) {
        let (cells, plant) = example::example(&self.units);
        self.cursor = Cursor::default();
        self.contents.replace(cells);
        self.plant = plant;
        self.known = None;
    }

    /// What the cell in hand is for, or what is wrong with it; what pasting found.
    fn about_cell(&mut self, ui: &mut Ui, palette: &Palette) {
        ui.horizontal(|ui| {
            if !self.cursor.notes.is_empty() {
                let notes = self.cursor.notes.join(" ");
                if ui.small_button("Seen").clicked() {
                    self.cursor.notes.clear();
                }
                ui.add(egui::Label::new(RichText::new(&notes).color(palette.starved)).truncate()).on_hover_text(&notes);
                return;
            }
            let (row, column) = (self.cursor.row, self.cursor.column);
            let Some(field) = ZONE_FIELDS.get(column) else { return };
            let heading = field.heading(&self.units);
            let (text, color) = match self.outcome.at.get(&(row, column)) {
                Some((is_missing, message)) => {
                    (message.replace('\n', "; "), if *is_missing { palette.ink } else { palette.starved })
                }
                None => (cell::about(*field).to_owned(), palette.quiet),
            };
            ui.label(RichText::new(format!("Row {}, {heading}:", row + 1)).font(look::strong(size::BODY)));
            ui.add(egui::Label::new(RichText::new(text).color(color)).truncate());
        });
    }

    fn actions(&mut self, ui: &mut Ui, palette: &Palette, intents: &mut Vec<Intent>) {
        ui.horizontal(|ui| {
            let why_not = self.why_not();
            let ready = self.outcome.system.is_some();
            let word = RichText::new("Draw it").font(look::strong(size::BODY));
            let draw = ui.add_enabled(ready, Button::new(word).min_size(egui::vec2(96.0, 30.0)));
            let draw =
                draw.on_hover_text("Draw the system and go on with it (Ctrl+Enter)").on_disabled_hover_text(&why_not);
            let keys = ui.input_mut(|input| input.consume_key(egui::Modifiers::COMMAND, Key::Enter));
            if draw.clicked() || (keys && ready) {
                self.draw(intents);
            }
            if self.outcome.waits && ui.add(Button::new("Reckon").min_size(egui::vec2(0.0, 30.0))).clicked() {
                self.is_asked = true;
                ui.ctx().request_repaint();
            }
            if ui
                .add(Button::new("Close").min_size(egui::vec2(0.0, 30.0)))
                .on_hover_text("The list is kept (Esc)")
                .clicked()
            {
                self.is_open = false;
            }
            let (text, color) = if ready { (self.ready_words(), palette.served) } else { (why_not, palette.quiet) };
            ui.add(egui::Label::new(RichText::new(text).color(color)).truncate());
        });
    }

    fn ready_words(&self) -> String {
        format!("{} in order. Drawn, it is a new project; the list is kept.", counted(self.outcome.zones, "zone"))
    }

    /// Why it cannot be drawn, in words.
    fn why_not(&self) -> String {
        if self.contents.is_empty() {
            return "Type or paste at least one zone, take a list from a file, or fill in an example.".to_owned();
        }
        let missing = self.outcome.faults.iter().filter(|fault| fault.is_missing).count();
        let wrong = self.outcome.faults.len() - missing;
        if self.outcome.waits {
            return format!("More than {LIVE_ZONES} zones are reckoned when asked: press Reckon.");
        }
        let first = self.outcome.faults.iter().min_by_key(|fault| fault.is_missing);
        let first = first.map_or(String::new(), |fault| summary::place(fault, &self.units));
        match (wrong, missing) {
            (0, missing) => format!("It can be drawn when {} filled in; first: {first}.", are(missing, "figure")),
            (wrong, 0) => format!("It can be drawn when {} mended; first: {first}.", are(wrong, "figure")),
            (wrong, missing) => {
                format!(
                    "It can be drawn when {} mended and {missing} more filled in; first: {first}.",
                    are(wrong, "figure")
                )
            }
        }
    }

    fn draw(&mut self, intents: &mut Vec<Intent>) {
        self.drawn = self.contents.revision();
        let Some((system, _)) = self.outcome.system.as_deref() else { return };
        let said = format!("Drawn from a list of {}.", counted(self.outcome.zones, "zone"));
        intents.push(Intent::Take(Box::new(system.project.clone()), said));
        self.is_open = false;
    }

    fn take_file(&mut self, wanted: Wanted, path: &Path) {
        let taken = match wanted {
            Wanted::Zones => load_cells(path, &self.units).map(|found| {
                let mut notes = found.notes;
                notes.extend(contents::beyond(0, found.rows.len()));
                let rows = found.rows.into_iter().map(|row| row.into_iter().map(Option::unwrap_or_default).collect());
                self.cursor = Cursor { notes, ..Cursor::default() };
                self.contents.replace(rows.collect());
                if self.plant.title.is_empty() {
                    self.plant.title =
                        path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
                }
            }),
            Wanted::Pump => load_pump(path).map(|table| {
                let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                self.plant.pump = Some(Chosen { name, table });
            }),
        };
        self.known = None;
        match taken {
            Ok(()) => {
                self.import.close();
                self.cursor.wants_keyboard = true;
            }
            Err(error) => self.import.refuse(error.to_string()),
        }
    }
}

fn counted(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}

fn are(count: usize, thing: &str) -> String {
    let verb = if count == 1 { "is" } else { "are" };
    format!("{} {verb}", counted(count, thing))
}
