//! Variants: settings pinned under a name, up to six, each with what it takes and does beside the present ones.

use super::look::{self, size};
use super::view::{Intent, View};
use super::year::{three, worst};
use crate::document::{Command, MOST_VARIANTS, Variant};
use crate::engine::units::Quantity;
use crate::study::part_load::Compared;
use egui::{self, Button, Grid, Label, RichText, ScrollArea, TextEdit, Ui};

/// A name that is being typed.
#[derive(Debug, Default)]
pub(super) struct VariantsState {
    typed: Option<(usize, String)>,
}

/// Shows them.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut VariantsState, intents: &mut Vec<Intent>) {
    let Some(probed) = view.part_load.probed() else {
        ui.label(RichText::new(view.part_load.why_nothing()).color(view.palette.quiet));
        return;
    };
    pin(ui, view, intents);
    if view.part_load.is_old() {
        ui.set_opacity(0.45);
    }
    let all = probed.part_load.comparison(view.project);
    let Some(present) = all.first() else { return };
    ScrollArea::both().auto_shrink(false).show(ui, |ui| {
        Grid::new("variants").striped(true).spacing([10.0, 5.0]).show(ui, |ui| {
            for word in ["Name", "", "Limit · slope · cap", "A year", "Against now", "Worst over all scenarios"] {
                ui.label(RichText::new(word).size(size::SMALL).color(view.palette.quiet));
            }
            ui.end_row();
            let pinned = all.iter().filter(|compared| compared.variant.is_some());
            for compared in std::iter::once(present).chain(pinned) {
                row(ui, view, state, (compared, present), intents);
                ui.end_row();
            }
        });
    });
}

/// A button that pins the present settings.
fn pin(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let (Some(pump), Some(unit)) = (view.pump, view.unit()) else { return };
    let variants = &view.project.variants;
    ui.horizontal(|ui| {
        let is_full = variants.len() >= MOST_VARIANTS;
        let button = ui.add_enabled(!is_full, Button::new("Pin present settings"));
        let button = button
            .on_hover_text("Keeps head limit, slope, speed cap and the rest under a name, saved with the project");
        let full = format!("There are {MOST_VARIANTS} already: delete one first");
        if button.on_disabled_hover_text(full).clicked() {
            let names = (variants.len() + 1..).map(|number| format!("Variant {number}"));
            let is_free = |name: &String| !variants.iter().any(|variant| variant.name == *name);
            let name = names.into_iter().find(is_free).unwrap_or_default();
            let mut wanted = variants.clone();
            wanted.push(Variant { name, pump, regulation: unit.regulation });
            intents.push(Intent::Change(Command::SetVariants(wanted)));
        }
        let words = "Their curves are dashed on the plot, their points squares on the map.";
        ui.add(Label::new(RichText::new(words).size(size::SMALL).color(view.palette.quiet)).truncate());
    });
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    state: &mut VariantsState,
    (compared, present): (&Compared, &Compared),
    intents: &mut Vec<Intent>,
) {
    match compared.variant {
        None => {
            ui.label(RichText::new(&compared.name).font(look::strong(size::BODY)));
        }
        Some(index) => name(ui, view, state, index, intents),
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        let Some(index) = compared.variant else { return };
        let hint = "Takes these settings, and keeps the present ones under this name";
        if ui.small_button("Swap").on_hover_text(hint).clicked() {
            intents.push(Intent::Change(Command::SwapVariant(index)));
        }
        if ui.small_button("Delete").clicked() {
            let mut wanted = view.project.variants.clone();
            wanted.remove(index);
            intents.push(Intent::Change(Command::SetVariants(wanted)));
        }
    });
    ui.label(three(view, &compared.settings));
    let has_hours = present.year.hours > 0.0;
    let amount = |of: &Compared| if has_hours { of.year.total_j() } else { of.mean_w };
    let quantity = if has_hours { Quantity::Energy } else { Quantity::Power };
    ui.label(view.units.format(quantity, amount(compared)));
    if compared.variant.is_some() {
        let by = amount(compared) - amount(present);
        let share = by / amount(present).max(f64::MIN_POSITIVE);
        let sign = if by < 0.0 { "−" } else { "+" };
        let color = if share > 0.005 { view.palette.starved } else { view.palette.served };
        let words = match 100.0 * share.abs() {
            percent if percent < 0.5 => "the same".to_owned(),
            percent => format!("{sign}{percent:.0} %"),
        };
        let amount = format!("{sign}{}", view.units.format(quantity, by.abs()));
        ui.label(RichText::new(words).color(color)).on_hover_text(amount);
    } else {
        ui.label("");
    }
    let (words, color) = worst(view, compared);
    ui.label(RichText::new(words).color(color));
}

/// The name, to be typed; taken when the field is left.
fn name(ui: &mut Ui, view: &View<'_>, state: &mut VariantsState, index: usize, intents: &mut Vec<Intent>) {
    let Some(variant) = view.project.variants.get(index) else { return };
    let typed = state.typed.as_ref().filter(|(at, _)| *at == index).map(|(_, text)| text.clone());
    let mut text = typed.unwrap_or_else(|| variant.name.clone());
    let edit = TextEdit::singleline(&mut text).id(egui::Id::unique(("variant", index))).desired_width(104.0);
    let response = ui.add(edit).on_hover_text("The variant's name");
    if response.changed() {
        state.typed = Some((index, text.clone()));
    }
    if response.lost_focus() {
        state.typed = None;
        let text = text.trim();
        let given_up = ui.input(|i| i.key_pressed(egui::Key::Escape));
        if !given_up && text != variant.name {
            let mut wanted = view.project.variants.clone();
            text.clone_into(&mut wanted[index].name);
            intents.push(Intent::Change(Command::SetVariants(wanted)));
        }
    }
}
