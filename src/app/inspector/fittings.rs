//! The fittings of a pipe: what and how many, each with its loss coefficient on the pipe's bore and the publication it is from.

use super::figures::BORE;
use super::form::{Form, ROW, in_sight};
use super::number::{Measure, Number};
use crate::document::{Fitting, PipeFigures};
use crate::engine::links::fittings::FittingKind;
use crate::engine::units::Quantity;
use egui::{self, Button, TextWrapMode};

/// Most fittings of a kind that can be typed.
const MOST: f64 = 1000.0;
/// The larger bore that a change of section begins with, over that of the pipe.
const USUAL_LARGER: f64 = 1.25;
/// Width of the number of fittings.
const COUNT: f32 = 46.0;

/// Shows them; the figures of the pipe with others, if they were changed.
pub(super) fn show(form: &mut Form<'_, '_>, figures: &PipeFigures) -> Option<PipeFigures> {
    let mut wanted: Option<Vec<Fitting>> = None;
    for (index, fitting) in figures.fittings.iter().enumerate() {
        form.group(&format!("fitting {index}"), |form| {
            if let Some(change) = one(form, fitting, figures.bore) {
                let mut all = figures.fittings.clone();
                match change {
                    Some(fitting) => all[index] = fitting,
                    None => drop(all.remove(index)),
                }
                wanted = Some(all);
            }
        });
    }
    if let Some(kind) = add(form, figures.bore) {
        let mut all = figures.fittings.clone();
        match all.iter_mut().find(|fitting| fitting.kind == kind) {
            Some(fitting) => fitting.count = fitting.count.saturating_add(1),
            None => all.push(Fitting::new(kind, 1)),
        }
        wanted = Some(all);
    }
    if let Some(k) = figures.fittings.iter().map(|fitting| fitting.k(figures.bore).ok()).sum::<Option<f64>>()
        && !figures.fittings.is_empty()
    {
        form.fact("K of the fittings", "Sum over all fittings.", &Measure::Pure(2).format(form.view.units, k));
    }
    wanted.map(|fittings| PipeFigures { fittings, ..figures.clone() })
}

/// One kind of fitting; what it becomes, or `None` inside for one that goes.
fn one(form: &mut Form<'_, '_>, fitting: &Fitting, bore: f64) -> Option<Option<Fitting>> {
    let name = fitting.kind.to_string();
    let resized = larger(form, fitting);
    let changed = form.row(&name, &fitting.source.to_string(), |form, named| {
        let mut wanted = None;
        let value = f64::from(fitting.count);
        let measure = Measure::Pure(0);
        let count = Number { name: &name, measure, value, range: (1.0, MOST), drags: false, with_unit: true };
        if let Some(count) = count.show(form, named, COUNT) {
            wanted = Some(Some(Fitting { count: count.round() as u32, ..*fitting }));
        }
        form.ui.spacing_mut().button_padding.x = 6.0;
        if let Some(source) = source(form, fitting, bore) {
            wanted = Some(Some(Fitting { source, ..*fitting }));
        }
        let remove = in_sight(form.ui.add(Button::new("−").min_size(egui::vec2(24.0, ROW))));
        let words = format!("Take {name} away");
        remove.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &words));
        if remove.on_hover_text(&words).clicked() {
            wanted = Some(None);
        }
        wanted
    });
    changed.or(resized.map(Some))
}

/// A button with the coefficient of one of them, and a menu of what each publication has.
fn source(form: &mut Form<'_, '_>, fitting: &Fitting, bore: f64) -> Option<crate::engine::links::fittings::KSource> {
    let each = fitting.k_each(bore);
    let words = each.as_ref().map_or_else(|_| "K –".to_owned(), |k| format!("K {k:.2}"));
    let why = match &each {
        Ok(_) => format!("Of one, by {}; choose another publication here.", fitting.source),
        Err(why) => why.to_string(),
    };
    let mut chosen = None;
    let button = form.ui.menu_button(words, |ui| {
        for found in fitting.kind.k_by_source(bore) {
            let words = format!("K {:.2} · {}", found.k, found.source);
            if ui
                .add(Button::selectable(found.source == fitting.source, words).wrap_mode(TextWrapMode::Extend))
                .clicked()
            {
                chosen = Some(found.source);
            }
        }
    });
    in_sight(button.response).on_hover_text(why);
    chosen
}

/// The changes of section to or from a larger bore in m.
fn of_two_bores(large_bore_m: f64) -> [FittingKind; 4] {
    [
        FittingKind::SuddenEnlargement { large_bore_m },
        FittingKind::SuddenContraction { large_bore_m },
        FittingKind::TaperedIncreaser { large_bore_m },
        FittingKind::TaperedReducer { large_bore_m },
    ]
}

/// The larger bore of a change of section, to be typed; the fitting with another.
fn larger(form: &mut Form<'_, '_>, fitting: &Fitting) -> Option<Fitting> {
    let large = fitting.kind.large_bore_m()?;
    let hint = "Bore of the larger pipe.";
    let bore = form.number("Larger bore", hint, Measure::Of(Quantity::Bore), large, BORE)?;
    let same = |kind: &FittingKind| std::mem::discriminant(kind) == std::mem::discriminant(&fitting.kind);
    of_two_bores(bore).into_iter().find(same).map(|kind| Fitting { kind, ..*fitting })
}

/// A button with a menu of all fittings.
fn add(form: &mut Form<'_, '_>, bore: f64) -> Option<FittingKind> {
    let mut chosen = None;
    let button = form.ui.menu_button("Add a fitting", |ui| {
        egui::ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
            for kind in FittingKind::OF_ONE_BORE {
                let k = Fitting::new(kind, 1).k_each(bore);
                let words = k.as_ref().map_or_else(|_| kind.to_string(), |k| format!("{kind} · K {k:.2}"));
                if ui.add_enabled(k.is_ok(), Button::new(words).wrap_mode(TextWrapMode::Extend)).clicked() {
                    chosen = Some(kind);
                    ui.close();
                }
            }
            for kind in of_two_bores(USUAL_LARGER * bore) {
                if ui.add(Button::new(kind.to_string()).wrap_mode(TextWrapMode::Extend)).clicked() {
                    chosen = Some(kind);
                    ui.close();
                }
            }
        });
    });
    in_sight(button.response).on_hover_text("Fittings of this bore with the loss coefficient of one");
    chosen
}
