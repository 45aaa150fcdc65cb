//! How far long work has come, told across threads, and a way to give it up.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Shared between whoever works and whoever waits.
#[derive(Clone, Debug, Default)]
pub struct Watch {
    inner: Arc<Inner>,
}

#[derive(Debug, Default)]
struct Inner {
    is_given_up: AtomicBool,
    done: AtomicUsize,
    expected: AtomicUsize,
}

impl Watch {
    /// Gives the work up: it ends at its next step.
    pub fn give_up(&self) {
        self.inner.is_given_up.store(true, Ordering::Relaxed);
    }

    /// Whether it was given up.
    #[must_use]
    pub fn is_given_up(&self) -> bool {
        self.inner.is_given_up.load(Ordering::Relaxed)
    }

    /// Share of the work that is done, as far as it is known.
    #[must_use]
    pub fn share(&self) -> f64 {
        let expected = self.inner.expected.load(Ordering::Relaxed).max(1);
        (self.inner.done.load(Ordering::Relaxed) as f64 / expected as f64).min(1.0)
    }

    pub(in crate::study) fn expect(&self, more: usize) {
        self.inner.expected.fetch_add(more, Ordering::Relaxed);
    }

    pub(in crate::study) fn done(&self, more: usize) {
        self.inner.done.fetch_add(more, Ordering::Relaxed);
    }
}
