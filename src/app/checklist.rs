//! The checks while drawing: one line for each, with a click to go there; the one that is open says what it means and what
//! helps.

use super::frame::capital;
use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::problems::{Place, Severity};
use crate::study::{Subject, findings};
use egui::{self, Panel, RichText, ScrollArea, Sense, Ui};

/// What the list remembers.
#[derive(Debug, Default)]
pub(super) struct Checklist {
    open: Option<String>,
}

/// One line of the list.
struct Entry {
    is_error: bool,
    place: Place,
    title: String,
    sentence: String,
}

fn entries(view: &View<'_>) -> Vec<Entry> {
    let drawn = view.problems.iter().map(|problem| Entry {
        is_error: problem.severity == Severity::Error,
        place: problem.place,
        title: problem.title.clone(),
        sentence: problem.sentence.clone(),
    });
    let told = findings(view.project, view.results, view.units).into_iter().map(|finding| Entry {
        is_error: false,
        place: match finding.subject {
            Subject::Component(id) => Place::Component(id),
            Subject::Zone(id) => Place::Zone(id),
        },
        title: match finding.subject {
            Subject::Component(id) => view.project.components.get(&id).map_or("", |c| c.name.as_str()).to_owned(),
            Subject::Zone(id) => view.project.zones.get(&id).map_or("", |z| z.name.as_str()).to_owned(),
        },
        sentence: finding.sentence,
    });
    let told: Vec<Entry> = if view.is_stale() { Vec::new() } else { told.collect() };
    drawn.chain(told).collect()
}

/// Shows the list at the foot of the column.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let entries = entries(view);
    let most = (0.42 * ui.available_height()).max(90.0);
    Panel::bottom("checks").resizable(false).exact_size(if entries.is_empty() { 44.0 } else { most }).show(ui, |ui| {
        ui.add_space(STEP);
        let heading = match entries.len() {
            0 => "Nothing to look at".to_owned(),
            1 => "1 thing to look at".to_owned(),
            many => format!("{many} things to look at"),
        };
        ui.label(RichText::new(heading).font(look::strong(size::BODY)));
        ScrollArea::vertical().auto_shrink(false).show_rows(ui, 22.0, 1, |ui, _| {
            for entry in &entries {
                row(ui, view, entry, list, intents);
            }
        });
    });
}

fn row(ui: &mut Ui, view: &View<'_>, entry: &Entry, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let (mark, color) = if entry.is_error { ("▲", view.palette.starved) } else { ("●", view.palette.head_limit) };
    let text = format!("{} {}", entry.title, capital(&entry.sentence));
    let is_open = list.open.as_ref() == Some(&text);
    let response = ui
        .horizontal_top(|ui| {
            ui.label(RichText::new(mark).color(color));
            let words = RichText::new(format!("{}: {}", entry.title, entry.sentence)).size(size::SMALL);
            let label = egui::Label::new(words).sense(Sense::click());
            ui.add(if is_open { label.wrap() } else { label.truncate() })
        })
        .inner;
    let response = response.on_hover_cursor(egui::CursorIcon::PointingHand);
    if response.clicked() {
        list.open = Some(text);
        intents.push(Intent::GoTo(entry.place));
    }
}
