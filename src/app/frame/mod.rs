//! The frame around the panes: header, sentence, notices, files, keys.

mod files;
mod first_run;
mod header;
mod leaving;
mod notice;
mod recover;
mod sentence;
#[cfg(test)]
mod sentence_tests;

pub(super) use files::FilePanel;
pub(super) use header::{capital, header, item as menu_item};
pub(super) use leaving::{Answer, Leaving, ask as ask_before_leaving, ask_about_list};
pub(super) use notice::{Notice, notice};
pub(super) use recover::{ask_save_over, notice_on_disk, offer_recovery};
pub(super) use sentence::sentence;

use super::lesson::LessonIntent;
use super::look::{Palette, STEP};
use super::view::{Intent, Work};
use egui::{self, Key, KeyboardShortcut, Margin, Modifiers};

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
const FIND: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::F);
const LIST: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::L);
const PICTURE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::P);
const WHOLE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::Home);
const DRAW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F2);
const TUNE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F3);
const LESSONS: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F4);
const NEXT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::PageDown);
const BACK: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::PageUp);
const PRESENT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::NONE, Key::F5);
const SAVE_AS: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);

/// Turns keys into intents; longer shortcuts first, so that they are not taken for shorter ones. While something is typed,
/// undo belongs to the text.
pub(super) fn keys(ctx: &egui::Context, intents: &mut Vec<Intent>) {
    let typing = ctx.text_edit_focused();
    for (shortcut, intent) in [
        (REDO, Intent::Redo),
        (REDO_TOO, Intent::Redo),
        (UNDO, Intent::Undo),
        (OPEN, Intent::AskOpen),
        (SAVE_AS, Intent::AskSave),
        (SAVE, Intent::Save),
        (NEW, Intent::New),
        (FIND, Intent::Search),
        (LIST, Intent::FromList),
        (PICTURE, Intent::Pictures),
        (WHOLE, Intent::FitDrawing),
        (DRAW, Intent::TakeUp(Work::Draw)),
        (TUNE, Intent::TakeUp(Work::Tune)),
        (LESSONS, Intent::Lesson(LessonIntent::List)),
        (PRESENT, Intent::Present),
    ] {
        let of_text = matches!(intent, Intent::Undo | Intent::Redo | Intent::FitDrawing);
        if !(typing && of_text) && ctx.input_mut(|i| i.consume_shortcut(&shortcut)) {
            intents.push(intent);
        }
    }
}

/// The keys of a lesson at work: to the next step and back to the one before, in every view.
pub(super) fn lesson_keys(ctx: &egui::Context, intents: &mut Vec<Intent>) {
    for (shortcut, intent) in [(NEXT, LessonIntent::Next), (BACK, LessonIntent::Back)] {
        if ctx.input_mut(|i| i.consume_shortcut(&shortcut)) {
            intents.push(Intent::Lesson(intent));
        }
    }
}

/// Lets the field that is typed in hand over what it holds in this pass, as if it were left.
pub(super) fn end_typing(ctx: &egui::Context) {
    if ctx.text_edit_focused()
        && let Some(field) = ctx.memory(egui::Memory::focused)
    {
        ctx.memory_mut(|memory| memory.surrender_focus(field));
    }
}

/// Whether something lies over the panes that has the keys first.
pub(super) fn is_covered(ctx: &egui::Context) -> bool {
    !ctx.memory(|memory| memory.is_above_modal_layer(egui::LayerId::background()))
}

/// Space and ground of a pane.
pub(super) fn pane(palette: &Palette) -> egui::Frame {
    egui::Frame::NONE.fill(palette.ground).inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8))
}
