//! Unsaved changes are asked about before anything would lose them: opening another file, or closing the window.

use super::super::look::{self, size};
use crate::document::Project;
use egui::{self, Key, RichText};
use std::path::PathBuf;

/// What would lose the changes.
#[derive(Clone, Debug, PartialEq)]
pub(in super::super) enum Leaving {
    /// Another file is to be opened.
    Open(PathBuf),
    /// A new document is to be taken, made in the way that the words tell.
    Take(Box<Project>, String),
    /// The window is to close.
    Close,
}

/// What the person answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) enum Answer {
    /// Save first, then go on.
    Save,
    /// Go on and lose the changes.
    Discard,
    /// Stay.
    Stay,
}

/// Asks; `None` while there is no answer yet.
pub(in super::super) fn ask(ctx: &egui::Context, title: &str, leaving: &Leaving) -> Option<Answer> {
    let mut answer = None;
    let modal = look::modal(ctx, "unsaved changes").show(ctx, |ui| {
        ui.set_width(440.0);
        ui.label(RichText::new("Unsaved changes").font(look::strong(size::LEAD)));
        let next = match leaving {
            Leaving::Open(path) => format!("before {} is opened", path.display()),
            Leaving::Take(project, _) if project.components.is_empty() => "before an empty sheet is begun".to_owned(),
            Leaving::Take(project, _) => format!("before {} is begun", project.title),
            Leaving::Close => "before the window closes".to_owned(),
        };
        ui.label(format!("Save the changes of {title} {next}?"));
        ui.horizontal(|ui| {
            for (word, means) in
                [("Save", Answer::Save), ("Discard changes", Answer::Discard), ("Stay here", Answer::Stay)]
            {
                if ui.button(word).clicked() {
                    answer = Some(means);
                }
            }
        });
    });
    let escaped = ctx.input(|i| i.key_pressed(Key::Escape)) || modal.should_close();
    answer.or(escaped.then_some(Answer::Stay))
}

/// Asks whether a list of zones that has not been drawn may be lost; `None` while there is no answer yet.
pub(in super::super) fn ask_about_list(ctx: &egui::Context) -> Option<bool> {
    let mut answer = None;
    let modal = look::modal(ctx, "undrawn list").show(ctx, |ui| {
        ui.set_width(440.0);
        ui.label(RichText::new("A list that is not drawn yet").font(look::strong(size::LEAD)));
        ui.label("The list of zones has not been made a drawing. Closing the window loses it.");
        ui.horizontal(|ui| {
            for (word, lose) in [("Back to the list", false), ("Lose the list", true)] {
                if ui.button(word).clicked() {
                    answer = Some(lose);
                }
            }
        });
    });
    let escaped = ctx.input(|i| i.key_pressed(Key::Escape)) || modal.should_close();
    answer.or(escaped.then_some(false))
}
