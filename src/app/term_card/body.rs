//! What a card holds: name, text, formula, the present figures in it, symbols, source.

use super::super::look::{self, STEP, size};
use super::super::view::View;
use crate::study::terms::{Card, Formula, Symbol};
use egui::text::{LayoutJob, TextFormat};
use egui::{self, Align, Color32, Frame, Label, Margin, RichText, Ui};

/// Size of an index below the line, as a share of the letter's.
const INDEX: f32 = 0.74;

/// Width of the column of symbols, points.
const SIGNS: f32 = 50.0;

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, card: &Card, hint: &str) {
    let (palette, entry) = (&view.palette, card.entry);
    ui.set_max_width(super::WIDTH);
    ui.spacing_mut().item_spacing.y = STEP;
    ui.spacing_mut().interact_size.y = 0.0;
    ui.label(RichText::new(entry.name).font(look::strong(size::LEAD)).color(palette.ink));
    ui.add(Label::new(RichText::new(entry.text).color(palette.ink)).wrap());
    match entry.formula {
        Formula::Is(lines) => {
            let frame = Frame::NONE.fill(palette.ground).corner_radius(4).inner_margin(Margin::symmetric(8, 5));
            frame.show(ui, |ui| {
                ui.set_min_width(super::WIDTH - 16.0);
                ui.spacing_mut().item_spacing.y = 3.0;
                for line in lines.lines() {
                    ui.add(Label::new(set(line, size::LEAD - 0.5, palette.ink)).wrap());
                }
                if let Some(here) = &card.here {
                    let words = format!("Here: {}", here.words);
                    ui.add(
                        Label::new(RichText::new(words).color(palette.accent).font(look::strong(size::BODY))).wrap(),
                    );
                }
            });
        }
        Formula::None(why) => {
            ui.add(Label::new(RichText::new(why).color(palette.quiet)).wrap());
            if let Some(here) = &card.here {
                let words = format!("Here: {}", here.words);
                ui.add(Label::new(RichText::new(words).color(palette.accent).font(look::strong(size::BODY))).wrap());
            }
        }
    }
    symbols(ui, view, entry.symbols);
    let source = match card.source_here.as_str() {
        "" => format!("Source: {}", entry.source),
        here => format!("Source: {} In this project: {here}.", entry.source),
    };
    ui.add(Label::new(RichText::new(source).size(size::SMALL).color(palette.quiet)).wrap());
    if !hint.is_empty() {
        ui.separator();
        ui.add(Label::new(RichText::new(hint).color(palette.ink)).wrap());
    }
}

fn symbols(ui: &mut Ui, view: &View<'_>, symbols: &[Symbol]) {
    let palette = &view.palette;
    for symbol in symbols {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = STEP;
            let galley = ui.painter().layout_job(set(symbol.sign, size::SMALL + 1.0, palette.ink));
            let (rect, _) = ui.allocate_exact_size(egui::vec2(SIGNS, galley.size().y), egui::Sense::hover());
            ui.painter().galley(rect.min, galley, palette.ink);
            let words = RichText::new(symbol.words(view.units)).size(size::SMALL).color(palette.quiet);
            ui.add(Label::new(words).wrap());
        });
    }
}

/// A formula with its indices below the line: `H_lim` as H with a small lim.
fn set(formula: &str, size: f32, color: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    let format =
        |size: f32, valign: Align| TextFormat { font_id: look::font(size), color, valign, ..Default::default() };
    let mut rest = formula;
    while let Some((before, after)) = rest.split_once('_') {
        job.append(before, 0.0, format(size, Align::Center));
        let end = after.find(|c: char| !c.is_alphanumeric() || "²³′".contains(c)).unwrap_or(after.len());
        job.append(&after[..end], 0.0, format(INDEX * size, Align::BOTTOM));
        rest = &after[end..];
    }
    job.append(rest, 0.0, format(size, Align::Center));
    job
}
