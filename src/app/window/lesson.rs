//! A lesson at work in the window: its system lies under the panes while the person's own project waits, as it is.

use super::super::curves;
use super::super::desk::{Desk, Standing};
use super::super::drawing::DrawingState;
use super::super::frame::Notice;
use super::super::lesson::{LessonAtWork, LessonIntent, Source, read_lesson};
use super::super::selection::Selection;
use super::super::view::{Above, Below, Intent, Work};
use super::Window;
use crate::document::Command;

/// The person's own project while a lesson is at work, and how it was looked at.
pub(super) struct PutBy {
    pub(super) desk: Desk,
    drawing: DrawingState,
    selection: Selection,
    work: Work,
    above: Above,
    below: Below,
    /// Whether the caution before the first run was still to be read.
    first_run: bool,
}

/// Why nothing may be changed yet.
const HELD: &str =
    "The lesson asks for a prediction first. Give it; then the change is made and you see what comes of it.";

/// Why a lesson's system is not saved.
const NOT_SAVED: &str =
    "A lesson works on a system of its own, which is not kept. Leave the lesson to save your project.";

impl Window {
    /// Why an intent is not carried out while a lesson is at work.
    pub(super) fn lesson_forbids(&self, intent: &Intent) -> Option<&'static str> {
        let lesson = self.lesson.as_ref()?;
        match intent {
            Intent::Save | Intent::AskSave | Intent::SaveTo(_) => Some(NOT_SAVED),
            Intent::Change(_)
            | Intent::ChangeAll(_)
            | Intent::Undo
            | Intent::Redo
            | Intent::Balance
            | Intent::TakeUp(Work::Draw) => lesson.shown().is_held.then_some(HELD),
            _ => None,
        }
    }

    /// Carries out what concerns lessons; `true` if what is on screen changed with it.
    pub(super) fn carry_out_of_lesson(&mut self, intent: LessonIntent) -> bool {
        match intent {
            LessonIntent::List => {
                if self.lesson.as_ref().is_some_and(LessonAtWork::is_done) {
                    self.lessons.advance();
                }
                self.lessons.open();
            }
            LessonIntent::AskOpen => self.files.ask_lesson(),
            LessonIntent::Begin(source) => self.begin_lesson(&source),
            LessonIntent::Leave => self.leave_lesson(),
            LessonIntent::Next => {
                if self.lesson.as_mut().is_some_and(LessonAtWork::next) {
                    self.begin_lesson_step();
                }
            }
            LessonIntent::Back => {
                if self.lesson.as_mut().is_some_and(LessonAtWork::back) {
                    self.begin_lesson_step();
                }
            }
            LessonIntent::Again => {
                if let Some(lesson) = &mut self.lesson {
                    lesson.again();
                    self.begin_lesson_step();
                }
            }
            LessonIntent::Show => self.answer_lesson(|lesson, desk| Ok(lesson.show_way(desk))),
            LessonIntent::Another => {
                if let Some(lesson) = &mut self.lesson {
                    lesson.another();
                    self.begin_lesson_step();
                }
            }
            LessonIntent::MoveGuess(to) => {
                if let Some(lesson) = &mut self.lesson {
                    lesson.move_guess(to);
                }
            }
            LessonIntent::MoveShare(to) => {
                if let Some(lesson) = &mut self.lesson {
                    lesson.move_share(to);
                }
            }
            LessonIntent::TakeGuess => self.answer_lesson(LessonAtWork::take_guess),
            LessonIntent::Choose(index) => self.answer_lesson(|lesson, desk| lesson.choose(index, desk)),
        }
        true
    }

    /// Gives an answer; what the lesson then changes is made as one step and the operating point walks there.
    fn answer_lesson(&mut self, give: impl FnOnce(&mut LessonAtWork, &Desk) -> Result<Vec<Command>, String>) {
        let Some(lesson) = &mut self.lesson else { return };
        match give(lesson, &self.desk) {
            Ok(commands) => {
                let flow = self.flow_now();
                if let Err(why) = self.desk.apply_all("what the lesson changes", &commands, &self.units) {
                    self.reject(&why);
                }
                if let Some(flow) = flow {
                    self.curves.begin_walk(flow, self.now);
                }
            }
            Err(why) => self.reject(&why),
        }
    }

    fn begin_lesson(&mut self, source: &Source) {
        let begun = read_lesson(source).and_then(|lesson| Ok((Desk::new(lesson.project.clone(), None)?, lesson)));
        let (desk, lesson) = match begun {
            Ok(begun) => begun,
            Err(why) => {
                self.notice = Some(Notice::problem("This lesson was not begun.", &why));
                return;
            }
        };
        if let Source::File(path) = source {
            self.lessons.remember(path);
        }
        self.strip.stop();
        self.desk.settle();
        let drawing = std::mem::take(&mut self.drawing);
        let selection = std::mem::take(&mut self.selection);
        let (work, above, below, first_run) = (self.work, self.above, self.below, self.first_run);
        let before = self.lay(desk);
        // A lesson that was at work is not the person's own.
        self.put_by.get_or_insert(PutBy { desk: before, drawing, selection, work, above, below, first_run });
        self.lesson = Some(LessonAtWork::new(lesson));
        (self.above, self.below) = (Above::Drawing, Below::Zones);
        self.begin_lesson_step();
    }

    /// Sets what the present step sets. A drawing that it does not fit any more makes place for the lesson's own.
    fn begin_lesson_step(&mut self) {
        let Some(lesson) = &mut self.lesson else { return };
        self.desk.settle();
        let start = lesson.start_if_torn(self.desk.project());
        let fresh = start.and_then(|start| Desk::new(start, None).ok());
        let commands = lesson.begin_step(fresh.as_ref().unwrap_or(&self.desk).project());
        if let Some(fresh) = fresh {
            self.lay(fresh);
        }
        if let Err(why) = self.desk.apply_all("begin the step", &commands, &self.units) {
            self.notice = Some(Notice::problem("This step was not begun.", &why));
        }
        self.desk.forget_steps();
        self.curves.clear_trail();
        self.work = Work::Tune;
        if let Some(lesson) = &self.lesson {
            self.desk.take_in_hand(lesson.pump());
        }
        self.follow_lesson(false);
    }

    /// Gives the person's own project back, as it was put by.
    pub(super) fn leave_lesson(&mut self) {
        self.lesson = None;
        let Some(put_by) = self.put_by.take() else { return };
        self.lay(put_by.desk);
        self.drawing = put_by.drawing;
        self.drawing.fit_again();
        self.selection = put_by.selection;
        (self.work, self.above, self.below) = (put_by.work, put_by.above, put_by.below);
        self.first_run = put_by.first_run;
    }

    /// Holds the lesson's step against what the system does now; before each pass, at no cost while nothing has changed. A
    /// system that the hand is just changing is not probed before it rests.
    pub(super) fn follow_lesson(&mut self, is_busy: bool) {
        if let Some(lesson) = &mut self.lesson
            && *self.desk.standing() == Standing::Current
        {
            lesson.follow(&self.desk, &self.units, is_busy);
        }
    }

    /// Gives a point that is to be placed the keys when its step begins, so that the arrows move it.
    pub(super) fn give_guess_the_keys(&mut self, ctx: &egui::Context) {
        if let Some(lesson) = self.lesson.as_mut().filter(|lesson| lesson.wants_keys()) {
            if curves::guess_has_keys(ctx) {
                lesson.has_keys();
            } else {
                // Once more in the next pass: what lay over the panes in the last one may still hold them.
                curves::focus_guess(ctx);
                ctx.request_repaint();
            }
        }
    }
}
