//! The sentence: what governs now and what the last change did, made from the present numbers.

use super::super::desk::Standing;
use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View, Work};
use super::first_run::first_run;
use crate::document::ComponentId;
use crate::engine::units::Quantity;
use crate::study::{governing_at, verdict_sentence, zones_outside};
use egui::{self, Label, Margin, Rect, RichText, Ui};

/// Shows the sentence in two lines of fixed height, so that nothing below jumps as words change. Returns where it stands.
pub(in super::super) fn sentence(ui: &mut Ui, view: &View<'_>, last_change: &str, intents: &mut Vec<Intent>) -> Rect {
    let frame = egui::Frame::NONE.fill(view.palette.raised).inner_margin(Margin::symmetric(3 * STEP as i8, STEP as i8));
    let panel = egui::Panel::top("sentence").resizable(false).exact_size(50.0).frame(frame);
    let shown = panel.show(ui, |ui| {
        if view.is_stale() {
            standing(ui, view, intents);
            return;
        }
        let (first, is_warning) = first_line(view);
        let color = if is_warning { view.palette.starved } else { view.palette.ink };
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.spacing_mut().interact_size.y = 0.0;
        let how = format!(
            "Solved in {} steps. Balances are off by at most {:.0e} of the flow and {:.0e} of the pump's pressure.",
            view.results.iterations, view.results.mass_error, view.results.energy_error
        );
        ui.horizontal(|ui| {
            let outside = zones_outside(view.results);
            if !outside.is_empty() {
                let text = RichText::new(outside).font(look::strong(size::LEAD)).color(view.palette.starved);
                ui.label(text).on_hover_text(&view.project.acceptance.source);
            }
            let first = Label::new(RichText::new(first).font(look::strong(size::LEAD)).color(color)).truncate();
            ui.add(first).on_hover_text(how);
        });
        if view.first_run {
            first_run(ui, view, intents);
            return;
        }
        let second = if last_change.is_empty() && view.work == Work::Draw {
            "Drag components from the shelf onto the sheet or onto a pipe; drag from port to port to join them."
        } else if last_change.is_empty() {
            "Drag the head limit, the slope or the speed cap on the plot; click a valve on the drawing to shut it."
        } else {
            last_change
        };
        ui.add(Label::new(RichText::new(second).color(view.palette.quiet)).truncate());
    });
    shown.response.rect
}

/// Why the results are old, and what can be done.
fn standing(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let strong = |text: String| RichText::new(text).font(look::strong(size::LEAD)).color(view.palette.starved);
    match view.standing {
        Standing::Current => {}
        Standing::Failed(why) => {
            ui.add(Label::new(strong(format!("This drawing cannot be solved: {why}"))).truncate());
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

fn first_line(view: &View<'_>) -> (String, bool) {
    if view.hides_governing() {
        return ("The lesson asks first; what governs stands here once it is answered.".to_owned(), false);
    }
    let Some(pump) = view.pump_result() else {
        return ("There is no circulator in this project: nothing flows.".to_owned(), true);
    };
    let verdict = verdict_sentence(view.results, pump);
    if !verdict.is_empty() {
        return (verdict, true);
    }
    if !pump.running {
        return (others_running(view), false);
    }
    let ranges = view.curves().map_or(&[][..], |curves| &curves.ranges);
    (governing_at(pump, ranges, view.units), false)
}

/// What to say while the chosen pump is off: who runs instead.
fn others_running(view: &View<'_>) -> String {
    let name = |id: &ComponentId| view.project.components.get(id).map_or("", |c| c.name.as_str());
    let here = view.pump.as_ref().map_or("", |id| name(id));
    let running = view.results.pumps.iter().filter(|(_, pump)| pump.running).map(|(id, pump)| {
        let (flow, head) = (view.units.format(Quantity::Flow, pump.flow), view.units.format(Quantity::Head, pump.head));
        format!("{} delivers {flow} at {head}", name(id))
    });
    let running: Vec<String> = running.collect();
    if running.is_empty() {
        format!("{here} is off: nothing flows.")
    } else {
        format!("{here} is off; {}.", running.join(", "))
    }
}
