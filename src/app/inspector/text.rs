//! Text in a field. What is typed is kept apart from the document until Enter is pressed or the field is left; Escape gives it
//! up.

use super::form::{Form, in_sight, is_reached};
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Id, Key, TextEdit, Ui};

/// A text that is being typed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Draft {
    field: Id,
    text: String,
    /// The pass in which it was last on screen.
    pass: u64,
}

fn select_all(ui: &Ui, field: Id, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), field).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), end)));
    state.store(ui.ctx(), field);
}

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
        let field = self.subject.with(("text", key));
        // A field that went out of sight while it was typed in begins anew.
        let pass = self.ui.ctx().cumulative_pass_nr();
        self.state.drafts.retain(|draft| draft.pass + 1 >= pass);
        let drafted = self.state.drafts.iter().find(|draft| draft.field == field);
        let mut text = drafted.map_or_else(|| value.to_owned(), |draft| draft.text.clone());
        let width = self.ui.available_width();
        let edit = if lines > 1 {
            TextEdit::multiline(&mut text).desired_rows(lines)
        } else {
            TextEdit::singleline(&mut text).align(egui::Align2::LEFT_CENTER)
        };
        let edit = edit.id(field).desired_width(width).hint_text(without.to_owned());
        let response = in_sight(self.ui.add(edit).labelled_by(named));
        // As with figures: what is typed into a line that is reached by keyboard takes the place of what was there.
        if lines == 1 && is_reached(&response) {
            select_all(self.ui, field, &text);
        }
        // A screen reader sets a text without ever being in the field.
        let is_set = response.changed() && !response.has_focus();
        if response.lost_focus() || is_set {
            let given_up = self.ui.input(|input| input.key_pressed(Key::Escape));
            self.state.drafts.retain(|draft| draft.field != field);
            let text = text.trim();
            return (!given_up && text != value).then(|| text.to_owned());
        }
        if response.has_focus() {
            // In the pass in which a field further up takes the focus, the one that loses it still needs what was typed.
            self.state.drafts.retain(|draft| draft.field != field);
            self.state.drafts.push(Draft { field, text, pass });
        }
        None
    }

    /// A row with a line of text.
    pub(super) fn text(&mut self, label: &str, hint: &str, value: &str, without: &str) -> Option<String> {
        self.row(label, hint, |form, named| form.text_field(named, label, value, 1, without))
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
