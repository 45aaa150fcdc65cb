//! What the window does so that nothing is lost: recovery copies, and a file that another program changes.

use super::super::desk::Desk;
use super::super::frame::Notice;
use super::super::keeping::{Decision, OnDisk, Pace};
use super::super::view::Intent;
use super::Window;
use std::path::Path as FilePath;

impl Window {
    /// Keeps recovery copies of unsaved work in a folder from now on, and offers what was left behind there. Without this
    /// call the window writes nothing but what it is told to save.
    pub fn keep_in(&mut self, folder: &FilePath, pace: Pace, ctx: &egui::Context) {
        if let Err(trouble) = self.keeping.start(folder, pace, ctx) {
            self.notice = Some(Notice::problem("Unsaved work is not protected.", &trouble));
        }
    }

    /// At the end of each pass, when the hand's step is recorded.
    pub(super) fn keep_after_pass(&mut self, ctx: &egui::Context) {
        // What is kept is the person's own; a lesson's system is none of that.
        let own = self.put_by.as_ref().map_or(&self.desk, |put_by| &put_by.desk);
        if let Some(trouble) = self.keeping.after_pass(ctx, own) {
            self.notice = Some(Notice::problem("Unsaved work is not protected.", &trouble));
            ctx.request_repaint();
        }
        // What only the window still holds must not be closed without a question.
        let own = self.put_by.as_mut().map_or(&mut self.desk, |put_by| &mut put_by.desk);
        if self.keeping.is_gone() && own.has_file() {
            own.disown_file(None);
            ctx.request_repaint();
        }
    }

    /// Carries out what the person has decided.
    pub(super) fn decide(&mut self, decision: Decision) {
        match decision {
            Decision::Recover(copy) => self.recover(&copy),
            Decision::Delete(copy) => {
                if let Err(trouble) = self.keeping.delete(&copy) {
                    self.notice = Some(Notice::problem("This copy was not deleted.", &trouble));
                }
            }
            Decision::Later => self.keeping.later(),
            Decision::LoadTheirs => {
                if let Some(path) = self.desk.path().map(FilePath::to_owned) {
                    self.carry_out(Intent::Open(path));
                }
            }
            Decision::KeepMine => {
                if let Some(OnDisk::Changed(mark)) = self.keeping.take_on_disk() {
                    self.desk.disown_file(Some(mark));
                }
            }
            Decision::SaveOver(path) => {
                self.keeping.release_save();
                self.save_over(&path);
            }
            Decision::SaveElsewhere => {
                self.keeping.release_save();
                self.carry_out(Intent::AskSave);
            }
            Decision::DoNotSave => {
                self.keeping.release_save();
                self.leaving = None;
            }
        }
    }

    fn recover(&mut self, copy: &FilePath) {
        let Some(offered) = self.keeping.offered(copy) else { return };
        let origin = offered.origin().ok().cloned();
        let (path, mark) = origin.map_or((None, None), |origin| (origin.path, origin.mark));
        let read = offered.read().map_err(|error| error.to_string());
        let recovered = read.and_then(|project| Desk::recovered(project, path, mark));
        match recovered {
            Ok(desk) => {
                self.keeping.recovered(copy);
                self.begin(desk);
                if let Some(path) = self.desk.path().filter(|path| path.is_file()) {
                    self.files.remember(path);
                }
            }
            // The list goes on with the reason in the copy's row.
            Err(why) => offered.refuse(&format!("This copy was not recovered and is kept. {why}")),
        }
    }

    /// Saves without asking about what another program has written.
    pub(super) fn save_over(&mut self, path: &FilePath) {
        match self.desk.save(path) {
            Ok(()) => {
                self.files.remember(path);
                self.notice_until = self.now + super::NOTICE_FOR;
                self.notice = Some(Notice::done(&format!("Saved to {}.", path.display())));
            }
            Err(error) => self.notice = Some(Notice::problem("This project was not saved.", &error.to_string())),
        }
    }
}

/// The folder for recovery copies in the user's own data folder, where there is one.
pub(in super::super) fn recovery_folder() -> Option<std::path::PathBuf> {
    eframe::storage_dir(super::super::APP_ID).map(|folder| folder.join("recovery"))
}
