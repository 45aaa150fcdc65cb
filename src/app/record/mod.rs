//! The record in the window: asked for in a small panel, made beside the window, and told when it is written.

mod wish;

pub use wish::{RecordForm, RecordWish};

use super::frame::Notice;
use super::job::{Job, Progress};
use super::look::{self, STEP, size};
use super::view::{Intent, Product};
use crate::document::Project;
use crate::engine::units::Units;
use crate::report::record::{Paper, Record, record_csv, record_pdf};
use crate::report::{page, today};
use egui::{self, Button, Key, RichText, Ui};
use std::fs;
use std::path::{Path, PathBuf};

/// Records: the panel that asks for them, and the one that is being made.
#[derive(Default)]
pub(super) struct Records {
    is_open: bool,
    wish: RecordWish,
    job: Option<Job<Result<PathBuf, String>>>,
}

impl Records {
    /// Opens the panel.
    pub(super) fn open(&mut self) {
        self.is_open = true;
    }

    /// Shows it while it is open.
    pub(super) fn show(&mut self, ctx: &egui::Context, intents: &mut Vec<Intent>) {
        if !self.is_open {
            return;
        }
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "record").show(ctx, |ui| {
            ui.set_width(420.0);
            ui.label(RichText::new("Settings sheet and commissioning record").font(look::strong(size::LEAD)));
            ui.add_space(STEP);
            self.choices(ui);
            ui.add_space(STEP);
            ui.label(
                RichText::new("In the units of this window, with today's date and all zones open.").size(size::SMALL),
            );
            ui.add_space(2.0 * STEP);
            ui.horizontal(|ui| {
                if ui.add_enabled(!self.is_making(), Button::new("Save…")).clicked() {
                    intents.push(Intent::AskWrite(Product::Record(self.wish)));
                    close = true;
                }
                close |= ui.button("Close").clicked();
            });
        });
        self.is_open = !(close || modal.should_close());
    }

    fn choices(&mut self, ui: &mut Ui) {
        let wish = &mut self.wish;
        egui::Grid::new("record choices").num_columns(2).spacing([3.0 * STEP, 1.5 * STEP]).show(ui, |ui| {
            ui.label("As");
            ui.vertical(|ui| {
                for form in RecordForm::ALL {
                    if ui.radio(wish.form == form, form.words()).clicked() {
                        wish.form = form;
                    }
                }
            });
            ui.end_row();
            ui.label("Paper");
            ui.add_enabled_ui(wish.form == RecordForm::Pdf, |ui| {
                ui.horizontal(|ui| {
                    for (paper, word) in [(Paper::A4, "A4"), (Paper::Letter, "Letter")] {
                        if ui.radio(wish.paper == paper, word).clicked() {
                            wish.paper = paper;
                        }
                    }
                });
            });
            ui.end_row();
        });
    }

    /// Begins to make a record; the window goes on meanwhile.
    pub(super) fn make(&mut self, wish: RecordWish, path: PathBuf, project: &Project, units: Units) {
        let project = project.clone();
        self.job = Some(Job::start(move || made(&project, &units, wish, &path).map(|()| path)));
    }

    /// Whether one is being made.
    pub(super) fn is_making(&self) -> bool {
        self.job.is_some()
    }

    /// Takes a record that is ready; gives back what is to be said of it.
    pub(super) fn poll(&mut self) -> Option<Notice> {
        let answer = match self.job.as_ref()?.poll() {
            Progress::Working => return None,
            Progress::Done(answer) => answer,
            Progress::Lost => Err("Making it ended without an answer: try once more.".to_owned()),
        };
        self.job = None;
        Some(match answer {
            Ok(path) => Notice::done(&format!("The record is in {}.", path.display())),
            Err(error) => Notice::problem("There is no record.", &error),
        })
    }
}

/// Makes and writes a record.
fn made(project: &Project, units: &Units, wish: RecordWish, path: &Path) -> Result<(), String> {
    let words = |error: &dyn std::fmt::Display| error.to_string();
    let date = today();
    match wish.form {
        RecordForm::Pdf => {
            let (record, pictures) = Record::with_pictures(project, units, &date).map_err(|error| words(&error))?;
            write(path, &record_pdf(&record, &pictures, wish.paper).map_err(|error| words(&error))?)
        }
        RecordForm::Page => write(path, page(project, units, &date).map_err(|error| words(&error))?.as_bytes()),
        RecordForm::Tables => {
            let record = Record::new(project, units, &date).map_err(|error| words(&error))?;
            fs::create_dir_all(path).map_err(|error| refusal(path, &error))?;
            record_csv(&record).iter().try_for_each(|table| write(&path.join(&table.name), table.text.as_bytes()))
        }
    }
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    fs::write(path, bytes).map_err(|error| refusal(path, &error))
}

fn refusal(path: &Path, error: &std::io::Error) -> String {
    format!("{} could not be written ({error}): choose another folder or name.", path.display())
}
