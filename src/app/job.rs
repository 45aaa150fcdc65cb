//! Long work beside the window: it runs in a thread of its own and is asked for once a pass. Dropping a job gives it up: its
//! answer is never taken.

use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::time::{Duration, Instant};

/// Work that goes on beside the window.
#[derive(Debug)]
pub(super) struct Job<T> {
    answer: Receiver<T>,
    begun: Instant,
}

/// How a job stands.
#[derive(Debug)]
pub(super) enum Progress<T> {
    /// It is still at work.
    Working,
    /// It has come to its end.
    Done(T),
    /// It ended without an answer: a fault of the program, told on the terminal by the thread itself.
    Lost,
}

impl<T: Send + 'static> Job<T> {
    /// Begins.
    pub(super) fn start(work: impl FnOnce() -> T + Send + 'static) -> Self {
        let (sender, answer) = channel();
        std::thread::spawn(move || {
            // Nobody waits for the answer of a job that was given up.
            let _ = sender.send(work());
        });
        Self { answer, begun: Instant::now() }
    }

    /// How it stands now.
    pub(super) fn poll(&self) -> Progress<T> {
        match self.answer.try_recv() {
            Ok(answer) => Progress::Done(answer),
            Err(TryRecvError::Empty) => Progress::Working,
            Err(TryRecvError::Disconnected) => Progress::Lost,
        }
    }

    /// How it stands after so long a wait at most: short work is done in the pass that asks for it.
    pub(super) fn wait(&self, at_most: Duration) -> Progress<T> {
        match self.answer.recv_timeout(at_most) {
            Ok(answer) => Progress::Done(answer),
            Err(RecvTimeoutError::Timeout) => Progress::Working,
            Err(RecvTimeoutError::Disconnected) => Progress::Lost,
        }
    }

    /// How long it has been at work, seconds.
    pub(super) fn seconds(&self) -> f64 {
        self.begun.elapsed().as_secs_f64()
    }
}
