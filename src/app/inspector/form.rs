//! A form: labels in one column, fields in another, headings, quiet lines. Every field is told by its label to a screen reader,
//! and keeps its identity when rows come and go, so that nothing jumps while somebody types.

use super::super::look::{self, STEP, size};
pub(super) use super::super::reach::in_sight;
use super::super::term_card::TermCard;
use super::super::view::{Intent, ProjectPart, View};
use super::{InspectorState, terms};
use crate::document::Command;
use egui::{self, Align, Button, ComboBox, Id, Label, Layout, Response, RichText, TextWrapMode, Ui, UiBuilder};

/// Share of the width that labels take, that they take before texts, and before long texts.
const LABELS: f32 = 0.42;
const SHORT: f32 = 0.3;
const NARROW: f32 = 0.16;
/// Height of a row, and of one that only tells.
pub(super) const ROW: f32 = 26.0;
const TOLD: f32 = 20.0;

/// A form under way.
pub(super) struct Form<'f, 'v> {
    pub(super) ui: &'f mut Ui,
    pub(super) view: &'f View<'v>,
    pub(super) state: &'f mut InspectorState,
    pub(super) intents: &'f mut Vec<Intent>,
    /// What the rows are of; part of every field's identity.
    pub(super) subject: Id,
}

impl<'v> Form<'_, 'v> {
    /// Asks for a change of the document.
    pub(super) fn change(&mut self, command: Command) {
        self.intents.push(Intent::Change(command));
    }

    /// Asks for changes that belong together: all are carried out before the drawing is studied once.
    pub(super) fn change_all(&mut self, commands: Vec<Command>) {
        if !commands.is_empty() {
            self.intents.push(Intent::ChangeAll(commands));
        }
    }

    /// A group of rows whose labels may be those of other groups.
    pub(super) fn group<R>(&mut self, key: &str, content: impl FnOnce(&mut Form<'_, 'v>) -> R) -> R {
        self.within(key, Layout::top_down(Align::Min), content)
    }

    /// Runs what follows in a `Ui` of its own identity and layout.
    pub(super) fn within<R>(&mut self, key: &str, layout: Layout, content: impl FnOnce(&mut Form<'_, 'v>) -> R) -> R {
        let (view, subject) = (self.view, self.subject.with(key));
        let (state, intents) = (&mut *self.state, &mut *self.intents);
        let builder = UiBuilder::new().scope_id(subject).layout(layout);
        self.ui.scope_builder(builder, |ui| content(&mut Form { ui, view, state, intents, subject })).inner
    }

    /// A row: the label, and beside it what `content` puts there. It is given the label's identity to be named by.
    pub(super) fn row<R>(&mut self, label: &str, hint: &str, content: impl FnOnce(&mut Form<'_, 'v>, Id) -> R) -> R {
        self.labelled(label, hint, (LABELS, ROW), content)
    }

    /// A row with more room for its field.
    pub(super) fn wide_row<R>(
        &mut self,
        label: &str,
        hint: &str,
        content: impl FnOnce(&mut Form<'_, 'v>, Id) -> R,
    ) -> R {
        self.labelled(label, hint, (NARROW, ROW), content)
    }

    /// A row with a text that is written down.
    pub(super) fn entry_row<R>(
        &mut self,
        label: &str,
        hint: &str,
        content: impl FnOnce(&mut Form<'_, 'v>, Id) -> R,
    ) -> R {
        self.labelled(label, hint, (SHORT, ROW), content)
    }

    fn labelled<R>(
        &mut self,
        label: &str,
        hint: &str,
        measures: (f32, f32),
        content: impl FnOnce(&mut Form<'_, 'v>, Id) -> R,
    ) -> R {
        let quiet = self.view.palette.quiet;
        let words = |form: &mut Form<'_, 'v>| {
            let response = form.ui.add(Label::new(RichText::new(label).color(quiet)).wrap());
            form.explain(&response, label, hint);
            response.id
        };
        self.measured(label, measures, words, content)
    }

    /// Tells what a label means, with the card of its term where it is one.
    pub(super) fn explain(&self, response: &Response, label: &str, hint: &str) {
        match terms::of_label(label, hint) {
            Some(term) => TermCard::new(self.view, term).hint(hint).of_selection().on(response),
            None if hint.is_empty() => {}
            None => _ = response.clone().on_hover_text(hint),
        }
    }

    /// A row whose label is any widget, such as a tick box.
    pub(super) fn row_of<L, R>(
        &mut self,
        key: &str,
        label: impl FnOnce(&mut Form<'_, 'v>) -> L,
        content: impl FnOnce(&mut Form<'_, 'v>, L) -> R,
    ) -> R {
        self.measured(key, (LABELS, ROW), label, content)
    }

    fn measured<L, R>(
        &mut self,
        key: &str,
        (share, height): (f32, f32),
        label: impl FnOnce(&mut Form<'_, 'v>) -> L,
        content: impl FnOnce(&mut Form<'_, 'v>, L) -> R,
    ) -> R {
        let width = self.ui.available_width();
        self.within(key, Layout::left_to_right(Align::Min), |form| {
            form.ui.spacing_mut().item_spacing.x = 0.0;
            let size = egui::vec2((share * width).floor(), height);
            let named = form.placed(size, Layout::left_to_right(Align::Center), label);
            let size = egui::vec2(form.ui.available_width(), height);
            form.placed(size, Layout::left_to_right(Align::Center), |form| {
                form.ui.spacing_mut().item_spacing.x = 1.5 * STEP;
                content(form, named)
            })
        })
    }

    fn placed<R>(&mut self, size: egui::Vec2, layout: Layout, content: impl FnOnce(&mut Form<'_, 'v>) -> R) -> R {
        let (view, subject) = (self.view, self.subject);
        let (state, intents) = (&mut *self.state, &mut *self.intents);
        let filled = self.ui.allocate_ui_with_layout(size, layout, |ui| {
            ui.set_min_size(size);
            content(&mut Form { ui, view, state, intents, subject })
        });
        filled.inner
    }

    /// A heading within the form.
    pub(super) fn section(&mut self, words: &str) {
        self.ui.add_space(2.0 * STEP);
        self.ui.separator();
        self.ui.label(RichText::new(words).font(look::strong(size::BODY)));
    }

    /// A heading that other panes lead to.
    pub(super) fn section_of(&mut self, part: ProjectPart, words: &str) {
        if self.state.wanted == Some(part) {
            self.state.wanted = None;
            self.ui.scroll_to_cursor(Some(Align::TOP));
        }
        self.section(words);
    }

    /// The heading over what the last part of a form tells of the present; it is pale where that is of an earlier drawing.
    pub(super) fn now(&mut self) {
        self.section(if self.view.is_stale() { "Before the last change" } else { "Now" });
        if self.view.is_stale() {
            self.ui.set_opacity(look::OLD);
        }
    }

    /// A quiet line: a source, an explanation.
    pub(super) fn note(&mut self, words: &str) {
        let text = RichText::new(words).size(size::SMALL).color(self.view.palette.quiet);
        self.ui.add(Label::new(text).wrap());
    }

    /// Why something is not taken, where it was typed.
    pub(super) fn fault(&mut self, words: &str) {
        let text = RichText::new(words).size(size::SMALL).color(self.view.palette.starved);
        self.ui.add(Label::new(text).wrap());
    }

    /// Something that is told and cannot be set.
    pub(super) fn fact(&mut self, label: &str, hint: &str, words: &str) {
        self.labelled(label, hint, (LABELS, TOLD), |form, named| {
            form.ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add_space(2.0 * STEP);
                ui.add(Label::new(words).wrap_mode(TextWrapMode::Wrap)).labelled_by(named);
            });
        });
    }

    /// One of a few; the new one if another was chosen.
    pub(super) fn choice<T: Copy>(
        &mut self,
        label: &str,
        hint: &str,
        shown: &str,
        options: &[(T, String)],
    ) -> Option<T> {
        self.row(label, hint, |form, named| form.combo(named, shown, options))
    }

    /// One of a few with long names.
    pub(super) fn wide_choice<T: Copy>(
        &mut self,
        label: &str,
        hint: &str,
        shown: &str,
        options: &[(T, String)],
    ) -> Option<T> {
        self.wide_row(label, hint, |form, named| form.combo(named, shown, options))
    }

    /// A list to choose from, as wide as there is room.
    pub(super) fn combo<T: Copy>(&mut self, named: Id, shown: &str, options: &[(T, String)]) -> Option<T> {
        let mut chosen = None;
        let width = self.ui.available_width();
        self.ui.spacing_mut().button_padding.x = 2.0 * STEP;
        self.ui.spacing_mut().icon_width = 12.0;
        let combo = ComboBox::from_id_salt("choice").selected_text(shown).width(width).height(400.0).truncate();
        let response = combo.show_ui(self.ui, |ui| {
            for (value, words) in options {
                if ui.selectable_label(words == shown, words).clicked() && words != shown {
                    chosen = Some(*value);
                }
            }
        });
        in_sight(response.response.labelled_by(named)).on_hover_text(shown);
        chosen
    }

    /// Buttons in a line that wraps; the number of the one pressed.
    pub(super) fn buttons(&mut self, key: &str, words: &[(&str, &str)]) -> Option<usize> {
        self.within(key, Layout::left_to_right(Align::Min).with_main_wrap(true), |form| {
            let mut pressed = None;
            for (index, (word, hint)) in words.iter().enumerate() {
                let button = Button::new(*word).wrap_mode(TextWrapMode::Extend);
                if in_sight(form.ui.add(button)).on_hover_text(*hint).clicked() {
                    pressed = Some(index);
                }
            }
            pressed
        })
    }
}
