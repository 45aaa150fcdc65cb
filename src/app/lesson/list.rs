//! The lessons to choose from: those that come with the program, those opened last, and a way to one in a file.

use super::super::look::{self, STEP, size};
use super::super::view::Intent;
use super::LessonIntent;
use super::begun::{Source, shipped_lessons};
use egui::{self, Key, Modifiers, RichText, ScrollArea, Sense, Stroke, StrokeKind, Ui, vec2};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// How many lesson files are kept.
const RECENT: usize = 5;

/// The list, open or not.
#[derive(Debug, Default)]
pub(in super::super) struct LessonList {
    is_open: bool,
    /// Title and subject of those that come with the program; read when the list opens first.
    shipped: Vec<(String, String)>,
    /// Lesson files opened last, and whether each is there now.
    recent: Vec<(PathBuf, bool)>,
    /// Titles of the lessons that were done to their end.
    done: BTreeSet<String>,
    /// The row that Enter takes.
    chosen: usize,
    /// Whether the chosen row is to be brought into sight.
    moved: bool,
}

impl LessonList {
    /// Opens it.
    pub(in super::super) fn open(&mut self) {
        if self.shipped.is_empty() {
            self.shipped = shipped_lessons();
        }
        for (path, is_there) in &mut self.recent {
            *is_there = path.is_file();
        }
        self.is_open = true;
        self.moved = true;
    }

    /// Marks the lesson that was begun last as done, and offers the one after it.
    pub(in super::super) fn advance(&mut self) {
        if let Some((title, _)) = self.shipped.get(self.chosen) {
            self.done.insert(title.clone());
        }
        self.chosen += 1;
    }

    /// Whether it lies over the panes.
    pub(in super::super) fn is_open(&self) -> bool {
        self.is_open
    }

    /// Puts a lesson file at the head of the recent ones.
    pub(in super::super) fn remember(&mut self, path: &Path) {
        let path = path.canonicalize().unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|(other, _)| *other != path);
        self.recent.insert(0, (path, true));
        self.recent.truncate(RECENT);
    }

    /// Takes the recent lesson files from the last time.
    pub(in super::super) fn restore(&mut self, storage: &dyn eframe::Storage) {
        let kept = storage.get_string("recent lessons").unwrap_or_default();
        let paths = kept.lines().filter(|line| !line.is_empty()).map(|line| (PathBuf::from(line), true));
        self.recent = paths.take(RECENT).collect();
        let done = storage.get_string("lessons done").unwrap_or_default();
        self.done = done.lines().map(str::to_owned).collect();
    }

    /// Keeps them for the next time.
    pub(in super::super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        let names =
            self.recent.iter().filter_map(|(path, _)| path.to_str()).filter(|name| !name.contains(['\n', '\r']));
        let lines: Vec<&str> = names.collect();
        storage.set_string("recent lessons", lines.join("\n"));
        let done: Vec<&str> = self.done.iter().map(String::as_str).collect();
        storage.set_string("lessons done", done.join("\n"));
    }

    /// Shows it while it is open.
    pub(in super::super) fn show(&mut self, ctx: &egui::Context, intents: &mut Vec<Intent>) {
        if !self.is_open {
            return;
        }
        let last = (self.shipped.len() + self.recent.len()).saturating_sub(1);
        let (down, up, enter) = ctx.input_mut(|i| {
            let down = i.consume_key(Modifiers::NONE, Key::ArrowDown);
            let up = i.consume_key(Modifiers::NONE, Key::ArrowUp);
            (down, up, i.key_pressed(Key::Enter))
        });
        self.chosen = (self.chosen + usize::from(down)).saturating_sub(usize::from(up)).min(last);
        self.moved |= down || up;
        // Enter belongs to a button that has the keys.
        let mut taken = (enter && ctx.memory(|memory| memory.focused().is_none())).then_some(self.chosen);
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "lessons").show(ctx, |ui| {
            ui.set_width(620.0);
            ui.label(RichText::new("Lessons").font(look::strong(size::LEAD + 2.0)));
            ui.label(
                RichText::new(
                    "A lesson works on a system of its own. Your project waits, as it is, until you leave it.",
                )
                .size(size::SMALL),
            );
            let height = (ctx.content_rect().height() - 220.0).clamp(160.0, 560.0);
            ScrollArea::vertical().max_height(height).show(ui, |ui| self.rows(ui, &mut taken));
            ui.horizontal(|ui| {
                if ui.button("Open a lesson file…").clicked() {
                    intents.push(Intent::Lesson(LessonIntent::AskOpen));
                    self.is_open = false;
                }
                if !self.recent.is_empty() && ui.button("Forget recent files").clicked() {
                    self.recent.clear();
                }
                close |= ui.button("Close").clicked();
                ui.label(RichText::new("arrow keys choose, Enter begins").size(size::SMALL));
            });
        });
        self.chosen = taken.unwrap_or(self.chosen);
        if let Some(source) = taken.and_then(|index| self.source(index)) {
            intents.push(Intent::Lesson(LessonIntent::Begin(source)));
            self.is_open = false;
        }
        if close || modal.should_close() {
            self.is_open = false;
        }
    }

    fn source(&self, index: usize) -> Option<Source> {
        if index < self.shipped.len() {
            return Some(Source::Shipped(index));
        }
        let (path, is_there) = self.recent.get(index - self.shipped.len())?;
        is_there.then(|| Source::File(path.clone()))
    }

    fn rows(&mut self, ui: &mut Ui, taken: &mut Option<usize>) {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (index, (title, about)) in self.shipped.iter().enumerate() {
            let is_chosen = self.chosen == index;
            let tick = if self.done.contains(title) { "  (done)" } else { "" };
            let response = row(ui, &format!("{}  {title}{tick}", index + 1), about, is_chosen, true);
            if is_chosen && std::mem::take(&mut self.moved) {
                response.scroll_to_me(None);
            }
            if response.clicked() {
                *taken = Some(index);
            }
        }
        if !self.recent.is_empty() {
            ui.add_space(2.0 * STEP);
            ui.label(RichText::new("Recent lesson files").size(size::SMALL));
        }
        for (place, (path, is_there)) in self.recent.iter().enumerate() {
            let index = self.shipped.len() + place;
            let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
            let folder = path.parent().map_or_else(String::new, |folder| folder.display().to_string());
            let folder = if *is_there { folder } else { format!("not there now: {folder}") };
            let is_chosen = self.chosen == index;
            let response = row(ui, &name, &folder, is_chosen, *is_there);
            if is_chosen && std::mem::take(&mut self.moved) {
                response.scroll_to_me(None);
            }
            if response.clicked() {
                *taken = Some(index);
            }
        }
    }
}

/// A lesson: its title; below it what can be learned.
fn row(ui: &mut Ui, title: &str, about: &str, is_chosen: bool, enabled: bool) -> egui::Response {
    let visuals = ui.visuals().clone();
    let (ink, quiet) = (visuals.text_color(), visuals.weak_text_color());
    let room = ui.available_width() - 20.0;
    let title_words = ui.painter().layout(title.to_owned(), look::strong(size::BODY), ink, room);
    let about_words = ui.painter().layout(about.to_owned(), look::font(size::SMALL), quiet, room);
    let height = title_words.size().y + about_words.size().y + 12.0;
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), sense);
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::ListBoxOption, enabled, is_chosen, format!("{title}. {about}"))
    });
    let edge = if is_chosen || response.hovered() || response.has_focus() {
        visuals.hyperlink_color
    } else {
        egui::Color32::TRANSPARENT
    };
    let fill = if is_chosen { visuals.selection.bg_fill.gamma_multiply(0.5) } else { egui::Color32::TRANSPARENT };
    ui.painter().rect(rect, 5, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
    let at = rect.min + vec2(10.0, 6.0);
    let below = at + vec2(0.0, title_words.size().y);
    ui.painter().galley(at, title_words, ink);
    ui.painter().galley(below, about_words, quiet);
    response
}
