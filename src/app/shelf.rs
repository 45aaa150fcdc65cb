//! The shelf: everything that can be put on the sheet. A click takes a component up, the next click puts it down; a drag does
//! both at once; by keyboard it goes into the selected pipe or the middle of the sheet.

use super::drawing::{DrawingState, symbols};
use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::document::ComponentChoice;
use egui::{self, Align2, Key, Rect, RichText, ScrollArea, Sense, StrokeKind, Ui, vec2};

const ROW: f32 = 30.0;

/// Shows the shelf.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, drawing: &mut DrawingState, intents: &mut Vec<Intent>) {
    ui.label(RichText::new("Components").font(look::strong(size::BODY)));
    let quiet = RichText::new("drag onto the sheet or a pipe").size(size::SMALL).color(view.palette.quiet);
    ui.add(egui::Label::new(quiet).truncate());
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let pressed_at = ui.input(|i| i.pointer.press_origin());
        let (mut begun, mut pressed) = (None, None);
        for choice in ComponentChoice::ALL {
            let response = row(ui, view, drawing, choice, intents);
            if response.drag_started() {
                begun = Some(choice);
            }
            if pressed_at.is_some_and(|pos| response.rect.contains(pos)) {
                pressed = Some(choice);
            }
        }
        // A quick hand has left the row where it pressed by the time the drag is noticed.
        if let Some(choice) = begun.and(pressed).or(begun) {
            drawing.editing.take_up(choice, true);
        }
        ui.add_space(2.0 * STEP);
        let mut snaps = drawing.editing.snaps();
        if ui.checkbox(&mut snaps, "On the grid").on_hover_text("Bring everything onto the grid (G)").changed() {
            drawing.editing.set_snap(snaps);
        }
    });
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    drawing: &mut DrawingState,
    choice: ComponentChoice,
    intents: &mut Vec<Intent>,
) -> egui::Response {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click_and_drag());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Place {}", choice.word())));
    let held = drawing.editing.taken_up() == Some(choice);
    if held || response.hovered() || response.has_focus() {
        let fill =
            if held { look::between(view.palette.raised, view.palette.accent, 0.2) } else { view.palette.raised };
        let edge = if response.has_focus() { view.palette.accent } else { view.palette.rule };
        ui.painter().rect(rect, 5, fill, egui::Stroke::new(1.0, edge), StrokeKind::Inside);
    }
    let square = Rect::from_min_size(rect.min + vec2(2.0, 2.0), vec2(ROW - 4.0, ROW - 4.0));
    symbols::icon(ui.painter(), view, square, &choice.with_usual_figures(view.project), view.palette.ink);
    let at = rect.left_center() + vec2(ROW + 4.0, 0.0);
    let room = rect.right() - at.x - 2.0;
    let galley = ui.painter().layout(choice.word().to_owned(), look::font(size::SMALL), view.palette.ink, room);
    let at = Align2::LEFT_CENTER.anchor_size(at, galley.size()).min;
    ui.painter().galley(at, galley, view.palette.ink);
    let entered = response.has_focus() && ui.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
    if entered {
        intents.extend(drawing.put_in_the_middle(view, choice));
        // The keys go on with what was placed: arrows nudge it.
        response.surrender_focus();
    } else if response.clicked() {
        drawing.editing.take_up(choice, false);
    }
    response
}
