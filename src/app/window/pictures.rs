//! Pictures in the window: asked for, made, and told when they are ready.

use super::super::picture::{PictureOf, PictureWish, Target};
use super::super::view::Above;
use super::{AWAITED, NOTICE_FOR, Window};
use egui::Theme;

impl Window {
    /// Asks for a picture: of the map where that is shown, else of the drawing.
    pub(super) fn ask_picture(&mut self) {
        let of = if self.above == Above::Map { PictureOf::Map } else { PictureOf::Drawing };
        self.pictures.dialog.open(of, self.theme == Theme::Dark);
    }

    /// Begins to make a picture.
    pub(super) fn make_picture(&mut self, wish: PictureWish, target: Target) {
        self.pictures.make(wish, target, &self.desk, self.units, self.map.axes());
    }

    /// Takes the window's picture when it is wanted, and tells of pictures that are ready.
    pub(super) fn watch_pictures(&mut self, ctx: &egui::Context) {
        // What passes by itself would stand in the picture.
        if self.pictures.is_of_window() {
            self.notice.take_if(|notice| notice.passes());
        }
        self.pictures.after_pass(ctx, &self.desk.project().title, &self.units);
        if let Some(notice) = self.pictures.poll(ctx) {
            self.notice_until = self.now + NOTICE_FOR;
            self.notice = Some(notice);
            ctx.request_repaint();
        } else if self.pictures.is_making() {
            ctx.request_repaint_after(AWAITED);
        }
    }
}
