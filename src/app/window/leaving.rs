//! Nothing unsaved is lost: before another document or the end of the window the person is asked.

use super::super::frame::{self, Answer, Leaving};
use super::Window;

impl Window {
    /// Holds the window open while changes are unsaved, asks, and goes on once they are saved or given up.
    pub(super) fn watch_leaving(&mut self, ctx: &egui::Context) {
        if ctx.input(|i| i.viewport().close_requested()) && !self.closing {
            // The question is about the person's own project.
            self.leave_lesson();
            if self.table.is_undrawn() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
                self.list_at_stake = true;
            } else if self.desk.is_changed() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
                self.leaving = Some(Leaving::Close);
            }
        }
        if self.list_at_stake {
            match frame::ask_about_list(ctx) {
                Some(true) => {
                    self.list_at_stake = false;
                    self.table.let_go();
                    self.leaving = Some(Leaving::Close);
                }
                Some(false) => {
                    self.list_at_stake = false;
                    self.table.open();
                }
                None => {}
            }
            return;
        }
        let Some(leaving) = self.leaving.take() else { return };
        if !self.desk.is_changed() {
            self.leave(ctx, leaving);
            return;
        }
        let is_free = !self.files.is_asking() && !self.keeping.is_asking();
        match is_free.then(|| frame::ask_before_leaving(ctx, &self.desk.project().title, &leaving)).flatten() {
            Some(Answer::Save) => {
                self.leaving = Some(leaving);
                self.save_here();
            }
            Some(Answer::Discard) => self.leave(ctx, leaving),
            Some(Answer::Stay) => {
                if matches!(leaving, Leaving::Take(..)) {
                    self.table.not_taken();
                }
            }
            None => self.leaving = Some(leaving),
        }
    }

    fn leave(&mut self, ctx: &egui::Context, leaving: Leaving) {
        if leaving == Leaving::Close {
            self.keeping.close();
            self.closing = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        self.go_on(leaving);
        ctx.request_repaint();
    }

    /// Goes on with another document; at the end of the window there is none.
    fn go_on(&mut self, leaving: Leaving) {
        match leaving {
            Leaving::Open(path) => self.open(&path),
            Leaving::Take(project, words) => self.take(&project, &words),
            Leaving::Close => {}
        }
    }

    /// Does what would lose unsaved changes, or asks about them first.
    pub(super) fn leave_or_ask(&mut self, leaving: Leaving) {
        self.leave_lesson();
        if self.desk.is_changed() {
            self.leaving = Some(leaving);
        } else {
            self.go_on(leaving);
        }
    }
}
