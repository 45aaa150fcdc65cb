//! Text in a field. What is typed is kept apart from the document until Enter is pressed or the field is left; Escape gives it
//! up.

use super::look::{self, size};
use super::reach::{in_sight, is_reached};
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Id, Key, Response, TextEdit, Ui};

/// The texts that are being typed: one, and in one pass that of the field that was just left.
#[derive(Debug, Default)]
pub(super) struct Written {
    drafts: Vec<Draft>,
}

/// A text that is being typed.
#[derive(Clone, Debug, PartialEq)]
struct Draft {
    field: Id,
    text: String,
    /// The pass in which it was last on screen.
    pass: u64,
}

/// A field for text.
pub(super) struct Field<'a> {
    /// Its identity.
    pub(super) id: Id,
    /// What the document holds.
    pub(super) value: &'a str,
    /// How many lines it shows.
    pub(super) lines: usize,
    /// What stands there without a text.
    pub(super) without: &'a str,
    /// How wide it is, points.
    pub(super) width: f32,
    /// Whether it is a cell of a table: smaller, with less room around its text.
    pub(super) is_cell: bool,
}

fn select_all(ui: &Ui, field: Id, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), field).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), end)));
    state.store(ui.ctx(), field);
}

impl Written {
    /// Shows a field; with it what was typed, once it is done and differs.
    pub(super) fn show(&mut self, ui: &mut Ui, field: &Field<'_>) -> (Response, Option<String>) {
        let &Field { id, value, lines, without, width, is_cell } = field;
        // A field that went out of sight while it was typed in begins anew.
        let pass = ui.ctx().cumulative_pass_nr();
        self.drafts.retain(|draft| draft.pass + 1 >= pass);
        let drafted = self.drafts.iter().find(|draft| draft.field == id);
        let mut text = drafted.map_or_else(|| value.to_owned(), |draft| draft.text.clone());
        let edit = if lines > 1 {
            TextEdit::multiline(&mut text).desired_rows(lines)
        } else {
            TextEdit::singleline(&mut text).align(egui::Align2::LEFT_CENTER)
        };
        let edit =
            if is_cell { edit.margin(egui::Margin::symmetric(5, 3)).font(look::font(size::SMALL + 0.5)) } else { edit };
        let response = in_sight(ui.add(edit.id(id).desired_width(width).hint_text(without.to_owned())));
        // As with figures: what is typed into a line that is reached by keyboard takes the place of what was there.
        if lines == 1 && is_reached(&response) {
            select_all(ui, id, &text);
        }
        // A screen reader sets a text without ever being in the field.
        let is_set = response.changed() && !response.has_focus();
        if response.lost_focus() || is_set {
            let given_up = ui.input(|input| input.key_pressed(Key::Escape));
            self.drafts.retain(|draft| draft.field != id);
            let text = text.trim();
            let is_new = !given_up && text != value;
            return (response, is_new.then(|| text.to_owned()));
        }
        if response.has_focus() {
            // In the pass in which a field further up takes the focus, the one that loses it still needs what was typed.
            self.drafts.retain(|draft| draft.field != id);
            self.drafts.push(Draft { field: id, text, pass });
        }
        (response, None)
    }
}
