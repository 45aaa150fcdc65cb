//! The panel of a lesson: at the left the step's text, at the right what is to be done and what came of it. Its height is fixed and
//! what is longer is scrolled, so that nothing below jumps as texts change.

use super::super::look::{self, STEP, size};
use super::super::view::{Intent, View};
use super::at_work::LessonAtWork;
use super::told::Told;
use super::{LessonIntent, task};
use egui::{self, Align, Button, Layout, Rect, RichText, ScrollArea, Sense, Ui, vec2};

/// Share of the window's height that the panel takes where there is room, and least and greatest height, points.
const SHARE: f32 = 0.25;
const HEIGHTS: std::ops::RangeInclusive<f32> = 150.0..=250.0;
/// Height of a window that has room for no more than the least, and what of more height goes to the panel.
const LOW: f32 = 680.0;
const OF_MORE: f32 = 0.42;
/// How much larger the type is once more where the panel is presented, to be read from afar.
const PRESENTED: f32 = 1.12;
/// Longest line of a text that is read easily, points.
const LINE: f32 = 720.0;

/// Height of the panel in a window of a height.
pub(in super::super) fn height(window: f32) -> f32 {
    (SHARE * window).min(HEIGHTS.start() + OF_MORE * (window - LOW)).clamp(*HEIGHTS.start(), *HEIGHTS.end())
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
    let scale = if view.presents { PRESENTED * scale } else { scale };
    heading(ui, view, lesson, scale, intents);
    ui.add_space(STEP);
    let whole = ui.available_rect_before_wrap();
    let gap = 5.0 * STEP;
    let left = (0.46 * whole.width()).min(LINE * scale);
    let (text, task) = whole.split_left_right_at_x(whole.left() + left);
    let task = task.with_min_x(task.left() + gap);
    let rule = egui::Stroke::new(1.0, view.palette.rule);
    ui.painter().vline(task.left() - 0.5 * gap, whole.y_range(), rule);
    let is_new = is_new(ui, lesson);
    column(ui, text, "lesson text", is_new, |ui| {
        ui.label(RichText::new(&told.title).font(look::strong(scale * size::LEAD)));
        for paragraph in told.text.lines() {
            ui.label(RichText::new(paragraph).font(look::font(scale * size::BODY)));
        }
        task::readings(ui, view, lesson, scale);
        task::aside(ui, view, lesson, scale);
        if view.presents {
            let keys = "Page Down: next step. Page Up: step back. Digits: answers.";
            let keys = RichText::new(keys).font(look::font(scale * size::SMALL));
            ui.label(keys.color(view.palette.quiet));
        }
    });
    column(ui, task, "lesson task", is_new, |ui| {
        ui.set_max_width((1.1 * LINE * scale).min(task.width()));
        task::show(ui, view, lesson, scale, intents);
    });
    ui.allocate_rect(whole, Sense::hover());
}

/// Whether a step is shown for the first time since it was begun.
fn is_new(ui: &Ui, lesson: &LessonAtWork) -> bool {
    let known = egui::Id::unique("lesson step shown");
    let step = (lesson.title().to_owned(), lesson.begun());
    ui.data_mut(|data| {
        let is_new = data.get_temp::<(String, usize)>(known).as_ref() != Some(&step);
        data.insert_temp(known, step);
        is_new
    })
}

/// One of the two columns, scrolled where it is longer than the panel; a new step is read from its top.
fn column(ui: &mut Ui, rect: Rect, id: &str, is_new: bool, add: impl FnOnce(&mut Ui)) {
    let builder = egui::UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::LEFT));
    ui.scope_builder(builder, |ui| {
        let area = ScrollArea::vertical().id_salt(id).auto_shrink(false);
        let area = if is_new { area.vertical_scroll_offset(0.0) } else { area };
        area.show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = STEP;
            add(ui);
        });
    });
}

/// Which lesson and which step; the ways on, back and out, which never move.
fn heading(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32, intents: &mut Vec<Intent>) {
    let told = lesson.told();
    let row = ui.available_width();
    ui.horizontal(|ui| {
        // From the right, so that the words at the left have what is left over.
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ways(ui, view, told, scale, intents);
            let left = vec2(ui.available_width().min(row), ui.available_height());
            ui.allocate_ui_with_layout(left, Layout::left_to_right(Align::Center), |ui| {
                where_it_is(ui, view, lesson, scale);
            });
        });
    });
}

/// Which lesson, which step of how many, and what it has come to so far.
fn where_it_is(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32) {
    let told = lesson.told();
    let quiet = view.palette.quiet;
    let title = RichText::new(format!("Lesson: {}", lesson.title())).font(look::strong(scale * size::SMALL));
    let [step, of] = told.place;
    let score = if told.score.is_empty() { String::new() } else { format!(" · {}", told.score) };
    let place = RichText::new(format!("Step {step} of {of}{score}")).font(look::font(scale * size::SMALL)).color(quiet);
    let rest = scale * (told.place[1] as f32 * 11.0 + 170.0);
    let room = (ui.available_width() - rest).max(40.0);
    ui.scope(|ui| {
        ui.set_max_width(room);
        ui.add(egui::Label::new(title.color(quiet)).truncate());
    });
    progress(ui, view, told, scale);
    ui.add(egui::Label::new(place).truncate());
}

/// The ways on, back, out and round.
fn ways(ui: &mut Ui, view: &View<'_>, told: &Told, scale: f32, intents: &mut Vec<Intent>) {
    let word = |word: &str| RichText::new(word).font(look::font(scale * size::BODY));
    let mut way = |ui: &mut Ui, name: &str, enabled: bool, hint: &str, intent: LessonIntent| {
        if ui.add_enabled(enabled, Button::new(word(name))).on_hover_text(hint).clicked() {
            intents.push(Intent::Lesson(intent));
        }
    };
    way(ui, "Leave lesson", true, "Your own project comes back as it was", LessonIntent::Leave);
    ui.add_space(2.0 * STEP);
    let on = next(ui, view, told, scale);
    way(ui, "Step back", told.place[0] > 1, "The step before (Page Up)", LessonIntent::Back);
    way(ui, "Again", true, "Begins this step again as it was set", LessonIntent::Again);
    way(ui, "Show me", told.is_open, "Shows one way and lets you go on; it scores nothing", LessonIntent::Show);
    if told.has_another {
        way(ui, "Another one", true, "Chance puts this step anew", LessonIntent::Another);
    }
    intents.extend(on.map(Intent::Lesson));
}

/// The way on, which stands out once it is open.
fn next(ui: &mut Ui, view: &View<'_>, told: &Told, scale: f32) -> Option<LessonIntent> {
    let (word, intent, hint) = if told.is_last {
        ("Next lesson…", LessonIntent::List, "The list of lessons (F4)")
    } else {
        ("Next step", LessonIntent::Next, "The next step (Page Down)")
    };
    let text = RichText::new(word).font(look::strong(scale * size::BODY));
    let button = if told.can_go_on {
        Button::new(text.color(view.palette.sheet)).fill(view.palette.accent)
    } else {
        Button::new(text)
    };
    // Of one width with either word, so that what stands beside it does not move.
    let button = button.min_size(vec2(scale * 112.0, 0.0));
    let response = ui.add_enabled(told.can_go_on, button).on_hover_text(hint);
    let response = response.on_disabled_hover_text("First do what this step asks, at the right");
    response.clicked().then_some(intent)
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
