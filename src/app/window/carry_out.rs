//! What the window does with each intent.

use super::super::frame::{Leaving, Notice};
use super::super::picture::Target;
use super::super::selection::Selection;
use super::super::view::{Intent, Product, Work};
use super::{NOTICE_FOR, Window};
use crate::document::{Command, ComponentId, Project, course, spot};
use crate::problems::Place;
use std::collections::BTreeSet;
use std::path::Path as FilePath;

/// Whether playing scenarios ends with it: what else is done becomes a step of its own.
fn ends_play(intent: &Intent) -> bool {
    !matches!(
        intent,
        Intent::Change(Command::EnterScenario(_))
            | Intent::Hover(_)
            | Intent::PointAt(_)
            | Intent::ShowBelow(_)
            | Intent::ShowAbove(_)
            | Intent::SetUnit(..)
            | Intent::SetUnits(_)
            | Intent::FitDrawing
            | Intent::Dismiss
    )
}

impl Window {
    /// Carries out one intent; `true` if what is on screen changed with it.
    pub(super) fn carry_out(&mut self, intent: Intent) -> bool {
        if self.strip.is_playing() && ends_play(&intent) {
            self.strip.stop();
            self.desk.settle();
        }
        if let Some(why) = self.lesson_forbids(&intent) {
            self.reject(why);
            return true;
        }
        match intent {
            Intent::Change(command) => return self.change(&command),
            Intent::ChangeAll(commands) => return self.change_all(&commands),
            Intent::Hover(_) | Intent::PointAt(_) => return false,
            Intent::ShowBelow(below) => {
                if self.below != below {
                    // The sheet is of another size now.
                    self.drawing.fit_again();
                }
                self.below = below;
            }
            Intent::ShowAbove(above) => self.above = above,
            Intent::Ask(task) => self.part_load.searches.ask(task, &self.desk, &self.units),
            Intent::GiveUpAsked => self.part_load.searches.give_up_asked(),
            Intent::GiveUpBest => self.part_load.searches.give_up_best(),
            Intent::SearchBest => self.part_load.searches.search_again(),
            Intent::TakeInHand(pump) => {
                self.desk.take_in_hand(pump);
                self.curves.clear_trail();
            }
            Intent::Undo => {
                let ran = self.running();
                self.desk.undo(&self.units);
                self.after_a_jump(&ran);
            }
            Intent::Redo => {
                let ran = self.running();
                self.desk.redo(&self.units);
                self.after_a_jump(&ran);
            }
            Intent::AskOpen => self.files.ask_open(),
            Intent::AskSave => self.files.ask_save(self.desk.path(), &self.desk.project().title),
            // A file that is not there is told at once; only for one that is are changes at stake.
            Intent::Open(path) if path.is_file() => self.leave_or_ask(Leaving::Open(path)),
            Intent::Open(path) => self.open(&path),
            Intent::Save => self.save_here(),
            Intent::SaveTo(path) => self.save_to(FilePath::new(&path)),
            Intent::Pictures => self.ask_picture(),
            Intent::Record => self.records.open(),
            Intent::Copy(wish) => self.make_picture(wish, Target::Clipboard),
            Intent::AskWrite(product) => {
                self.files.ask_write(product, self.desk.path(), &self.desk.project().title);
            }
            Intent::Write(Product::Picture(wish), path) => self.make_picture(wish, Target::File(path)),
            Intent::Write(Product::Record(wish), path) => self.make_record(wish, path),
            Intent::SetUnit(quantity, unit) => return self.units.set(quantity, unit),
            Intent::SetUnits(units) => self.units = units,
            Intent::FitDrawing => self.drawing.fit_again(),
            Intent::Reject(why) => self.reject(&why),
            Intent::Decide(decision) => self.decide(decision),
            Intent::Dismiss => self.notice = None,
            Intent::Present => self.present(),
            Intent::TakeUp(work) => self.take_up(work),
            Intent::ShowFigures(part) => {
                self.take_up(Work::Draw);
                self.selection = Selection::default();
                self.inspector.bring(part);
            }
            Intent::Select(selection) => self.selection = selection,
            Intent::GoTo(place) => self.go_to(place),
            Intent::Take(project, words) => self.leave_or_ask(Leaving::Take(project, words)),
            Intent::New => self.leave_or_ask(Leaving::Take(Box::new(Project::blank()), String::new())),
            Intent::Balance => self.balance(),
            Intent::Search => self.search.open(),
            Intent::FromList => self.table.open(),
            Intent::GiveUp => self.desk.give_up(),
            Intent::StudyAgain => self.desk.study_again(),
            Intent::Lesson(intent) => return self.carry_out_of_lesson(intent),
        }
        true
    }

    fn change(&mut self, command: &Command) -> bool {
        let newest = self.desk.project().components.keys().next_back().copied();
        let (flow, ran) = (self.flow_now(), self.running());
        let outcome = self.desk.apply(command, &self.units);
        if outcome == Ok(true) {
            self.select_new(command, newest);
            self.follow_first_run(&ran);
        }
        let jumps = matches!(command, Command::EnterScenario(_) | Command::OpenAllZones) && outcome == Ok(true);
        let changed = self.changed(outcome);
        if let Command::EnterScenario(index) = command {
            self.strip.entered(*index);
        }
        if let Some(flow) = flow.filter(|_| jumps && !self.presentation.is_still()) {
            self.curves.begin_walk(flow, self.now);
        }
        changed
    }

    fn change_all(&mut self, commands: &[Command]) -> bool {
        let ran = self.running();
        let outcome = self.desk.apply_together(commands, &self.units);
        if outcome == Ok(true) {
            self.follow_first_run(&ran);
        }
        self.changed(outcome)
    }

    /// What follows a change or its refusal.
    fn changed(&mut self, outcome: Result<bool, String>) -> bool {
        match outcome {
            Ok(changed) => {
                if changed {
                    self.curves.leave_trail(&self.desk);
                    self.notice.take_if(|notice| notice.passes());
                    self.selection.forget_missing(self.desk.project());
                }
                changed
            }
            Err(error) => {
                self.reject(&error);
                true
            }
        }
    }

    /// Says why something was not taken.
    pub(super) fn reject(&mut self, why: &str) {
        self.notice = Some(Notice::rejected(why));
        self.notice_until = self.now + 2.0 * NOTICE_FOR;
    }

    /// Begins to present, or goes back to what the person was at.
    fn present(&mut self) {
        match self.presentation.end() {
            Some(work) => self.work = work,
            None => {
                self.presentation.begin(self.work);
                self.work = Work::Tune;
                self.strip.stop();
                self.drawing.editing.let_go();
            }
        }
        // The sheet is of another size now.
        self.drawing.fit_again();
    }

    fn take_up(&mut self, work: Work) {
        let presented = self.presentation.end().is_some();
        if self.work != work || presented {
            // The sheet is of another size now.
            self.drawing.fit_again();
        }
        self.work = work;
        self.drawing.editing.let_go();
    }

    /// Flow of the pump in hand, m³/s.
    pub(super) fn flow_now(&self) -> Option<f64> {
        let pump = self.desk.study().results().pumps.get(&self.desk.pump()?)?;
        Some(pump.flow)
    }

    /// What was just put on the sheet is selected, so that it can be set at once.
    fn select_new(&mut self, command: &Command, newest: Option<ComponentId>) {
        let adds = matches!(
            command,
            Command::AddComponent(_) | Command::InsertIntoPipe(..) | Command::InsertCloseTees(..) | Command::Paste(..)
        );
        if adds {
            let is_new = |id: &&ComponentId| newest.is_none_or(|newest| **id > newest);
            let components = self.desk.project().components.keys().filter(is_new).copied().collect();
            self.selection = Selection { components, ..Selection::default() };
        }
        if matches!(command, Command::Connect(..)) {
            self.selection = Selection::default();
        }
        if adds || matches!(command, Command::Connect(..) | Command::RemoveParts(..)) {
            self.drawing.hold();
        }
    }

    fn after_a_jump(&mut self, ran: &BTreeSet<ComponentId>) {
        self.follow_first_run(ran);
        self.curves.clear_trail();
        self.selection.forget_missing(self.desk.project());
    }

    /// Selects something and brings it into sight; drawing begins if it had not.
    fn go_to(&mut self, place: Place) {
        let project = self.desk.project();
        let component = |id: &ComponentId| Some((Selection::component(*id), project.components.get(id)?.at));
        let found = match place {
            Place::Component(id) => component(&id),
            Place::Zone(id) => project.zones.get(&id).and_then(|zone| component(&zone.emitter)),
            Place::Pipe(id) => {
                project.pipes.get(&id).map(|pipe| (Selection::pipe(id), spot(&course(project, pipe), 0.5)))
            }
            Place::Project => Some((Selection::default(), [0.0, 0.0])),
        };
        let Some((selection, at)) = found else { return };
        self.presentation.end();
        if !selection.is_empty() {
            self.drawing.bring(at);
        }
        self.selection = selection;
        self.work = Work::Draw;
    }

    /// Balances as one step and lists what was set.
    fn balance(&mut self) {
        match self.desk.balance(&self.units) {
            Ok(balance) => self.balanced.open(balance),
            Err(error) => self.notice = Some(Notice::problem("This system was not balanced.", &error)),
        }
    }
}
