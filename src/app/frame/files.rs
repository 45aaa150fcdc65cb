//! Choosing files: a small panel with recent files, a typed path, and the desktop's own dialog where there is one.
//!
//! The desktop's dialog runs beside the window, which goes on meanwhile. Where none can be shown it returns at once, as if
//! the person had cancelled; the typed path serves everywhere.

use super::super::look::{self, size};
use super::super::view::Intent;
use egui::{self, Key, RichText, TextEdit};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// How many recent files are kept.
const RECENT: usize = 8;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asking {
    Open,
    Save,
}

/// The panel for choosing files.
#[derive(Debug, Default)]
pub(in super::super) struct FilePanel {
    asking: Option<Asking>,
    typed: String,
    recent: Vec<PathBuf>,
    dialog: Option<Receiver<Option<PathBuf>>>,
    just_shown: bool,
}

impl FilePanel {
    /// Asks for a file to open.
    pub(in super::super) fn ask_open(&mut self) {
        self.asking = Some(Asking::Open);
        self.just_shown = true;
        self.typed.clear();
    }

    /// Asks where to save.
    pub(in super::super) fn ask_save(&mut self, present: Option<&Path>, title: &str) {
        self.asking = Some(Asking::Save);
        self.just_shown = true;
        self.typed = present.map_or_else(|| suggested_name(title), |path| path.display().to_string());
    }

    /// Puts a file at the head of the recent ones.
    pub(in super::super) fn remember(&mut self, path: &Path) {
        let path = path.canonicalize().unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|other| *other != path);
        self.recent.insert(0, path);
        self.recent.truncate(RECENT);
    }

    /// Files dropped on the window are opened.
    pub(in super::super) fn take_dropped(&self, ctx: &egui::Context, intents: &mut Vec<Intent>) {
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|file| file.path().to_owned()));
        intents.extend(dropped.map(Intent::Open));
    }

    /// Shows the panel while a file is asked for, and takes what a desktop dialog returned.
    pub(in super::super) fn show(&mut self, ctx: &egui::Context, intents: &mut Vec<Intent>) {
        let Some(asking) = self.asking else { return };
        self.take_from_dialog(ctx, asking, intents);
        let mut chosen = None;
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = egui::Modal::new(egui::Id::unique("choose a file")).show(ctx, |ui| {
            ui.set_width(520.0);
            let (heading, word) = match asking {
                Asking::Open => ("Open a project", "Open"),
                Asking::Save => ("Save the project", "Save"),
            };
            ui.label(RichText::new(heading).font(look::strong(size::LEAD)));
            let label = ui.label("File");
            let field =
                TextEdit::singleline(&mut self.typed).hint_text("Path of a .ron file").desired_width(f32::INFINITY);
            let field = ui.add(field).labelled_by(label.id);
            if std::mem::take(&mut self.just_shown) {
                field.request_focus();
            }
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            ui.horizontal(|ui| {
                let ready = !self.typed.trim().is_empty();
                if ui.add_enabled(ready, egui::Button::new(word)).clicked() || (entered && ready) {
                    chosen = Some(PathBuf::from(self.typed.trim()));
                }
                if ui.add_enabled(self.dialog.is_none(), egui::Button::new("Browse…")).clicked() {
                    self.dialog = Some(start_dialog(asking, ui.ctx().clone()));
                }
                close |= ui.button("Cancel").clicked();
            });
            if asking == Asking::Open && !self.recent.is_empty() {
                ui.separator();
                ui.label(RichText::new("Recent").size(size::SMALL));
                for path in &self.recent {
                    let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
                    if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
                        chosen = Some(path.clone());
                    }
                }
            }
        });
        if let Some(path) = chosen {
            self.choose(asking, path, intents);
        } else if close || modal.should_close() {
            self.asking = None;
        }
    }

    fn choose(&mut self, asking: Asking, path: PathBuf, intents: &mut Vec<Intent>) {
        self.asking = None;
        intents.push(match asking {
            Asking::Open => Intent::Open(path),
            Asking::Save => Intent::SaveTo(path),
        });
    }

    fn take_from_dialog(&mut self, ctx: &egui::Context, asking: Asking, intents: &mut Vec<Intent>) {
        let Some(dialog) = &self.dialog else { return };
        match dialog.try_recv() {
            Ok(Some(path)) => {
                self.dialog = None;
                self.choose(asking, path, intents);
            }
            Ok(None) | Err(TryRecvError::Disconnected) => self.dialog = None,
            Err(TryRecvError::Empty) => ctx.request_repaint_after(std::time::Duration::from_millis(100)),
        }
    }

    /// Takes the recent files from the last time.
    pub(in super::super) fn restore(&mut self, storage: &dyn eframe::Storage) {
        let kept = storage.get_string("recent files").unwrap_or_default();
        self.recent = kept.lines().map(PathBuf::from).filter(|path| path.is_file()).take(RECENT).collect();
    }

    /// Keeps the recent files for the next time.
    pub(in super::super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        let lines: Vec<String> = self.recent.iter().map(|path| path.display().to_string()).collect();
        storage.set_string("recent files", lines.join("\n"));
    }
}

fn suggested_name(title: &str) -> String {
    let plain: String = title.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    format!("{}.ron", plain.trim_matches('-'))
}

fn start_dialog(asking: Asking, ctx: egui::Context) -> Receiver<Option<PathBuf>> {
    let (sender, receiver) = channel();
    std::thread::spawn(move || {
        let dialog = rfd::FileDialog::new().add_filter("Headwise project", &["ron"]);
        let chosen = match asking {
            Asking::Open => dialog.pick_file(),
            Asking::Save => dialog.save_file(),
        };
        // The panel may be gone by now; then nobody waits for the answer.
        let _ = sender.send(chosen);
        ctx.request_repaint();
    });
    receiver
}
