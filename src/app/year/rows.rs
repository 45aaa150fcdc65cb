//! Tables of the year: its scenarios, and other settings beside the present ones.

use super::super::look::{self, size};
use super::super::part_load::Present;
use super::super::term_card;
use super::super::view::View;
use super::{costs, three, worst};
use crate::engine::units::Quantity;
use crate::study::limit_name;
use crate::study::part_load::{Compared, PartLoad};
use crate::study::terms::Term;
use egui::{self, Align2, Color32, Rect, Sense, Ui, vec2};

/// Height of a row, points.
const ROW: f32 = 24.0;

/// A row under way: texts at places of its own.
struct Row<'u> {
    ui: &'u mut Ui,
    rect: Rect,
}

impl<'u> Row<'u> {
    fn new(ui: &'u mut Ui, ground: Option<Color32>) -> Self {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
        if let Some(ground) = ground {
            ui.painter().rect_filled(rect.expand2(vec2(4.0, 0.0)), 3, ground);
        }
        Self { ui, rect }
    }

    /// Words between two edges, cut where they do not fit.
    fn words(&self, (left, right): (f32, f32), text: &str, strong: bool, color: Color32) {
        let font = if strong { look::strong(size::SMALL + 1.0) } else { look::font(size::SMALL + 1.0) };
        let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, color);
        job.wrap = egui::text::TextWrapping::truncate_at_width((right - left).max(10.0));
        let galley = self.ui.painter().layout_job(job);
        let y = self.rect.center().y - 0.5 * galley.size().y;
        self.ui.painter().galley(egui::pos2(left, y), galley, color);
    }

    /// A figure that ends at an edge.
    fn figure(&self, right: f32, text: &str, color: Color32) -> Rect {
        let at = egui::pos2(right, self.rect.center().y);
        self.ui.painter().text(at, Align2::RIGHT_CENTER, text, look::font(size::SMALL + 1.0), color)
    }

    /// Tells a screen reader what stands in the row.
    fn told(self, id: (&str, usize), words: String) {
        let response = self.ui.interact(self.rect, egui::Id::unique(id), Sense::hover());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
        response.on_hover_text(words);
    }
}

/// What the present settings take in each scenario.
pub(super) fn scenarios(ui: &mut Ui, view: &View<'_>, part_load: &PartLoad, present: &Present) {
    ui.spacing_mut().item_spacing.y = 0.0;
    let quiet = view.palette.quiet;
    let width = ui.available_width();
    // Right edges of the figures; governing words between, where there is room.
    let has_words = width > 800.0;
    let edges = |left: f32| {
        let right = left + width;
        let bar = right - 0.12 * width;
        let energy = bar - 8.0;
        let power = energy - 78.0;
        let speed = power - 62.0;
        let head = speed - 54.0;
        let flow = head - 64.0;
        let words = if has_words { flow - 88.0 } else { flow };
        let hours = if has_words { words - 84.0 } else { flow - 92.0 };
        [hours, words, flow, head, speed, power, energy, bar, right]
    };
    let row = Row::new(ui, None);
    let left = row.rect.left();
    let at = edges(left);
    row.words((left, at[0] - 46.0), "Scenario", false, quiet);
    for (edge, word, term) in [
        (at[0], "hours", Term::Scenario),
        (at[2], "flow", Term::Flow),
        (at[3], "head", Term::Head),
        (at[4], "speed", Term::Speed),
        (at[5], "power", Term::ElectricPower),
        (at[6], "energy", Term::YearEnergy),
    ] {
        let rect = row.figure(edge, word, quiet);
        term_card::word(row.ui, rect, &format!("year {word}"), view, term);
    }
    let whole = present.year.energy_j.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    let here = view.scenario;
    for (state, (point, energy_j)) in present.year.points.iter().zip(&present.year.energy_j).enumerate() {
        let ground = (here == Some(state) && !view.project.scenarios.is_empty()).then_some(view.palette.raised);
        let row = Row::new(ui, ground);
        let ink = view.palette.ink;
        let name = part_load.state_name(state);
        let hours = format!("{:.0}", part_load.tables[state].state.hours);
        let texts = [
            view.units.format(Quantity::Flow, point.flow),
            view.units.format(Quantity::Head, point.head),
            view.units.format(Quantity::Speed, point.speed),
            view.units.format(Quantity::Power, point.electric_w + point.others_w),
            view.units.format(Quantity::Energy, *energy_j),
        ];
        row.words((left, at[0] - 46.0), name, false, ink);
        row.figure(at[0], &hours, ink);
        if has_words {
            row.words((at[0] + 10.0, at[2] - 64.0), limit_name(point.governing), false, quiet);
        }
        texts.iter().zip(&at[2..7]).for_each(|(text, edge)| _ = row.figure(*edge, text, ink));
        let share = (energy_j / whole).clamp(0.0, 1.0) as f32;
        let bar = Rect::from_min_max(
            egui::pos2(at[7], row.rect.top() + 6.0),
            egui::pos2(at[7] + share * (at[8] - at[7]), row.rect.bottom() - 6.0),
        );
        row.ui.painter().rect_filled(bar, 2, look::between(view.palette.ground, view.palette.accent, 0.6));
        row.told(("year", state), format!("{name}: {hours} h, {}; {}", texts.join(", "), limit_name(point.governing)));
    }
    ui.add_space(6.0);
}

/// Other settings beside the present ones: what they take, how that differs, and the worst that they do.
pub(super) fn comparison(ui: &mut Ui, view: &View<'_>, all: &[Compared]) {
    ui.spacing_mut().item_spacing.y = 0.0;
    let Some(present) = all.first() else { return };
    let width = ui.available_width();
    let has_hours = present.year.hours > 0.0;
    let amount = |compared: &Compared| if has_hours { compared.year.total_j() } else { compared.mean_w };
    let quantity = if has_hours { Quantity::Energy } else { Quantity::Power };
    for (index, compared) in all.iter().enumerate() {
        let row = Row::new(ui, None);
        let left = row.rect.left();
        let at = [0.23, 0.52, 0.6, 0.7].map(|share| left + share * width);
        let ink = view.palette.ink;
        row.words((left, at[0] - 6.0), &compared.name, index == 0, ink);
        row.words((at[0], at[1] - 62.0), &three(view, &compared.settings), false, view.palette.quiet);
        let energy = view.units.format(quantity, amount(compared));
        row.figure(at[1], &energy, ink);
        let by = amount(compared) / amount(present).max(f64::MIN_POSITIVE) - 1.0;
        let by = if index == 0 { String::new() } else { format!("{:+.0} %", 100.0 * by).replace('-', "−") };
        row.figure(at[2], &by, if by.starts_with('+') { view.palette.starved } else { view.palette.served });
        let parts: Vec<String> = costs(&view.project.energy, compared.year.total_j()).into_iter().flatten().collect();
        let costs = if has_hours { parts.join(" · ") } else { String::new() };
        let (worst, color) = worst(view, compared);
        let words = if costs.is_empty() { at[2] + 12.0 } else { at[3] + 60.0 };
        row.words((at[2] + 12.0, words - 6.0), &costs, false, view.palette.quiet);
        row.words((words, left + width), &worst, false, color);
        let told = format!("{}, {}: {energy} {by} {costs}; {worst}", compared.name, three(view, &compared.settings));
        row.told(("beside", index), told);
    }
}
