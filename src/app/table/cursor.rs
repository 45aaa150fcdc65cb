//! Which cells are in hand and what is being typed there, moved by keys as in a spreadsheet: Tab, Enter and arrows move, typing
//! replaces what stands in the cell, F2 edits it, Escape gives it up.

use super::contents::{Block, Contents, MOST_ROWS, beyond};
use crate::engine::units::Units;
use crate::file::table::{Holding, ZONE_FIELDS, pasted};
use egui::{Event, Key, Modifiers};

const LAST: usize = ZONE_FIELDS.len() - 1;
/// Rows that Page Up and Page Down go.
const PAGE: usize = 10;

/// What is being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Draft {
    /// Nothing.
    None,
    /// In place of what stood there.
    Typed(String),
    /// What stands there, with a text cursor.
    Edited(String),
}

/// The cells in hand.
#[derive(Clone, Debug)]
pub(super) struct Cursor {
    pub(super) row: usize,
    pub(super) column: usize,
    /// The other corner of the cells in hand.
    pub(super) anchor: (usize, usize),
    pub(super) draft: Draft,
    /// Whether the words to choose from are shown.
    pub(super) is_choosing: bool,
    /// The cell is to be brought into view.
    pub(super) comes_into_view: bool,
    /// What pasting found.
    pub(super) notes: Vec<String>,
    /// What is to be put on the clipboard.
    pub(super) copied: Option<String>,
    /// The keyboard leaves the list.
    pub(super) leaves: bool,
    /// The keyboard is to come to the list.
    pub(super) wants_keyboard: bool,
}

impl Default for Cursor {
    fn default() -> Self {
        Self {
            row: 0,
            column: 0,
            anchor: (0, 0),
            draft: Draft::None,
            is_choosing: false,
            comes_into_view: true,
            notes: Vec::new(),
            copied: None,
            leaves: false,
            wants_keyboard: true,
        }
    }
}

impl Cursor {
    /// The cells in hand.
    pub(super) fn block(&self) -> Block {
        let (row, column) = self.anchor;
        Block {
            top: row.min(self.row),
            bottom: row.max(self.row),
            left: column.min(self.column),
            right: column.max(self.column),
        }
    }

    /// Goes to a cell, or spreads the cells in hand to it; what was typed is kept.
    pub(super) fn go(&mut self, contents: &mut Contents, (row, column): (usize, usize), spreads: bool) {
        self.keep(contents);
        // What is typed below the last row would be lost.
        (self.row, self.column) = (row.min(MOST_ROWS - 1), column);
        if !spreads {
            self.anchor = (self.row, column);
        }
        self.is_choosing = false;
        self.comes_into_view = true;
    }

    /// Takes whole rows in hand.
    pub(super) fn take_row(&mut self, contents: &mut Contents, row: usize, spreads: bool) {
        let first = if spreads { self.anchor.0 } else { row };
        self.go(contents, (row, LAST), true);
        self.anchor = (first, 0);
    }

    /// Writes what was typed into its cell.
    pub(super) fn keep(&mut self, contents: &mut Contents) {
        let (Draft::Typed(text) | Draft::Edited(text)) = std::mem::replace(&mut self.draft, Draft::None) else {
            return;
        };
        let text = completed(self.column, text.trim());
        contents.set(self.row, self.column, &text);
    }

    /// Begins to edit what stands in the cell.
    pub(super) fn edit(&mut self, contents: &Contents) {
        self.draft = Draft::Edited(contents.cell(self.row, self.column).to_owned());
        self.anchor = (self.row, self.column);
    }

    /// Takes what the keyboard says to the list; the rest is left to others.
    pub(super) fn take(&mut self, events: &mut Vec<Event>, contents: &mut Contents, units: &Units) {
        events.retain(|event| !self.takes(event, contents, units));
    }

    fn takes(&mut self, event: &Event, contents: &mut Contents, units: &Units) -> bool {
        match event {
            Event::Key { key, pressed: true, modifiers, .. } => self.key(*key, *modifiers, contents),
            Event::Text(text) | Event::Ime(egui::ImeEvent::Commit(text)) => self.text(text),
            Event::Paste(text) => self.paste(text, contents, units),
            Event::Copy | Event::Cut if !matches!(self.draft, Draft::Edited(_)) => {
                self.copied = Some(contents.copy(self.block()));
                if matches!(event, Event::Cut) {
                    contents.clear(self.block());
                }
                true
            }
            _ => false,
        }
    }

    fn text(&mut self, text: &str) -> bool {
        match &mut self.draft {
            Draft::Edited(_) => return false,
            Draft::Typed(typed) => typed.push_str(text),
            Draft::None => {
                self.anchor = (self.row, self.column);
                self.draft = Draft::Typed(text.to_owned());
            }
        }
        self.comes_into_view = true;
        true
    }

    fn paste(&mut self, text: &str, contents: &mut Contents, units: &Units) -> bool {
        let is_plain = !text.trim_end_matches(['\r', '\n']).contains(['\t', '\n', '\r']);
        if is_plain && matches!(self.draft, Draft::Edited(_)) {
            return false;
        }
        if is_plain && self.draft != Draft::None {
            return self.text(text.trim());
        }
        self.keep(contents);
        let found = pasted(text, units);
        let Block { top, left, .. } = self.block();
        let filled = contents.paste((top, left), &found);
        (self.row, self.column) = (filled.top, filled.left);
        self.anchor = (filled.bottom, filled.right);
        self.notes = found.notes;
        self.notes.extend(beyond(top, found.rows.len()));
        self.comes_into_view = true;
        true
    }

    fn key(&mut self, key: Key, modifiers: Modifiers, contents: &mut Contents) -> bool {
        let Modifiers { alt, shift, command, .. } = modifiers;
        let edits = matches!(self.draft, Draft::Edited(_));
        match key {
            Key::Z if command && !edits => {
                if shift {
                    contents.redo()
                } else {
                    contents.undo()
                }
            }
            Key::Y if command && !edits => contents.redo(),
            Key::A if command && !edits => {
                self.go(contents, (contents.rows().len().saturating_sub(1), LAST), false);
                self.anchor = (0, 0);
            }
            Key::ArrowDown if alt && ZONE_FIELDS[self.column].has_choices() => self.is_choosing = true,
            Key::ArrowUp | Key::ArrowDown if alt => self.shift_rows(contents, key == Key::ArrowDown),
            _ if command || alt => return false,
            Key::Tab => self.step(contents, !shift),
            Key::Enter => {
                self.go(contents, (if shift { self.row.saturating_sub(1) } else { self.row + 1 }, self.column), false)
            }
            Key::ArrowUp => self.go(contents, (self.row.saturating_sub(1), self.column), shift),
            Key::ArrowDown => self.go(contents, (self.row + 1, self.column), shift),
            Key::PageUp => self.go(contents, (self.row.saturating_sub(PAGE), self.column), shift),
            Key::PageDown => self.go(contents, ((self.row + PAGE).min(contents.rows().len()), self.column), shift),
            Key::Escape if self.draft != Draft::None => self.draft = Draft::None,
            Key::Escape if self.is_choosing => self.is_choosing = false,
            Key::F6 => self.leaves = true,
            // With a text cursor the rest belongs to the text.
            _ if edits => return false,
            Key::ArrowLeft => self.go(contents, (self.row, self.column.saturating_sub(1)), shift),
            Key::ArrowRight => self.go(contents, (self.row, (self.column + 1).min(LAST)), shift),
            Key::Home => self.go(contents, (self.row, 0), shift),
            Key::End => self.go(contents, (self.row, LAST), shift),
            Key::Backspace => match &mut self.draft {
                Draft::Typed(text) => drop(text.pop()),
                _ => contents.clear(self.block()),
            },
            Key::Delete if self.draft == Draft::None => contents.clear(self.block()),
            Key::F2 => match std::mem::replace(&mut self.draft, Draft::None) {
                Draft::Typed(text) => self.draft = Draft::Edited(text),
                _ => self.edit(contents),
            },
            Key::F4 if ZONE_FIELDS[self.column].has_choices() => self.is_choosing = true,
            _ => return false,
        }
        true
    }

    /// To the next cell, from the end of a row to the next one; out of the list at its beginning.
    fn step(&mut self, contents: &mut Contents, forward: bool) {
        let (row, column) = (self.row, self.column);
        let to = match forward {
            true if column == LAST => (row + 1, 0),
            true => (row, column + 1),
            false if column > 0 => (row, column - 1),
            false if row > 0 => (row - 1, LAST),
            false => {
                self.keep(contents);
                self.leaves = true;
                return;
            }
        };
        self.go(contents, to, false);
    }

    /// Moves the rows in hand.
    pub(super) fn shift_rows(&mut self, contents: &mut Contents, down: bool) {
        self.keep(contents);
        if contents.shift(self.block(), down) {
            let by = |row: usize| if down { row + 1 } else { row.saturating_sub(1) };
            self.row = by(self.row);
            self.anchor.0 = by(self.anchor.0);
            self.comes_into_view = true;
        }
    }
}

/// Whether a field offers words; part of a word is completed to the only one that begins so.
trait Choices {
    fn has_choices(&self) -> bool;
}

impl Choices for crate::file::table::ZoneField {
    fn has_choices(&self) -> bool {
        matches!(self.holding(), Holding::Word(_)) || super::grid::is_bore(*self)
    }
}

fn completed(column: usize, text: &str) -> String {
    let Some(Holding::Word(words)) = ZONE_FIELDS.get(column).map(|field| field.holding()) else {
        return text.to_owned();
    };
    let begun = text.to_lowercase();
    let mut fitting = words.iter().filter(|word| !begun.is_empty() && word.starts_with(&begun));
    match (fitting.next(), fitting.next()) {
        (Some(word), None) => (*word).to_owned(),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(key: Key) -> Event {
        Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE }
    }

    #[test]
    fn what_comes_in_one_frame_is_taken_in_its_order() {
        let (mut cursor, mut contents) = (Cursor::default(), Contents::default());
        let text = |text: &str| Event::Text(text.to_owned());
        let mut events =
            vec![text("A"), text("x"), key(Key::Backspace), key(Key::Tab), text("2"), key(Key::Enter), text("9")];
        events.push(key(Key::Escape));
        cursor.take(&mut events, &mut contents, &Units::si());
        assert!(events.is_empty());
        assert_eq!((contents.cell(0, 0), contents.cell(0, 1), contents.cell(1, 1)), ("A", "2", ""));
        assert_eq!((cursor.row, cursor.column), (1, 1));
    }

    #[test]
    fn what_the_list_cannot_hold_is_told() {
        let (mut cursor, mut contents) = (Cursor::default(), Contents::default());
        let rows = |count: usize| (0..count).map(|row| format!("Room {row}\t1\n")).collect::<String>();
        let paste = |cursor: &mut Cursor, contents: &mut Contents, count| {
            cursor.take(&mut vec![Event::Paste(rows(count))], contents, &Units::si());
            cursor.notes.join(" ")
        };
        assert_eq!(paste(&mut cursor, &mut contents, MOST_ROWS), "");
        assert!(paste(&mut cursor, &mut contents, MOST_ROWS + 3).contains("the last 3 were left out"));
        // Enter on the last row stays there.
        cursor.go(&mut contents, (MOST_ROWS - 1, 0), false);
        let mut events = vec![key(Key::Enter), Event::Text("Last".to_owned()), key(Key::Tab)];
        cursor.take(&mut events, &mut contents, &Units::si());
        assert_eq!(contents.cell(MOST_ROWS - 1, 0), "Last");
    }

    #[test]
    fn part_of_a_word_is_completed_where_only_one_begins_so() {
        assert_eq!(completed(4, "Rad"), "radiator");
        assert_eq!(completed(4, "co"), "co");
        assert_eq!(completed(8, "th"), "thermostatic valve");
        assert_eq!(completed(0, "rad"), "rad");
    }
}
