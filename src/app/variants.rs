//! Variants: settings pinned under a name, up to six, each with what it takes and does beside the present ones.

use super::look::{self, size};
use super::term_card;
use super::view::{Intent, View};
use super::year::{three, worst};
use crate::document::{Command, MOST_VARIANTS, Variant};
use crate::engine::units::Quantity;
use crate::study::part_load::Compared;
use crate::study::terms::Term;
use egui::{self, Button, Grid, Id, Key, Label, RichText, ScrollArea, TextEdit, Ui};

/// A name that is being typed, and the one that it takes the place of.
#[derive(Debug, Default)]
pub(super) struct VariantsState {
    typed: Option<(String, String)>,
}

/// What is done in one pass: a name that is typed and a button that is pressed may come together.
#[derive(Debug)]
struct Wanted {
    variants: Vec<Variant>,
    deleted: Option<usize>,
    swapped: Option<usize>,
}

/// Shows them.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut VariantsState, intents: &mut Vec<Intent>) {
    let Some(probed) = view.part_load.probed() else {
        ui.label(RichText::new(view.part_load.why_nothing()).color(view.palette.quiet));
        return;
    };
    let mut wanted = Wanted { variants: view.project.variants.clone(), deleted: None, swapped: None };
    let pinned = pin(ui, view);
    if view.part_load.is_old() {
        ui.set_opacity(look::OLD);
    }
    let all = probed.part_load.comparison(view.project);
    let Some(present) = all.first() else { return };
    ScrollArea::both().auto_shrink(false).show(ui, |ui| {
        Grid::new("variants").striped(true).spacing([10.0, 5.0]).show(ui, |ui| {
            for (word, term) in [
                ("Name", Some(Term::Variant)),
                ("", None),
                ("Limit · slope · cap", Some(Term::SetLine)),
                ("A year", Some(Term::YearEnergy)),
                ("Against now", Some(Term::Variant)),
                ("Worst over all scenarios", Some(Term::Margin)),
            ] {
                let label = ui.label(RichText::new(word).size(size::SMALL).color(view.palette.quiet));
                if let Some(term) = term {
                    term_card::word(ui, label.rect, &format!("variants {word}"), view, term);
                }
            }
            ui.end_row();
            ui.label(RichText::new(&present.name).font(look::strong(size::BODY)));
            ui.label("");
            figures(ui, view, (present, present));
            ui.end_row();
            for (index, variant) in view.project.variants.iter().enumerate() {
                name(ui, variant, index, state, &mut wanted);
                buttons(ui, view, index, &mut wanted);
                match all.iter().find(|compared| compared.variant == Some(index)) {
                    Some(compared) => figures(ui, view, (compared, present)),
                    None => of_another(ui, view, variant),
                }
                ui.end_row();
            }
        });
    });
    wanted.variants.extend(pinned);
    if let Some(index) = wanted.deleted {
        wanted.variants.remove(index);
    }
    if wanted.variants != view.project.variants {
        intents.push(Intent::Change(Command::SetVariants(wanted.variants)));
    }
    intents.extend(wanted.swapped.map(|index| Intent::Change(Command::SwapVariant(index))));
}

/// A button that pins the present settings; the variant that comes of it.
fn pin(ui: &mut Ui, view: &View<'_>) -> Option<Variant> {
    let (pump, unit) = (view.pump?, view.unit()?);
    let variants = &view.project.variants;
    let pressed = ui.horizontal(|ui| {
        let button = ui.add_enabled(variants.len() < MOST_VARIANTS, Button::new("Pin present settings"));
        let hint = "Keeps head limit, slope, speed cap and the rest under a name, saved with the project";
        let full = format!("There are {MOST_VARIANTS} already: delete one first");
        let pressed = button.on_hover_text(hint).on_disabled_hover_text(full).clicked();
        let words = "Their curves are dashed on the plot, their points squares on the map.";
        ui.add(Label::new(RichText::new(words).size(size::SMALL).color(view.palette.quiet)).truncate());
        pressed
    });
    let names = (variants.len() + 1..).map(|number| format!("Variant {number}"));
    let is_free = |name: &String| !variants.iter().any(|variant| variant.name == *name);
    let name = names.into_iter().find(is_free)?;
    pressed.inner.then_some(Variant { name, pump, regulation: unit.regulation })
}

/// What settings take in a year and do, beside the present ones.
fn figures(ui: &mut Ui, view: &View<'_>, (compared, present): (&Compared, &Compared)) {
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

/// A variant of a circulator that is not in hand.
fn of_another(ui: &mut Ui, view: &View<'_>, variant: &Variant) {
    ui.label(RichText::new(three(view, &variant.regulation)).color(view.palette.quiet));
    ui.label("");
    ui.label("");
    let pump = view.project.components.get(&variant.pump).map_or("", |component| component.name.as_str());
    ui.label(RichText::new(format!("of {pump}")).color(view.palette.quiet));
}

fn buttons(ui: &mut Ui, view: &View<'_>, index: usize, wanted: &mut Wanted) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        let hint = "Takes these settings, and keeps the present ones under this name";
        let is_of_pump = view.project.variants.get(index).is_some_and(|variant| Some(variant.pump) == view.pump);
        if ui.add_enabled(is_of_pump, Button::new("Swap").small()).on_hover_text(hint).clicked() {
            wanted.swapped = Some(index);
        }
        if ui.small_button("Delete").clicked() {
            wanted.deleted = Some(index);
        }
    });
}

/// The name, to be typed; taken when the field is left.
fn name(ui: &mut Ui, variant: &Variant, index: usize, state: &mut VariantsState, wanted: &mut Wanted) {
    let typed = state.typed.as_ref().filter(|(name, _)| *name == variant.name).map(|(_, text)| text.clone());
    let mut text = typed.unwrap_or_else(|| variant.name.clone());
    let edit = TextEdit::singleline(&mut text).id(Id::unique(("variant", index))).desired_width(104.0);
    let response = ui.add(edit).on_hover_text("The variant's name");
    if response.changed() {
        state.typed = Some((variant.name.clone(), text.clone()));
    }
    if response.lost_focus() {
        state.typed = None;
        let given_up = ui.input(|i| i.key_pressed(Key::Escape));
        if !given_up && let Some(variant) = wanted.variants.get_mut(index) {
            text.trim().clone_into(&mut variant.name);
        }
    }
}
