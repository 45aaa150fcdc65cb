//! Whether what flows is shown moving: as the person has switched it, else as the system asks.

use super::super::job::{Job, Progress};
use super::system_motion;

/// Under what name the switch is kept.
const KEPT: &str = "motion";

/// The switch, and what the system asks for.
#[derive(Debug, Default)]
pub(super) struct Motion {
    /// Whether things move, once the person has said so.
    own: Option<bool>,
    /// Whether the system asks for less motion.
    asks_for_less: bool,
    asking: Option<Job<Option<bool>>>,
}

impl Motion {
    /// Asks the system, beside the window: it may be slow to answer, and some give none.
    pub(super) fn ask_system(&mut self) {
        self.asking = Some(Job::start(system_motion::asks_for_less));
    }

    /// Takes the system's answer when it has come; `true` while it is awaited.
    pub(super) fn poll(&mut self) -> bool {
        match self.asking.as_ref().map(Job::poll) {
            None => return false,
            Some(Progress::Working) => return true,
            Some(Progress::Done(answer)) => self.asks_for_less = answer.unwrap_or(false),
            Some(Progress::Lost) => {}
        }
        self.asking = None;
        false
    }

    /// Whether nothing is to move.
    pub(super) fn is_still(&self) -> bool {
        !self.own.unwrap_or(!self.asks_for_less)
    }

    /// Switches over; from then on the person's word counts.
    pub(super) fn switch(&mut self) {
        self.own = Some(self.is_still());
    }

    /// Takes the switch from the last time.
    pub(super) fn restore(&mut self, storage: &dyn eframe::Storage) {
        self.own = match storage.get_string(KEPT).as_deref() {
            Some("moving") => Some(true),
            Some("still") => Some(false),
            _ => None,
        };
    }

    /// Keeps it for the next time; what the system asks for is asked anew.
    pub(super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        if let Some(moves) = self.own {
            storage.set_string(KEPT, if moves { "moving" } else { "still" }.to_owned());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_system_is_followed_until_the_person_says_otherwise() {
        let mut motion = Motion::default();
        assert!(!motion.is_still());
        motion.asks_for_less = true;
        assert!(motion.is_still());
        motion.switch();
        assert!(!motion.is_still());
        motion.switch();
        motion.asks_for_less = false;
        assert!(motion.is_still());
    }

    #[test]
    fn the_systems_answer_is_taken_once_it_comes() {
        let mut motion = Motion { asking: Some(Job::start(|| Some(true))), ..Motion::default() };
        while motion.poll() {
            std::thread::yield_now();
        }
        assert!(motion.is_still() && motion.asking.is_none());
    }
}
