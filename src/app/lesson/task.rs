//! What a step asks, painted: goals, answers, a point, a share, a device's readings; then what came of it and why.

use super::super::frame;
use super::super::look::{self, STEP, size};
use super::super::typed::Typed;
use super::super::view::{Intent, View};
use super::LessonIntent;
use super::at_work::LessonAtWork;
use super::told::{AnswerTold, Mark, ReadingsTold, TaskTold, Told};
use crate::engine::units::Quantity;
use crate::lesson::Aim;
use egui::{self, Button, Color32, Grid, Key, Rect, RichText, Sense, Stroke, StrokeKind, Ui, vec2};

/// The keys that choose answers.
const DIGITS: [Key; 9] =
    [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];

/// The most share of its design flow that can be foretold.
const MOST_SHARE: f64 = 4.0;

/// Width from which on short answers stand in pairs, points.
const PAIRED: f32 = 480.0;

/// Shows what the present step asks.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32, intents: &mut Vec<Intent>) {
    let pen = Pen { view, scale };
    let told = lesson.told();
    if !told.question.is_empty() {
        ui.label(pen.strong(&told.question));
    }
    match &told.task {
        TaskTold::Read => pen.quiet(ui, "Look at what is ringed, then go on (Page Down)."),
        TaskTold::Goals(aims, hint) => {
            aims.iter().for_each(|aim| pen.aim(ui, aim));
            if told.is_open && !hint.is_empty() {
                pen.quiet(ui, hint);
            }
        }
        TaskTold::Question(readings, answers) => {
            // Suspects are short: two beside each other, so that all are in sight.
            let columns = if readings.is_some() && ui.available_width() > PAIRED * scale { 2 } else { 1 };
            pen.answers(ui, answers, columns, told.is_open, intents);
        }
        TaskTold::Point if told.is_open => {
            pen.quiet(ui, "Press on the plot where you expect it, or move the square with the arrow keys.");
            let hint = "Enter, while the square has the keys";
            if ui.button(pen.strong("Take this point")).on_hover_text(hint).clicked() {
                intents.push(Intent::Lesson(LessonIntent::TakeGuess));
            }
        }
        TaskTold::Share(zone) if told.is_open => pen.share(ui, zone, lesson.share(), intents),
        TaskTold::Point | TaskTold::Share(_) => {}
    }
    if !is_aside(told) {
        pen.feedback(ui, told);
    }
}

/// Shows what is said of a wrong answer where another may be given: beside the answers, which so stay where they are.
pub(super) fn aside(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32) {
    if is_aside(lesson.told()) {
        Pen { view, scale }.feedback(ui, lesson.told());
    }
}

/// Whether what is said stands beside the answers: they are still to be chosen from.
fn is_aside(told: &Told) -> bool {
    told.is_open && told.feedback.is_some() && matches!(told.task, TaskTold::Question(..))
}

/// Shows what a device reads, where the step has it.
pub(super) fn readings(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, scale: f32) {
    if let TaskTold::Question(Some(readings), _) = &lesson.told().task {
        Pen { view, scale }.readings(ui, readings);
    }
}

/// Writes in the panel's type.
struct Pen<'a> {
    view: &'a View<'a>,
    scale: f32,
}

impl Pen<'_> {
    fn strong(&self, words: &str) -> RichText {
        RichText::new(words).font(look::strong(self.scale * size::BODY))
    }

    fn plain(&self, words: &str) -> RichText {
        RichText::new(words).font(look::font(self.scale * size::BODY))
    }

    fn quiet(&self, ui: &mut Ui, words: &str) {
        ui.label(self.plain(words).color(self.view.palette.quiet));
    }

    /// How it came out, and why.
    fn feedback(&self, ui: &mut Ui, told: &Told) {
        let known = egui::Id::unique(("lesson feedback seen", told.place[0]));
        let Some(feedback) = &told.feedback else {
            ui.data_mut(|data| data.remove::<String>(known));
            return;
        };
        let palette = &self.view.palette;
        let color = if feedback.right { palette.served } else { palette.starved };
        let told = ui.vertical(|ui| {
            ui.label(self.strong(&feedback.words).color(color));
            for paragraph in feedback.because.lines() {
                ui.label(self.plain(paragraph));
            }
        });
        // What is new comes into sight, once; afterwards the reader scrolls as he likes. Numbers that follow the hand are not new.
        let whole =
            if feedback.right { feedback.words.clone() } else { format!("{} {}", feedback.words, feedback.because) };
        if ui.data(|data| data.get_temp::<String>(known)).as_ref() != Some(&whole) {
            told.response.scroll_to_me(None);
            ui.data_mut(|data| data.insert_temp(known, whole));
        }
    }

    /// A goal: a box that is ticked once it is reached; beside it what is still missing.
    fn aim(&self, ui: &mut Ui, aim: &Aim) {
        let palette = &self.view.palette;
        let side = self.scale * 14.0;
        let room = ui.available_width() - side - 3.0 * STEP;
        let lay = |words: &str, strong: bool, color: Color32| {
            let size = self.scale * size::BODY;
            let font = if strong { look::strong(size) } else { look::font(size) };
            ui.painter().layout(words.to_owned(), font, color, room)
        };
        let words = lay(&aim.words, true, palette.ink);
        let missing = lay(&aim.missing, false, palette.starved);
        let below = if aim.missing.is_empty() { 0.0 } else { missing.size().y };
        let height = words.size().y + below + 4.0;
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
        let told = if aim.reached { "reached" } else { "not yet" };
        response.widget_info(|| {
            egui::WidgetInfo::labeled(egui::Role::Label, true, format!("{} {told}. {}", aim.words, aim.missing))
        });
        let first = words.size().y;
        let place = Rect::from_center_size(
            rect.left_top() + vec2(0.5 * side, 0.5 * first + 2.0),
            egui::Vec2::splat(side - 1.0),
        );
        let color = if aim.reached { palette.served } else { palette.quiet };
        let fill = if aim.reached { color } else { palette.raised };
        ui.painter().rect(place, 3, fill, Stroke::new(1.5, color), StrokeKind::Inside);
        if aim.reached {
            let at = |x: f32, y: f32| place.lerp_inside(vec2(x, y));
            let tick = vec![at(0.22, 0.52), at(0.43, 0.74), at(0.8, 0.28)];
            ui.painter().add(egui::Shape::line(tick, Stroke::new(2.0, palette.sheet)));
        }
        let at = rect.left_top() + vec2(side + 2.0 * STEP, 2.0);
        ui.painter().galley(at, words, palette.ink);
        if below > 0.0 {
            ui.painter().galley(at + vec2(0.0, first), missing, palette.starved);
        }
    }

    fn answers(&self, ui: &mut Ui, answers: &[AnswerTold], columns: usize, open: bool, intents: &mut Vec<Intent>) {
        let mut chosen = None;
        // Once the truth is out, only what is to be said of the answers is left to be read.
        let told: Vec<usize> = (0..answers.len()).filter(|index| open || answers[*index].mark.is_some()).collect();
        for row in told.chunks(columns) {
            ui.columns(columns, |cells| {
                for (cell, index) in cells.iter_mut().zip(row) {
                    if self.answer(cell, *index, &answers[*index], open).clicked() {
                        chosen = Some(*index);
                    }
                }
            });
        }
        let taken = ui.ctx().text_edit_focused() || frame::is_covered(ui.ctx());
        let digit = |index: &usize| !taken && DIGITS.get(*index).is_some_and(|key| ui.input(|i| i.key_pressed(*key)));
        let chosen = chosen.or_else(|| (0..answers.len()).find(digit));
        if let Some(index) = chosen.filter(|_| open) {
            intents.push(Intent::Lesson(LessonIntent::Choose(index)));
        }
    }

    /// An answer with its number, which is its key; once the truth is out with what is to be said of it.
    fn answer(&self, ui: &mut Ui, index: usize, answer: &AnswerTold, open: bool) -> egui::Response {
        let palette = &self.view.palette;
        let (color, mark) = match answer.mark {
            Some(Mark::Right) => (palette.served, "right"),
            Some(Mark::Wrong) => (palette.starved, "not this"),
            Some(Mark::Missed) => (palette.served, "this one"),
            None => (palette.rule, ""),
        };
        let body = look::font(self.scale * size::BODY);
        let mark_words = ui.painter().layout_no_wrap(mark.to_owned(), look::strong(self.scale * size::SMALL), color);
        let left = self.scale * 26.0;
        let room = ui.available_width() - left - mark_words.size().x - 5.0 * STEP;
        let is_faint = !open && answer.mark.is_none();
        let ink = if is_faint { palette.quiet } else { palette.ink };
        let words = ui.painter().layout(answer.text.clone(), body.clone(), ink, room);
        let height = words.size().y + 8.0;
        let sense = if open { Sense::click() } else { Sense::hover() };
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), sense);
        response.widget_info(|| {
            let label = format!("Answer {}: {} {mark}", index + 1, answer.text);
            egui::WidgetInfo::labeled(egui::Role::Button, open, label.trim_end())
        });
        let near = open && (response.hovered() || response.has_focus());
        let edge = if near { palette.accent } else { color };
        let width = if answer.mark.is_some() || response.has_focus() { 2.0 } else { 1.0 };
        let fill = if open { palette.raised } else { look::between(palette.ground, palette.raised, 0.4) };
        ui.painter().rect(rect, 5, fill, Stroke::new(width, edge), StrokeKind::Inside);
        let number = (index + 1).to_string();
        let middle = rect.left_center() + vec2(0.5 * left, 0.0);
        ui.painter().text(middle, egui::Align2::CENTER_CENTER, number, body, palette.quiet);
        ui.painter().galley(rect.left_top() + vec2(left, 4.0), words, ink);
        let at = rect.right_center() - vec2(mark_words.size().x + 2.0 * STEP, 0.5 * mark_words.size().y);
        ui.painter().galley(at, mark_words, color);
        response
    }

    fn share(&self, ui: &mut Ui, zone: &str, share: f64, intents: &mut Vec<Intent>) {
        ui.horizontal_wrapped(|ui| {
            let label = ui.label(self.plain(&format!("Share of its design flow that {zone} gets")));
            let mut value = share;
            let shown = self.view.units.format(Quantity::Share, share);
            let typed = Typed::new(self.view.units, Quantity::Share, share, shown, (0.0, MOST_SHARE));
            let field = ui.add(typed.field(&mut value).speed(0.01)).labelled_by(label.id);
            intents.extend(typed.complaint("Share").map(Intent::Reject));
            if field.changed() && value != share {
                intents.push(Intent::Lesson(LessonIntent::MoveShare(value)));
            }
            if ui.add(Button::new(self.strong("Take this share"))).clicked() {
                intents.push(Intent::Lesson(LessonIntent::TakeGuess));
            }
        });
    }

    /// What the device reads beside what the drawing gives at the same settings and valves.
    fn readings(&self, ui: &mut Ui, readings: &ReadingsTold) {
        let small = |words: &str| RichText::new(words).font(look::font(self.scale * size::SMALL));
        let device = match &readings.device {
            Ok(device) => device,
            Err(why) => {
                self.quiet(ui, why);
                return;
            }
        };
        ui.spacing_mut().interact_size.y = 0.0;
        Grid::new("readings").spacing(vec2(4.0 * STEP, 2.0)).min_row_height(0.0).show(ui, |ui| {
            // Flow, head, power and speed: their units tell which is which, and a row less is in sight at once.
            for (name, figures, strong) in
                [("The device reads", device, true), ("The drawing gives", &readings.model, false)]
            {
                ui.label(self.plain(name));
                for figure in figures {
                    ui.label(if strong { self.strong(figure) } else { self.plain(figure) });
                }
                ui.end_row();
            }
        });
        ui.label(
            small("The device estimates its flow and rounds: an estimated flow is no meter.")
                .color(self.view.palette.quiet),
        );
    }
}
