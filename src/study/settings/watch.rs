//! How far long work has come, told across threads, and a way to give it up.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Shared between whoever works and whoever waits.
#[derive(Clone, Debug, Default)]
pub struct Watch {
    is_given_up: Arc<AtomicBool>,
    counts: Arc<Counts>,
}

#[derive(Debug, Default)]
struct Counts {
    done: AtomicUsize,
    expected: AtomicUsize,
}

impl Watch {
    /// Gives the work up: it ends at its next step.
    pub fn give_up(&self) {
        self.is_given_up.store(true, Ordering::Relaxed);
    }

    /// Whether it was given up.
    #[must_use]
    pub fn is_given_up(&self) -> bool {
        self.is_given_up.load(Ordering::Relaxed)
    }

    /// Share of the work that is done, as far as it is known.
    #[must_use]
    pub fn share(&self) -> f64 {
        let expected = self.counts.expected.load(Ordering::Relaxed).max(1);
        (self.counts.done.load(Ordering::Relaxed) as f64 / expected as f64).min(1.0)
    }

    /// For a part of the work whose own steps do not count: given up together with the whole.
    pub(super) fn of_part(&self) -> Self {
        Self { is_given_up: Arc::clone(&self.is_given_up), counts: Arc::default() }
    }

    pub(super) fn more_to_come(&self, more: usize) {
        self.counts.expected.fetch_add(more, Ordering::Relaxed);
    }

    pub(super) fn done(&self, more: usize) {
        self.counts.done.fetch_add(more, Ordering::Relaxed);
    }
}
