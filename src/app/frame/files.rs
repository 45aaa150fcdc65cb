//! Choosing files: a small panel with recent files, a typed path, and the desktop's own dialog where there is one.
//!
//! The desktop's dialog runs beside the window, which goes on meanwhile. Where none can be shown it returns at once, as if
//! the person had cancelled; the typed path serves everywhere.

use super::super::lesson::{LessonIntent, Source};
use super::super::look::{self, size};
use super::super::view::{Intent, Product};
use egui::{self, Key, RichText, TextEdit, Ui};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

/// How many recent files are kept.
const RECENT: usize = 8;

/// What a file is asked for.
#[derive(Clone, Debug, PartialEq)]
enum Asking {
    Open,
    Save,
    Lesson,
    Write(Product),
}

impl Asking {
    /// Whether a file is to be read, not written.
    fn reads(&self) -> bool {
        matches!(self, Self::Open | Self::Lesson)
    }

    /// Heading, and the word of the button.
    fn words(&self) -> (String, &'static str) {
        match self {
            Self::Open => ("Open a project".to_owned(), "Open"),
            Self::Save => ("Save the project".to_owned(), "Save"),
            Self::Lesson => ("Open a lesson".to_owned(), "Begin"),
            Self::Write(product) => (format!("Save {}", product.name()), "Save"),
        }
    }

    /// The ending of such a file, and what such files are called.
    fn kind(&self) -> (&'static str, &'static str) {
        match self {
            Self::Open | Self::Save => ("ron", "Headwise project"),
            Self::Lesson => ("ron", "Headwise lesson"),
            Self::Write(product) => (product.ending(), "Saved by Headwise"),
        }
    }
}

/// A desktop dialog that is shown beside the window, and what it was asked.
#[derive(Debug)]
struct Dialog {
    asking: Asking,
    answer: Receiver<Option<PathBuf>>,
}

/// The panel for choosing files.
#[derive(Debug, Default)]
pub(in super::super) struct FilePanel {
    asking: Option<Asking>,
    typed: String,
    recent: Vec<PathBuf>,
    /// Those of the recent files that are not there now; looked up when the panel opens, not in every pass.
    missing: Vec<PathBuf>,
    dialog: Option<Dialog>,
    /// A file that is there already and waits for a word before it is replaced.
    replace: Option<PathBuf>,
    /// Why what was chosen last cannot be written to.
    refused: Option<String>,
    /// The desktop's dialog came back at once: there is none.
    no_dialog: bool,
    just_shown: bool,
}

impl FilePanel {
    /// Asks for a file to open.
    pub(in super::super) fn ask_open(&mut self) {
        self.ask(Asking::Open);
        self.typed.clear();
        self.missing = self.recent.iter().filter(|path| !path.is_file()).cloned().collect();
    }

    /// Asks for a lesson to begin.
    pub(in super::super) fn ask_lesson(&mut self) {
        self.ask(Asking::Lesson);
        self.typed.clear();
    }

    /// Asks where to write something made of the project; the name suggested is that of the file at work, or of the title.
    pub(in super::super) fn ask_write(&mut self, product: Product, present: Option<&Path>, title: &str) {
        let beside = present.map_or_else(|| PathBuf::from(suggested_name(title)), Path::to_owned);
        let stem = beside.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
        self.typed = beside.with_file_name(product.file_name(&stem)).display().to_string();
        self.ask(Asking::Write(product));
    }

    fn ask(&mut self, asking: Asking) {
        self.asking = Some(asking);
        self.just_shown = true;
        self.replace = None;
        self.refused = None;
        // A late answer to an earlier question must not be taken for one to this.
        self.dialog = None;
    }

    /// Whether a file is asked for now.
    pub(in super::super) fn is_asking(&self) -> bool {
        self.asking.is_some()
    }

    /// Asks where to save.
    pub(in super::super) fn ask_save(&mut self, present: Option<&Path>, title: &str) {
        self.ask(Asking::Save);
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

    /// Shows the panel while a file is asked for, and takes what a desktop dialog returned. `present` is the file at work.
    pub(in super::super) fn show(&mut self, ctx: &egui::Context, present: Option<&Path>, intents: &mut Vec<Intent>) {
        let Some(asking) = self.asking.clone() else { return };
        let mut chosen = self.take_from_dialog(ctx);
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "choose a file").show(ctx, |ui| {
            ui.set_width(540.0);
            if let Some(path) = self.replace.clone() {
                self.ask_replace(ui, &asking, &path, intents, &mut close);
            } else {
                chosen = self.ask_path(ui, &asking, &mut close).or(chosen.take());
                self.recent_files(ui, &asking, &mut chosen);
            }
        });
        match chosen {
            Some(path) => self.take(asking, path, present, intents),
            None if close || modal.should_close() => self.close(),
            None => {}
        }
    }

    /// Takes what was chosen; a place that must not be written to is refused, and one that is there already waits for a word.
    fn take(&mut self, asking: Asking, path: PathBuf, present: Option<&Path>, intents: &mut Vec<Intent>) {
        self.refused = refusal(&asking, &path, present);
        if self.refused.is_some() {
            return;
        }
        if !asking.reads() && is_another(&path, present.filter(|_| asking == Asking::Save)) {
            self.replace = Some(path);
        } else {
            self.choose(asking, path, intents);
        }
    }

    fn ask_path(&mut self, ui: &mut Ui, asking: &Asking, close: &mut bool) -> Option<PathBuf> {
        let (heading, word) = asking.words();
        let (ending, _) = asking.kind();
        ui.label(RichText::new(heading).font(look::strong(size::LEAD)));
        let label = ui.label("File");
        let field = TextEdit::singleline(&mut self.typed)
            .hint_text(if ending.is_empty() {
                "Path of a folder".to_owned()
            } else {
                format!("Path of a .{ending} file")
            })
            .desired_width(f32::INFINITY);
        let field = ui.add(field).labelled_by(label.id);
        if std::mem::take(&mut self.just_shown) {
            field.request_focus();
        }
        if field.changed() {
            self.refused = None;
        }
        let ready = !self.typed.trim().is_empty();
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let path = full_path(self.typed.trim(), asking);
        if ready {
            ui.label(RichText::new(path.display().to_string()).size(size::SMALL));
        }
        if let Some(sentence) = &self.refused {
            ui.label(sentence);
        }
        let mut chosen = None;
        ui.horizontal(|ui| {
            if ui.add_enabled(ready, egui::Button::new(word)).clicked() || (entered && ready) {
                chosen = Some(path);
            }
            if ui.add_enabled(self.dialog.is_none(), egui::Button::new("Browse…")).clicked() {
                self.no_dialog = false;
                self.dialog = Some(start_dialog(asking.clone(), ui.ctx().clone()));
            }
            *close |= ui.button("Cancel").clicked();
            if self.no_dialog {
                ui.label("This desktop offers no file dialog: type the path.");
            }
        });
        chosen
    }

    fn ask_replace(&mut self, ui: &mut Ui, asking: &Asking, path: &Path, intents: &mut Vec<Intent>, close: &mut bool) {
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        let there = path.display();
        let (heading, words, word) = if asking.kind().0.is_empty() {
            let words = format!(
                "{there} is there already. Files in it that have the names of the record's tables are replaced; all else stays."
            );
            (format!("Write into {name}?"), words, "Write")
        } else {
            let words = format!("{there} is there already and holds something else. Replacing it loses that.");
            (format!("Replace {name}?"), words, "Replace")
        };
        ui.label(RichText::new(heading).font(look::strong(size::LEAD)));
        ui.label(words);
        ui.horizontal(|ui| {
            if ui.button(word).clicked() {
                self.choose(asking.clone(), path.to_owned(), intents);
            }
            if ui.button("Back").clicked() {
                self.replace = None;
            }
            *close |= ui.button("Cancel").clicked();
        });
    }

    fn recent_files(&mut self, ui: &mut Ui, asking: &Asking, chosen: &mut Option<PathBuf>) {
        if *asking != Asking::Open || self.recent.is_empty() {
            return;
        }
        ui.separator();
        ui.horizontal(|ui| {
            ui.label(RichText::new("Recent").size(size::SMALL));
            let clear = egui::Button::new(RichText::new("Clear list").size(size::SMALL));
            if ui.add(clear).on_hover_text("Forget these names; the files stay").clicked() {
                self.recent.clear();
            }
        });
        for path in &self.recent {
            let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
            let folder = path.parent().map_or_else(String::new, |folder| folder.display().to_string());
            ui.horizontal(|ui| {
                let missing = self.missing.contains(path);
                let button = ui.add_enabled(!missing, egui::Button::new(name));
                if button.on_disabled_hover_text("Moved, deleted, or on a drive that is not here now").clicked() {
                    *chosen = Some(path.clone());
                }
                let folder = if missing { format!("not there now: {folder}") } else { folder };
                ui.add(egui::Label::new(RichText::new(folder).size(size::SMALL)).truncate());
            });
        }
    }

    fn close(&mut self) {
        self.asking = None;
        self.replace = None;
        self.dialog = None;
    }

    fn choose(&mut self, asking: Asking, path: PathBuf, intents: &mut Vec<Intent>) {
        self.close();
        intents.push(match asking {
            Asking::Open => Intent::Open(path),
            Asking::Save => Intent::SaveTo(path),
            Asking::Lesson => Intent::Lesson(LessonIntent::Begin(Source::File(path))),
            Asking::Write(product) => Intent::Write(product, path),
        });
    }

    fn take_from_dialog(&mut self, ctx: &egui::Context) -> Option<PathBuf> {
        let dialog = self.dialog.as_ref()?;
        match dialog.answer.try_recv() {
            Ok(chosen) if self.asking.as_ref() == Some(&dialog.asking) => {
                self.dialog = None;
                chosen
            }
            Err(TryRecvError::Empty) => {
                ctx.request_repaint_after(Duration::from_millis(100));
                None
            }
            Ok(_) => None,
            Err(TryRecvError::Disconnected) => {
                self.dialog = None;
                self.no_dialog = true;
                None
            }
        }
    }

    /// Takes the recent files from the last time.
    pub(in super::super) fn restore(&mut self, storage: &dyn eframe::Storage) {
        let kept = storage.get_string("recent files").unwrap_or_default();
        self.recent = kept.lines().filter(|line| !line.is_empty()).map(PathBuf::from).take(RECENT).collect();
    }

    /// Keeps the recent files for the next time.
    pub(in super::super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        // A name that is no text, or more than a line, would come back as another one.
        let names = self.recent.iter().filter_map(|path| path.to_str()).filter(|name| !name.contains(['\n', '\r']));
        let lines: Vec<&str> = names.collect();
        storage.set_string("recent files", lines.join("\n"));
    }
}

fn suggested_name(title: &str) -> String {
    let plain: String = title.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    format!("{}.ron", plain.trim_matches('-'))
}

/// A typed path from the root on, with the ending of what is saved where none was typed.
fn full_path(typed: &str, asking: &Asking) -> PathBuf {
    let mut path = std::path::absolute(typed).unwrap_or_else(|_| PathBuf::from(typed));
    let ending = asking.kind().0;
    if !asking.reads() && path.extension().is_none() && !typed.is_empty() && !ending.is_empty() {
        path.set_extension(ending);
    }
    path
}

/// Why something made of the project cannot be written to a path, if it cannot.
fn refusal(asking: &Asking, path: &Path, present: Option<&Path>) -> Option<String> {
    let Asking::Write(product) = asking else { return None };
    let there = path.display();
    if product.ending().is_empty() {
        let is_file = path.exists() && !path.is_dir();
        return is_file.then(|| format!("{there} is a file, and the tables go into a folder: choose another name."));
    }
    if path.is_dir() {
        return Some(format!("{there} is a folder: add the name of a file."));
    }
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let is_project = present.is_some_and(|present| whole(present) == whole(path));
    is_project.then(|| {
        format!("{there} is the project at work; {} in its place would lose it: choose another name.", product.name())
    })
}

/// Whether a path is a file that is there and is not the one at work.
fn is_another(path: &Path, present: Option<&Path>) -> bool {
    let whole = |path: &Path| path.canonicalize().ok();
    path.exists() && present.and_then(whole) != whole(path)
}

/// A desktop without dialogs answers at once, as no person can; that ends the channel without an answer.
fn start_dialog(asking: Asking, ctx: egui::Context) -> Dialog {
    let (sender, answer) = channel();
    let (reads, (ending, kind)) = (asking.reads(), asking.kind());
    std::thread::spawn(move || {
        let begun = Instant::now();
        let chosen = match (reads, ending) {
            (_, "") => rfd::FileDialog::new().pick_folder(),
            (true, ending) => rfd::FileDialog::new().add_filter(kind, &[ending]).pick_file(),
            (false, ending) => rfd::FileDialog::new().add_filter(kind, &[ending]).save_file(),
        };
        if chosen.is_some() || begun.elapsed() > Duration::from_millis(150) {
            // The panel may be gone by now; then nobody waits for the answer.
            let _ = sender.send(chosen);
        }
        drop(sender);
        ctx.request_repaint();
    });
    Dialog { asking, answer }
}
