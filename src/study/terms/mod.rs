//! Terms: every named thing that a reader meets, with what it is, its formula, its symbols, its source, and the present figures put
//! into the formula, so that it explains this project.
//!
//! [`Term::entry`] is what holds everywhere; [`card`] adds what holds here. Texts stand beside their formulas, a subject a file;
//! [`here`] works out the present figures with the engine's own functions.

mod energy;
mod entry;
mod here;
mod pump;
mod settings;
mod subject;
mod symbols;
mod system;
#[cfg(test)]
mod tests;
mod zones;

pub use entry::{Entry, Formula, Term};
pub use subject::Subject;
pub use symbols::{Measure, Symbol};

use crate::engine::units::Quantity;

/// A term in a project: what a card shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Which term.
    pub term: Term,
    /// What holds everywhere.
    pub entry: &'static Entry,
    /// What holds here; `None` where the project has no figure for it, as while the pump stands.
    pub here: Option<Here>,
    /// Where this project's own figure comes from, if somebody said so.
    pub source_here: String,
}

/// The present figures in the formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Here {
    /// In words: "5.10 m × (1 − 25 %) = 3.83 m".
    pub words: String,
    /// What they come to, in SI; `None` where the words end in no number.
    pub value: Option<(Quantity, f64)>,
}

/// The card of a term without the figures of any project.
#[must_use]
pub fn bare(term: Term) -> Card {
    Card { term, entry: term.entry(), here: None, source_here: String::new() }
}

/// The card of a term for what the reader points at.
#[must_use]
pub fn card(term: Term, of: &Subject<'_>) -> Card {
    let source_here = match term {
        Term::ToleranceBand | Term::ShareOfDesignFlow => of.project.acceptance.source.clone(),
        Term::Authority | Term::Velocity | Term::Friction => of.project.limits.source.clone(),
        _ => String::new(),
    };
    Card { term, entry: term.entry(), here: here::of(term, of), source_here }
}
