//! A list to pick from: rows of figures in columns, each row one thing to click.

use super::super::look::Palette;
use super::super::look::{self, size};
use egui::{self, Align2, Response, Sense, Ui};

/// Height of a row.
const ROW: f32 = 23.0;

/// A list with its headings; figures stand at the right edge of their columns, the first column at its left.
pub(super) struct Picks<'p> {
    /// Heading and width of each column.
    pub(super) columns: &'p [(&'p str, f32)],
    /// Cells by row.
    pub(super) rows: &'p [Vec<String>],
    /// The row that holds now.
    pub(super) present: Option<usize>,
}

impl Picks<'_> {
    /// Shows it; the row that was clicked.
    pub(super) fn show(&self, ui: &mut Ui, palette: &Palette) -> Option<usize> {
        let width: f32 = self.columns.iter().map(|(_, width)| width).sum::<f32>() + 16.0;
        ui.set_min_width(width);
        ui.spacing_mut().item_spacing.y = 0.0;
        let headings: Vec<&str> = self.columns.iter().map(|(heading, _)| *heading).collect();
        let (rect, _) = ui.allocate_exact_size(egui::vec2(width, ROW), Sense::hover());
        self.cells(ui, rect, &headings, look::font(size::SMALL), palette.quiet);
        let mut clicked = None;
        egui::ScrollArea::vertical().max_height(15.0 * ROW).show(ui, |ui| {
            for (index, cells) in self.rows.iter().enumerate() {
                let (rect, response) = ui.allocate_exact_size(egui::vec2(width, ROW), Sense::click());
                let is_present = self.present == Some(index);
                self.mark(ui, rect, &response, is_present, palette);
                let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
                let font = if is_present { look::strong(size::BODY) } else { look::font(size::BODY) };
                self.cells(ui, rect, &cells, font, palette.ink);
                let words = self.told(&cells);
                response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, is_present, &words));
                if response.clicked() {
                    clicked = Some(index);
                }
            }
        });
        clicked
    }

    fn mark(&self, ui: &Ui, rect: egui::Rect, response: &Response, is_present: bool, palette: &Palette) {
        if is_present {
            ui.painter().rect_filled(rect, 4, ui.visuals().selection.bg_fill);
        } else if response.hovered() || response.has_focus() {
            ui.painter().rect_filled(rect, 4, palette.rule.gamma_multiply(0.6));
        }
    }

    fn cells(&self, ui: &Ui, rect: egui::Rect, cells: &[&str], font: egui::FontId, color: egui::Color32) {
        let mut x = rect.left() + 8.0;
        for (index, (cell, (_, width))) in cells.iter().zip(self.columns).enumerate() {
            let (at, align) = if index == 0 { (x, Align2::LEFT_CENTER) } else { (x + width, Align2::RIGHT_CENTER) };
            ui.painter().text(egui::pos2(at, rect.center().y), align, cell, font.clone(), color);
            x += width;
        }
    }

    /// A row in words: the first cell, then each figure with its heading.
    fn told(&self, cells: &[&str]) -> String {
        let figures = cells.iter().zip(self.columns).skip(1).map(|(cell, (heading, _))| format!(", {heading} {cell}"));
        cells.first().map_or_else(String::new, |first| (*first).to_owned()) + &figures.collect::<String>()
    }
}
