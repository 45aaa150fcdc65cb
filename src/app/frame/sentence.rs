//! The sentence: what governs now and what the last change did, made from the present numbers.

use super::super::desk::Standing;
use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View, Work};
use super::first_run::first_run;
use crate::document::ComponentId;
use crate::engine::units::Units;
use crate::study::{Situation, situation};
use egui::{self, FontId, Id, Label, Margin, Rect, RichText, Ui};
use std::sync::Arc;

/// Shows the sentence in two lines of fixed height, so that nothing below jumps as words change. Returns where it stands.
pub(in super::super) fn sentence(ui: &mut Ui, view: &View<'_>, last_change: &str, intents: &mut Vec<Intent>) -> Rect {
    let frame = egui::Frame::NONE.fill(view.palette.raised).inner_margin(Margin::symmetric(3 * STEP as i8, STEP as i8));
    let panel = egui::Panel::top("sentence").resizable(false).exact_size(50.0).frame(frame);
    let shown = panel.show(ui, |ui| {
        if view.is_stale() {
            standing(ui, view, intents);
            return;
        }
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.spacing_mut().interact_size.y = 0.0;
        let at = match view.hides_governing() {
            true => Arc::new(Situation { now: ASKED.to_owned(), ..Situation::default() }),
            false => present(ui, view),
        };
        first_line(ui, view, &at);
        if view.first_run {
            first_run(ui, view, intents);
            return;
        }
        second_line(ui, view, &at, last_change);
    });
    shown.response.rect
}

/// What stands there while a lesson asks what governs.
const ASKED: &str = "The lesson asks first; what governs stands here once it is answered.";

/// The situation, kept while nothing changes that it is made from.
fn present(ui: &Ui, view: &View<'_>) -> Arc<Situation> {
    type Kept = ((u64, Option<ComponentId>, Option<usize>, Units), Arc<Situation>);
    let key = (view.revision, view.pump, view.scenario, *view.units);
    let id = Id::unique("situation");
    if let Some((kept, at)) = ui.data(|data| data.get_temp::<Kept>(id))
        && kept == key
    {
        return at;
    }
    let scenario = view.scenario.and_then(|index| view.project.scenarios.get(index));
    let scenario = scenario.map(|scenario| scenario.name.as_str());
    let at = Arc::new(situation(view.project, view.study, view.pump, scenario, view.units));
    ui.data_mut(|data| data.insert_temp::<Kept>(id, (key, Arc::clone(&at))));
    at
}

/// What is wrong, and what happens and why.
fn first_line(ui: &mut Ui, view: &View<'_>, at: &Situation) {
    let how = format!(
        "{}\n\nSolved in {} steps. Balances are off by at most {:.0e} of the flow and {:.0e} of the pump's pressure.",
        [at.wrong.as_str(), &at.now, &at.more].join(" ").trim(),
        view.results.iterations,
        view.results.mass_error,
        view.results.energy_error
    );
    ui.horizontal(|ui| {
        if !at.wrong.is_empty() {
            let text = RichText::new(&at.wrong).font(look::strong(size::LEAD)).color(view.palette.starved);
            ui.label(text).on_hover_text(&view.project.acceptance.source);
        }
        let color = if at.is_grave { view.palette.starved } else { view.palette.ink };
        // In the fullest words that fit.
        let font = look::strong(size::LEAD);
        let mut ways = std::iter::once(&at.now).chain(&at.shorter);
        let fits = ways.find(|words| width(ui, words, &font) <= ui.available_width());
        let words = fits.or(at.shorter.last()).unwrap_or(&at.now);
        let now = Label::new(RichText::new(words).font(look::strong(size::LEAD)).color(color)).truncate();
        ui.add(now).on_hover_text(how);
    });
}

/// What the last change did, and after it, where there is room, what would help. What nobody may miss comes first.
fn second_line(ui: &mut Ui, view: &View<'_>, at: &Situation, last_change: &str) {
    let hint = if view.work == Work::Draw {
        "Drag components from the shelf onto the sheet or onto a pipe; drag from port to port to join them."
    } else {
        "Drag the head limit, the slope or the speed cap on the plot; click a valve on the drawing to shut it."
    };
    let (quiet, ink) = (view.palette.quiet, view.palette.ink);
    let change = (last_change, ink);
    let more = (at.more.as_str(), quiet);
    let parts = match last_change.is_empty() {
        true if at.is_grave => [(more.0, ink), ("", quiet)],
        true => [more, (hint, quiet)],
        false if at.is_grave => [(more.0, ink), change],
        false => [change, more],
    };
    let parts: Vec<_> = parts.into_iter().filter(|(text, _)| !text.is_empty()).collect();
    let font = look::font(size::BODY);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        for (index, (text, color)) in parts.iter().enumerate() {
            // What does not fit beside the first is left out rather than cut.
            if index > 0 && width(ui, text, &font) > ui.available_width() {
                continue;
            }
            ui.add(Label::new(RichText::new(*text).color(*color)).truncate()).on_hover_text(*text);
        }
    });
}

/// Between what stands in one line.
const GAP: f32 = 18.0;

fn width(ui: &Ui, text: &str, font: &FontId) -> f32 {
    ui.painter().layout_no_wrap(text.to_owned(), font.clone(), egui::Color32::BLACK).size().x
}

/// Why the results are old, and what can be done.
fn standing(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let strong = |text: String| RichText::new(text).font(look::strong(size::LEAD)).color(view.palette.starved);
    match view.standing {
        Standing::Current => {}
        Standing::Failed(why) => {
            let words = format!("This drawing cannot be solved: {why}");
            ui.add(Label::new(strong(words.clone())).truncate()).on_hover_text(words);
            ui.label("What is greyed is of the last drawing that could. Draw on, or undo the last change.");
        }
        Standing::Working(seconds) => {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label(strong(format!("Solving, for {seconds:.1} s.")));
                if ui.small_button("Cancel").clicked() {
                    intents.push(Intent::GiveUp);
                }
            });
            ui.label("What is greyed is of the drawing before. Draw on meanwhile.");
        }
        Standing::GivenUp => {
            ui.horizontal(|ui| {
                ui.label(strong("This drawing has not been solved.".to_owned()));
                if ui.small_button("Solve it").clicked() {
                    intents.push(Intent::StudyAgain);
                }
            });
            ui.label("What is greyed is of the drawing before.");
        }
    }
}
