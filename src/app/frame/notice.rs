//! Notices: something the person must know, with what to do; it stays until taken away.

use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View};
use crate::document::Project;
use crate::problems;
use egui::{self, Margin, RichText, Ui};

/// A notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in super::super) struct Notice {
    heading: String,
    text: String,
    is_problem: bool,
}

impl Notice {
    /// Something that went wrong.
    pub(in super::super) fn problem(heading: &str, text: &str) -> Self {
        Self { heading: heading.to_owned(), text: text.to_owned(), is_problem: true }
    }

    /// Something that went well.
    pub(in super::super) fn done(text: &str) -> Self {
        Self { heading: String::new(), text: text.to_owned(), is_problem: false }
    }
}

/// What is wrong with a drawing that was just opened, if anything.
pub(in super::super) fn problems_notice(project: &Project) -> Option<Notice> {
    let found = problems::find(project);
    let shown: Vec<String> = found.iter().take(3).map(|p| format!("{}: {}", p.title, p.sentence)).collect();
    let rest = found.len().saturating_sub(shown.len());
    let more = if rest > 0 { format!("\nand {rest} more (headwise check FILE lists all)") } else { String::new() };
    let heading = if found.len() == 1 { "One thing to look at" } else { "Things to look at" };
    (!found.is_empty()).then(|| Notice::problem(heading, &format!("{}{more}", shown.join("\n"))))
}

/// Shows a notice across the window.
pub(in super::super) fn notice(ui: &mut Ui, view: &View<'_>, notice: &Notice, intents: &mut Vec<Intent>) {
    let color = if notice.is_problem { view.palette.starved } else { view.palette.served };
    let frame = egui::Frame::NONE
        .fill(look::between(view.palette.raised, color, 0.12))
        .inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8));
    egui::Panel::top("notice").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::TOP), |ui| {
                if ui.button("Close").clicked() {
                    intents.push(Intent::Dismiss);
                }
                ui.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| {
                    if !notice.heading.is_empty() {
                        ui.label(RichText::new(&notice.heading).font(look::strong(size::BODY)).color(color));
                    }
                    ui.label(&notice.text);
                });
            });
        });
    });
}
