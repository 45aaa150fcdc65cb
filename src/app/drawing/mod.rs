//! The drawing: the system, live. Pipe weight follows flow, arrows show its direction, each zone has a card; the wheel zooms
//! about the pointer. While tuning, a click on a valve shuts or opens it and a drag moves the sheet; while drawing, the hand
//! does what [`editing`] says.

mod camera;
mod cards;
pub(super) mod editing;
mod extent;
mod flowing;
mod lit;
mod marks;
mod pipes;
pub(super) mod symbols;
mod valves;

use super::look::{self, size};
use super::view::{Intent, View, Work};
use crate::document::ComponentChoice;
use crate::problems::{Check, Severity};
use camera::Camera;
use editing::Editing;
use egui::{self, Id, RichText, Sense, Ui};
pub(super) use flowing::Flowing;
pub(super) use marks::mark_of;

/// How many findings are shown at once.
const MOST_FINDINGS: usize = 3;

/// What the drawing pane remembers between passes.
#[derive(Debug, Default)]
pub(super) struct DrawingState {
    camera: Option<Camera>,
    /// Whether the person has moved the camera; until then the drawing follows the pane's size.
    moved: bool,
    /// The middle of the pane on the screen.
    middle: egui::Pos2,
    /// Where something to be brought into sight lies, grid steps.
    wanted: Option<[f64; 2]>,
    /// Drawing with the hand.
    pub(super) editing: Editing,
}

impl DrawingState {
    /// Shows the whole drawing from the next pass on.
    pub(super) fn fit_again(&mut self) {
        self.camera = None;
        self.moved = false;
    }

    /// Brings a place into sight from the next pass on.
    pub(super) fn bring(&mut self, place: [f64; 2]) {
        self.wanted = Some(place);
    }

    /// Puts a component into the middle of what is shown, or into the selected pipe.
    pub(super) fn put_in_the_middle(&self, view: &View<'_>, choice: ComponentChoice) -> Option<Intent> {
        let middle = self.camera?.place(self.middle);
        Some(Intent::Change(editing::by_keyboard(view, choice, middle, &self.editing)))
    }

    /// Keeps the sheet where it is, though the drawing grows.
    pub(super) fn hold(&mut self) {
        self.moved = true;
    }
}

/// Size of a grid step at which something can be looked at, and from which on it need not come nearer, points.
const LOOKED_AT: f32 = 14.0;
const LEGIBLE: f32 = 8.0;

/// Shows the drawing.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut DrawingState, intents: &mut Vec<Intent>) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Unknown, true, "Drawing of the system"));
    if !ui.is_rect_visible(rect) {
        return;
    }
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 8, view.palette.sheet);
    let mut camera = match state.camera {
        Some(camera) if state.moved => camera,
        _ => Camera::fit(extent::extent(view), rect),
    };
    if let Some(place) = state.wanted.take() {
        // What can be seen well already stays where it is.
        let is_seen = rect.shrink(40.0).contains(camera.at(place)) && camera.zoom >= LEGIBLE;
        if !is_seen {
            camera.zoom_about(rect.center(), (LOOKED_AT / camera.zoom).max(1.0), 0.0);
            camera.bring(place, rect.center());
            state.moved = true;
        }
    }
    let draws = view.work == Work::Draw;
    // While presenting the other button writes on what is shown.
    let drags = response.dragged() && !(view.presents && response.dragged_by(egui::PointerButton::Secondary));
    if drags && (!draws || state.editing.is_panning()) {
        camera.offset += response.drag_delta();
        state.moved = true;
    }
    if let Some(pointer) = response.hover_pos() {
        let zoom = ui.input(|i| i.zoom_delta() * (i.smooth_scroll_delta().y * 0.002).exp());
        if zoom != 1.0 {
            camera.zoom_about(pointer, zoom, Camera::fit(extent::extent(view), rect).zoom);
            state.moved = true;
        }
    }
    if response.double_clicked() && !draws {
        intents.push(Intent::FitDrawing);
    }
    if draws && state.editing.is_busy() {
        // What the hand holds must not slip because the drawing grows under it.
        state.moved = true;
    }
    state.camera = Some(camera);
    state.middle = rect.center();

    if draws {
        editing::paint_under(&painter, view, &camera, &state.editing);
    }
    lit::paint(&painter, view, &camera);
    pipes::paint(&painter, view, &camera);
    symbols::paint(&painter, view, &camera);
    cards::show(ui, &painter, view, &camera, intents);
    if !view.presents {
        marks::paint(&painter, view, &camera);
    }
    if draws {
        editing::walk(ui, rect, view, &camera, intents);
        editing::interact(ui, &response, view, &camera, &mut state.editing, intents);
        editing::paint_over(ui, &painter, view, &camera, &state.editing);
        facts(&response, view, &camera, &state.editing);
    } else {
        valves::interact(ui, rect, view, &camera, intents);
        if view.presents {
            return;
        }
        findings(ui, view, rect, intents);
    }
    hints(ui, view, rect, state.moved, intents);
}

/// Shows a drawing to be looked at only: whole, and as it was.
pub(super) fn picture(ui: &mut Ui, view: &View<'_>) {
    let (rect, _) = ui.allocate_exact_size(ui.available_size(), Sense::hover());
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 8, view.palette.sheet);
    let camera = Camera::fit(extent::extent(view), rect);
    pipes::paint(&painter, view, &camera);
    symbols::paint(&painter, view, &camera);
    cards::paint(&painter, view, &camera);
}

/// What the component under the pointer is and does, while the hand is free.
fn facts(response: &egui::Response, view: &View<'_>, camera: &Camera, editing: &Editing) {
    let over = response.hover_pos().filter(|_| !editing.is_busy());
    if let Some(id) = over.and_then(|pos| editing::component_at(view, camera, pos)) {
        response.clone().on_hover_text_at_pointer(valves::facts(view, id, None));
    }
}

/// What a person must know, in the sheet's upper corner while tuning.
fn findings(ui: &Ui, view: &View<'_>, rect: egui::Rect, intents: &mut Vec<Intent>) {
    let found: Vec<&Check> = view.checks.iter().filter(|check| check.severity != Severity::Note).collect();
    let shown = found.len().min(MOST_FINDINGS);
    let mut top = rect.top() + 8.0;
    for (i, check) in found.iter().take(shown).enumerate() {
        let more = found.len() - shown;
        let rest = if i + 1 == shown && more > 0 { format!(" (and {more} more)") } else { String::new() };
        let told = format!("{}: {}", check.title, check.text());
        let text = format!("▲ {told}{rest}");
        let room = rect.width() - 36.0;
        let galley = ui.painter().layout(text, look::strong(size::SMALL), view.palette.starved, room);
        let size = galley.size();
        let ground = egui::Rect::from_min_size(egui::pos2(rect.left() + 10.0, top), size + egui::vec2(16.0, 8.0));
        ui.painter().rect_filled(ground, 5, look::between(view.palette.raised, view.palette.starved, 0.12));
        ui.painter().galley(ground.min + egui::vec2(8.0, 4.0), galley, view.palette.starved);
        let response = ui.interact(ground, id_of("finding", i as u32), Sense::click());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &told));
        if response.clicked() {
            intents.push(Intent::GoTo(check.place));
        }
        top = ground.bottom() + 4.0;
    }
}

/// A way back to the whole drawing once it has been moved.
fn hints(ui: &mut Ui, view: &View<'_>, rect: egui::Rect, moved: bool, intents: &mut Vec<Intent>) {
    if moved {
        let corner =
            egui::Rect::from_min_size(rect.right_bottom() + egui::vec2(-120.0, -36.0), egui::vec2(110.0, 26.0));
        let button = egui::Button::new(RichText::new("Whole drawing").size(size::SMALL));
        if ui.put(corner, button).clicked() {
            intents.push(Intent::FitDrawing);
        }
    }
    let words = if view.work == Work::Draw {
        "drag from a port to join · drag a pipe aside · right button moves the sheet · arrows nudge, R turns, J joins two"
    } else {
        "click a valve to shut or open it · wheel zooms · drag moves"
    };
    let room = rect.width() - if moved { 150.0 } else { 24.0 };
    let mut job = egui::text::LayoutJob::simple_singleline(words.to_owned(), look::font(10.5), view.palette.quiet);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room);
    let galley = ui.painter().layout_job(job);
    let at = rect.left_bottom() + egui::vec2(12.0, -8.0 - galley.size().y);
    ui.painter().galley(at, galley, view.palette.quiet);
}

/// Identity of a thing on the drawing for the toolkit.
fn id_of(kind: &str, number: u32) -> Id {
    Id::unique(("on the drawing", kind, number))
}
