//! Fittings of a pipe run: what they are, how many, and by which publication their loss is reckoned.

use crate::engine::links::fittings::{FittingError, FittingKind, KSource};

/// Some equal fittings of a pipe run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitting {
    /// What they are.
    pub kind: FittingKind,
    /// How many.
    pub count: u32,
    /// The publication that their loss coefficient is from.
    pub source: KSource,
}

impl Fitting {
    /// So many of a kind, by the kind's usual source.
    #[must_use]
    pub fn new(kind: FittingKind, count: u32) -> Self {
        Self { kind, count, source: kind.usual_source() }
    }

    /// Loss coefficient of one of them on a pipe of a bore in m.
    ///
    /// # Errors
    /// What the source does not have, with what to do.
    pub fn k_each(&self, bore: f64) -> Result<f64, FittingError> {
        self.kind.k(bore, self.source).map(|found| found.k)
    }

    /// Loss coefficient of all of them on a pipe of a bore in m.
    ///
    /// # Errors
    /// As [`Self::k_each`].
    pub fn k(&self, bore: f64) -> Result<f64, FittingError> {
        self.k_each(bore).map(|k| f64::from(self.count) * k)
    }
}
