//! Text in the inspector: a line beside its label, or several lines under it.

use super::super::written::Field;
use super::form::Form;
use egui::Id;

impl Form<'_, '_> {
    /// A field for a line of text, or for several; what was typed, once it is done and differs.
    pub(super) fn text_field(
        &mut self,
        named: Id,
        key: &str,
        value: &str,
        lines: usize,
        without: &str,
    ) -> Option<String> {
        let (id, width) = (self.subject.with(("text", key)), self.ui.available_width());
        let field = Field { id, value, lines, without, width, is_cell: false };
        let (response, typed) = self.state.written.show(self.ui, &field);
        response.labelled_by(named);
        typed
    }

    /// A row with a line of text.
    pub(super) fn text(&mut self, label: &str, hint: &str, value: &str, without: &str) -> Option<String> {
        self.row(label, hint, |form, named| form.text_field(named, label, value, 1, without))
    }

    /// A row with something that is written down.
    pub(super) fn entry(&mut self, label: &str, hint: &str, value: &str, without: &str) -> Option<String> {
        self.entry_row(label, hint, |form, named| form.text_field(named, label, value, 1, without))
    }

    /// A row with a name or a title, which needs more room.
    pub(super) fn name(&mut self, label: &str, hint: &str, value: &str, without: &str) -> Option<String> {
        self.wide_row(label, hint, |form, named| form.text_field(named, label, value, 1, without))
    }

    /// Text of several lines under its label.
    pub(super) fn lines(&mut self, label: &str, hint: &str, value: &str, lines: usize) -> Option<String> {
        let quiet = self.view.palette.quiet;
        let response = self.ui.label(egui::RichText::new(label).color(quiet)).on_hover_text(hint);
        self.text_field(response.id, label, value, lines, "")
    }
}
