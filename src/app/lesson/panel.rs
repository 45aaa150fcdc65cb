//! The panel of a lesson: at the left the step's text, at the right what is to be done and what came of it. Its height is fixed and
//! what is longer is scrolled, so that nothing below jumps as texts change.

use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View};
use super::at_work::LessonAtWork;
use super::told::Told;
use super::{LessonIntent, task};
use egui::{self, Align, Button, Layout, Rect, RichText, ScrollArea, Sense, Ui, vec2};

/// Share of the window's height that the panel takes, and least and greatest height, points.
const SHARE: f32 = 0.215;
const HEIGHTS: std::ops::RangeInclusive<f32> = 150.0..=250.0;
/// Longest line of a text that is read easily, points.
const LINE: f32 = 720.0;

/// Height of the panel in a window of a height.
pub(in super::super) fn height(window: f32) -> f32 {
    (SHARE * window).clamp(*HEIGHTS.start(), *HEIGHTS.end())
}

/// Shows the panel in what room there is; `scale` enlarges its type.
pub(in super::super) fn panel(
    ui: &mut Ui,
    view: &View<'_>,
    lesson: &LessonAtWork,
    scale: f32,
    intents: &mut Vec<Intent>,
) {
    let told = lesson.told();
    heading(ui, view, lesson, scale, intents);
    ui.add_space(STEP);
    let whole = ui.available_rect_before_wrap();
    let gap = 5.0 * STEP;
    let left = (0.42 * whole.width()).min(LINE * scale);
    let (text, task) = whole.split_left_right_at_x(whole.left() + left);
    let task = task.with_min_x(task.left() + gap);
    let rule = egui::Stroke::new(1.0, view.palette.rule);
    ui.painter().vline(task.left() - 0.5 * gap, whole.y_range(), rule);
    let step = told.place[0];
    column(ui, text, ("lesson text", step), |ui| {
        ui.label(RichText::new(&told.title).font(look::strong(scale * size::LEAD)));
        for paragraph in told.text.lines() {
            ui.label(RichText::new(paragraph).font(look::font(scale * size::BODY)));
        }
    });
    column(ui, task, ("lesson task", step), |ui| {
        ui.set_max_width((1.1 * LINE * scale).min(task.width()));
        task::show(ui, view, lesson, scale, intents);
    });
    ui.allocate_rect(whole, Sense::hover());
}

/// One of the two columns, scrolled where it is longer than the panel.
fn column(ui: &mut Ui, rect: Rect, id: (&str, usize), add: impl FnOnce(&mut Ui)) {
    let builder = egui::UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::LEFT));
    ui.scope_builder(builder, |ui| {
        ScrollArea::vertical().id_salt(id).auto_shrink(false).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = STEP;
            add(ui);
        });
    });
}

/// Which lesson and which step; the ways on, back and out, which never move.
fn heading(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32, intents: &mut Vec<Intent>) {
    let told = lesson.told();
    ui.horizontal(|ui| {
        let font =
            |strong: bool| if strong { look::strong(scale * size::SMALL) } else { look::font(scale * size::SMALL) };
        ui.label(RichText::new(format!("Lesson: {}", lesson.title())).font(font(true)).color(view.palette.quiet));
        progress(ui, view, told, scale);
        let [step, of] = told.place;
        let score = if told.score.is_empty() { String::new() } else { format!(" · {}", told.score) };
        ui.label(RichText::new(format!("Step {step} of {of}{score}")).font(font(false)).color(view.palette.quiet));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let word = |word: &str| RichText::new(word).font(look::font(scale * size::BODY));
            let leave = ui.button(word("Leave lesson")).on_hover_text("Your own project comes back as it was");
            if leave.clicked() {
                intents.push(Intent::Lesson(LessonIntent::Leave));
            }
            ui.add_space(2.0 * STEP);
            next(ui, view, told, scale, intents);
            let back = ui.add_enabled(step > 1, Button::new(word("Step back")));
            if back.on_hover_text("The step before (Page Up)").clicked() {
                intents.push(Intent::Lesson(LessonIntent::Back));
            }
            let again = ui.button(word("Step anew")).on_hover_text("Begins this step again as it was set");
            if again.clicked() {
                intents.push(Intent::Lesson(LessonIntent::Again));
            }
        });
    });
}

fn next(ui: &mut Ui, view: &View<'_>, told: &Told, scale: f32, intents: &mut Vec<Intent>) {
    let (word, intent, hint) = if told.is_last {
        ("Next lesson…", LessonIntent::List, "The list of lessons (F4)")
    } else {
        ("Next step", LessonIntent::Next, "The next step (Page Down)")
    };
    let text = RichText::new(word).font(look::strong(scale * size::BODY));
    // What is to be done next stands out once it can be done.
    let button = if told.can_go_on {
        Button::new(text.color(view.palette.sheet)).fill(view.palette.accent)
    } else {
        Button::new(text)
    };
    let response = ui.add_enabled(told.can_go_on, button).on_hover_text(hint);
    let response = response.on_disabled_hover_text("First do what this step asks, at the right");
    if response.clicked() {
        intents.push(Intent::Lesson(intent));
    }
}

/// A square a step: those done are filled, the present one is framed.
fn progress(ui: &mut Ui, view: &View<'_>, told: &Told, scale: f32) {
    let [step, of] = told.place;
    let side = scale * 8.0;
    let (rect, _) = ui.allocate_exact_size(vec2(of as f32 * (side + 3.0), side + 4.0), Sense::hover());
    for index in 0..of {
        let at = rect.left_center() + vec2(index as f32 * (side + 3.0) + 0.5 * side, 0.0);
        let square = Rect::from_center_size(at, egui::Vec2::splat(side));
        let fill = if index + 1 < step { view.palette.accent } else { view.palette.raised };
        let edge = if index + 1 == step { (2.0, view.palette.accent) } else { (1.0, view.palette.rule) };
        ui.painter().rect(square, 2, fill, edge, egui::StrokeKind::Inside);
    }
}
