//! The record in the window: made when it is wanted, and told when it is ready.

use super::super::record::RecordWish;
use super::{AWAITED, NOTICE_FOR, Window};
use std::path::PathBuf;

impl Window {
    /// Begins to make the record.
    pub(super) fn make_record(&mut self, wish: RecordWish, path: PathBuf) {
        self.records.make(wish, path, self.desk.project(), self.units);
    }

    /// Tells of a record that is ready.
    pub(super) fn watch_records(&mut self, ctx: &egui::Context) {
        if let Some(notice) = self.records.poll() {
            self.notice_until = self.now + NOTICE_FOR;
            self.notice = Some(notice);
            ctx.request_repaint();
        } else if self.records.is_making() {
            ctx.request_repaint_after(AWAITED);
        }
    }
}
