//! Notices: something the person must know, with what to do; it stays until taken away.

use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View, Work};
use egui::{self, Margin, RichText};

/// A notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in super::super) struct Notice {
    heading: String,
    text: String,
    is_problem: bool,
    /// It goes by itself after a while, and with the next change.
    passes: bool,
}

impl Notice {
    /// Something that went wrong.
    pub(in super::super) fn problem(heading: &str, text: &str) -> Self {
        Self { heading: heading.to_owned(), text: text.to_owned(), is_problem: true, passes: false }
    }

    /// Something typed that was not taken.
    pub(in super::super) fn rejected(text: &str) -> Self {
        Self { passes: true, ..Self::problem("This was not taken.", text) }
    }

    /// Whether it may go by itself.
    pub(in super::super) fn passes(&self) -> bool {
        self.passes
    }

    /// Something that went well.
    pub(in super::super) fn done(text: &str) -> Self {
        Self { heading: String::new(), text: text.to_owned(), is_problem: false, passes: true }
    }
}

/// Shows a notice over the panes, which keep their places; what went well goes by itself after a while.
pub(in super::super) fn notice(ctx: &egui::Context, view: &View<'_>, notice: &Notice, intents: &mut Vec<Intent>) {
    let color = if notice.is_problem { view.palette.starved } else { view.palette.served };
    let frame = egui::Frame::NONE
        .fill(look::between(view.palette.raised, color, 0.12))
        .stroke(egui::Stroke::new(1.0, color))
        .corner_radius(7)
        .shadow(ctx.global_style().visuals.popup_shadow)
        .inner_margin(Margin::symmetric(4 * STEP as i8, 3 * STEP as i8));
    // Over the lower part of the drawing, where it hides neither settings nor findings.
    let whole = ctx.content_rect();
    let width = (0.45 * whole.width()).clamp(200.0, 560.0);
    // Beside the shelf while drawing: a notice that goes must not leave a button under the hand.
    let left = if view.work == Work::Draw { 212.0 } else { 24.0 };
    let place = egui::Area::new(egui::Id::unique("notice"))
        .pivot(egui::Align2::LEFT_BOTTOM)
        .fixed_pos(whole.left_top() + egui::vec2(left, (0.7 * whole.height()).max(260.0)));
    place.order(egui::Order::Foreground).show(ctx, |ui| {
        frame.show(ui, |ui| {
            ui.set_max_width(width);
            if !notice.heading.is_empty() {
                ui.label(RichText::new(&notice.heading).font(look::strong(size::BODY)).color(color));
            }
            ui.label(&notice.text);
            if ui.button("Close").clicked() {
                intents.push(Intent::Dismiss);
            }
        });
    });
}
