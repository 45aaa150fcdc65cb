//! The frame around the panes: header, sentence, notices, files, keys.

mod files;
mod header;
mod leaving;
mod notice;
mod sentence;

pub(super) use files::FilePanel;
pub(super) use header::{capital, header};
pub(super) use leaving::{Answer, Leaving, ask as ask_before_leaving};
pub(super) use notice::{Notice, notice, problems_notice};
pub(super) use sentence::sentence;

use super::look::{Palette, STEP};
use super::view::Intent;
use egui::{self, Key, KeyboardShortcut, Margin, Modifiers};

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
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
    ] {
        let of_text = matches!(intent, Intent::Undo | Intent::Redo);
        if !(typing && of_text) && ctx.input_mut(|i| i.consume_shortcut(&shortcut)) {
            intents.push(intent);
        }
    }
}

/// Space and ground of a pane.
pub(super) fn pane(palette: &Palette) -> egui::Frame {
    egui::Frame::NONE.fill(palette.ground).inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8))
}
