//! A table out of a file: a typed path, or the desktop's own dialog where there is one. What is wanted is the asker's own.

use super::look::{self, STEP, size};
use egui::{self, Key, RichText, TextEdit, Ui};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

/// What a file is wanted for.
pub(super) trait Asks: Copy {
    /// The panel's heading, and what the file must hold.
    fn words(self) -> (&'static str, &'static str);
}

/// The panel that asks for a file.
#[derive(Debug)]
pub(super) struct Import<W> {
    wanted: Option<W>,
    typed: String,
    dialog: Option<Receiver<Option<PathBuf>>>,
    /// The desktop's dialog came back at once: there is none.
    no_dialog: bool,
    just_shown: bool,
    /// Why the last file was not taken.
    refused: String,
}

impl<W> Default for Import<W> {
    fn default() -> Self {
        Self {
            wanted: None,
            typed: String::new(),
            dialog: None,
            no_dialog: false,
            just_shown: false,
            refused: String::new(),
        }
    }
}

impl<W: Asks> Import<W> {
    pub(super) fn ask(&mut self, wanted: W) {
        *self =
            Self { wanted: Some(wanted), just_shown: true, typed: std::mem::take(&mut self.typed), ..Self::default() };
    }

    pub(super) fn is_asking(&self) -> bool {
        self.wanted.is_some()
    }

    pub(super) fn close(&mut self) {
        self.wanted = None;
        self.dialog = None;
    }

    /// Keeps asking, with the reason why a file was not taken.
    pub(super) fn refuse(&mut self, why: String) {
        self.refused = why;
    }

    /// Shows the panel while a file is wanted; returns the file that was chosen.
    pub(super) fn show(&mut self, ctx: &egui::Context) -> Option<(W, PathBuf)> {
        let wanted = self.wanted?;
        let mut chosen = self.take_from_dialog(ctx);
        let mut close = ctx.input(|input| input.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "file of a list").show(ctx, |ui| {
            ui.set_width((ctx.content_rect().width() - 8.0 * STEP).min(560.0));
            chosen = self.ask_path(ui, wanted, &mut close).or(chosen.take());
            if !self.refused.is_empty() {
                ui.separator();
                egui::ScrollArea::vertical().max_height(180.0).show(ui, |ui| ui.label(&self.refused));
            }
        });
        if chosen.is_none() && (close || modal.should_close()) {
            self.close();
        }
        chosen.map(|path| (wanted, path))
    }

    fn ask_path(&mut self, ui: &mut Ui, wanted: W, close: &mut bool) -> Option<PathBuf> {
        let (heading, about) = wanted.words();
        ui.label(RichText::new(heading).font(look::strong(size::LEAD)));
        ui.label(about);
        let label = ui.label("List file");
        let field = TextEdit::singleline(&mut self.typed).hint_text("Path of a .csv file").desired_width(f32::INFINITY);
        let field = ui.add(field).labelled_by(label.id);
        if std::mem::take(&mut self.just_shown) {
            field.request_focus();
        }
        let ready = !self.typed.trim().is_empty();
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let mut chosen = None;
        ui.horizontal(|ui| {
            if ui.add_enabled(ready, egui::Button::new("Take it")).clicked() || (entered && ready) {
                let typed = self.typed.trim();
                chosen = Some(std::path::absolute(typed).unwrap_or_else(|_| PathBuf::from(typed)));
            }
            if ui.add_enabled(self.dialog.is_none(), egui::Button::new("Browse…")).clicked() {
                self.no_dialog = false;
                self.dialog = Some(start_dialog(ui.ctx().clone()));
            }
            *close |= ui.button("Cancel").clicked();
            if self.no_dialog {
                ui.label("This desktop offers no file dialog: type the path.");
            }
        });
        chosen
    }

    fn take_from_dialog(&mut self, ctx: &egui::Context) -> Option<PathBuf> {
        match self.dialog.as_ref()?.try_recv() {
            Ok(chosen) => {
                self.dialog = None;
                chosen
            }
            Err(TryRecvError::Empty) => {
                ctx.request_repaint_after(Duration::from_millis(100));
                None
            }
            Err(TryRecvError::Disconnected) => {
                self.dialog = None;
                self.no_dialog = true;
                None
            }
        }
    }
}

/// A desktop without dialogs answers at once, as no person can; that ends the channel without an answer.
fn start_dialog(ctx: egui::Context) -> Receiver<Option<PathBuf>> {
    let (sender, answer) = channel();
    std::thread::spawn(move || {
        let begun = Instant::now();
        let chosen = rfd::FileDialog::new().add_filter("Table", &["csv", "txt", "tsv"]).pick_file();
        if chosen.is_some() || begun.elapsed() > Duration::from_millis(150) {
            // The panel may be gone by now; then nobody waits for the answer.
            let _ = sender.send(chosen);
        }
        drop(sender);
        ctx.request_repaint();
    });
    answer
}
