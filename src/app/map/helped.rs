//! What came of what was asked beside the map: how robust the best setting is, what would help, presettings.

use super::super::look::{self, STEP, size};
use super::super::part_load::{Found, Helped};
use super::super::view::{Intent, View};
use super::super::year::three;
use super::amounts;
use super::offered::quiet;
use crate::engine::units::Quantity;
use crate::study::settings::{Preset, Remedy, Robustness, miss_words};
use egui::{self, Label, RichText, Ui};

/// Height of the first lines of an answer, points.
const FIRST_LINES: f32 = 120.0;

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, is_seen: &mut bool, intents: &mut Vec<Intent>) {
    let searches = &view.part_load.searches;
    let (Some(helped), Some(found)) = (searches.helped(), searches.found()) else {
        *is_seen = false;
        return;
    };
    ui.add_space(STEP);
    let line = ui.separator();
    // The first lines of an answer that has just come are brought into sight, and the buttons stay there if they can.
    if !std::mem::replace(is_seen, true) {
        let lines = line.rect.with_max_y(line.rect.bottom() + FIRST_LINES);
        ui.scroll_to_rect(lines, None);
    }
    match helped {
        Err(why) => {
            ui.add(Label::new(RichText::new(why).color(view.palette.starved)).wrap());
        }
        Ok(Helped::Robustness(robustness)) => robust(ui, view, found, robustness, intents),
        Ok(Helped::Remedies(remedies)) => remedied(ui, view, found, remedies),
        Ok(Helped::Presettings(Ok(preset))) => presettings(ui, view, found, preset, intents),
        Ok(Helped::Presettings(Err(_))) => {
            ui.add(
                Label::new("No presetting of the balancing valves was found with which a setting serves every zone.")
                    .wrap(),
            );
        }
    }
}

fn heading(ui: &mut Ui, words: &str) {
    ui.label(RichText::new(words).font(look::strong(size::BODY)));
}

fn robust(ui: &mut Ui, view: &View<'_>, found: &Found, robustness: &Robustness, intents: &mut Vec<Intent>) {
    heading(ui, "How robust it is");
    let count = robustness.cases.len();
    if count == 0 {
        quiet(ui, view, "Nothing is given to be off: lengths, roughness, glycol and valves stand at zero in Draw.");
        return;
    }
    let missed: Vec<_> = robustness.cases.iter().filter_map(|case| Some((&case.name, case.miss?))).collect();
    ui.add(
        Label::new(format!("It serves in {} of {count} systems that are not just as drawn.", count - missed.len()))
            .wrap(),
    );
    match &robustness.still {
        Some((part, best)) => {
            let words = if *part >= 1.0 {
                "This one serves in all of them:".to_owned()
            } else {
                let part = view.units.format(Quantity::Share, *part);
                format!("None serves in all of them; with {part} of the deviations this one does:")
            };
            let costs = amounts::whole(view, &found.part_load, best.mean_w);
            ui.add(Label::new(format!("{words} {}, for {costs}.", three(view, &best.settings))).wrap());
            if ui.button("Use the robust one").clicked()
                && let Some(pump) = view.pump
            {
                intents.push(Intent::Change(crate::document::Command::SetRegulation(pump, best.settings)));
            }
        }
        None => {
            ui.add(
                Label::new("Not even with a quarter of the deviations does one setting serve in all of them.").wrap(),
            );
        }
    }
    for (name, (miss, share)) in missed {
        let words = miss_words(view.project, &found.part_load, &miss, view.units);
        let share = share.map_or_else(String::new, |share| format!(" ({})", view.units.format(Quantity::Share, share)));
        quiet(ui, view, &format!("{name}: {words}{share}"));
    }
    quiet(
        ui,
        view,
        "How far lengths, roughness, glycol and valves may be off is set in Draw, with the project's figures.",
    );
}

fn remedied(ui: &mut Ui, view: &View<'_>, found: &Found, remedies: &[Remedy]) {
    heading(ui, "What would move the limit");
    if remedies.is_empty() {
        quiet(ui, view, "Nothing was found that can be tried on this drawing.");
    }
    for remedy in remedies {
        let gain = match (&remedy.best, remedy.saves_w) {
            (Ok(_), Some(saves_w)) => {
                let amount = amounts::difference(view, &found.part_load, saves_w);
                if saves_w >= 0.0 { format!("saves {amount}") } else { format!("takes {amount} more") }
            }
            (Ok(_), None) => "every zone is served then".to_owned(),
            (Err(_), _) => "no setting serves then".to_owned(),
        };
        let settings =
            remedy.best.as_ref().map_or_else(|_| String::new(), |best| format!(": {}", three(view, &best.settings)));
        let good = remedy.best.is_ok() && remedy.saves_w.is_none_or(|saves_w| saves_w > 0.0);
        let color = if good { view.palette.served } else { view.palette.quiet };
        ui.add(Label::new(super::super::frame::capital(&remedy.words)).wrap());
        ui.add(
            Label::new(RichText::new(format!("{gain}{settings}")).font(look::strong(size::SMALL)).color(color)).wrap(),
        );
        ui.add_space(2.0);
    }
}

fn presettings(ui: &mut Ui, view: &View<'_>, found: &Found, preset: &Preset, intents: &mut Vec<Intent>) {
    heading(ui, "With other presettings");
    if preset.valves.is_empty() {
        ui.add(Label::new("No other presetting was found that is better than the present one.").wrap());
        return;
    }
    ui.add(Label::new(three(view, &preset.best.settings)).wrap());
    if let Ok(best) = &found.best {
        let saves_w = best.mean_w - preset.best.mean_w;
        let amount = amounts::difference(view, &found.part_load, saves_w);
        ui.add(Label::new(format!("Saves {amount} against the best setting with the present ones.")).wrap());
    }
    for (id, kv) in &preset.valves {
        let name = view.project.components.get(id).map_or("", |component| component.name.as_str());
        quiet(ui, view, &format!("{name}: {}", view.units.format(Quantity::FlowCoefficient, *kv)));
    }
    if ui.button("Use settings and presettings").clicked() {
        intents.push(Intent::ChangeAll(preset.commands(&found.part_load)));
    }
}
