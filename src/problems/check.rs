//! A check: something about a project that calls for a look, in words for the person who must act. Rules about the drawing make
//! them, and so do rules about results.

use crate::document::{ComponentId, PipeId, ZoneId};

/// How grave something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The system cannot work as it is drawn and set, or comes to harm.
    Error,
    /// The results stand, but something is missing, doubtful or outside its limits.
    Warning,
    /// Nothing is wrong, but a designer will want to know it.
    Note,
}

impl Severity {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// What a check is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// A component.
    Component(ComponentId),
    /// A pipe run.
    Pipe(PipeId),
    /// A zone.
    Zone(ZoneId),
    /// The project as a whole.
    Project,
}

/// Something that calls for a look.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// How grave it is.
    pub severity: Severity,
    /// What it is about.
    pub place: Place,
    /// Name of the place.
    pub title: String,
    /// A few words for a list.
    pub heading: &'static str,
    /// What is so, with the present numbers; one sentence or more.
    pub what: String,
    /// What it means; empty where that is plain.
    pub meaning: String,
    /// What helps.
    pub remedy: String,
}

impl Check {
    /// A check without its sentences.
    #[must_use]
    pub fn new(severity: Severity, place: Place, title: &str, heading: &'static str) -> Self {
        let [what, meaning, remedy] = [const { String::new() }; 3];
        Self { severity, place, title: title.to_owned(), heading, what, meaning, remedy }
    }

    /// Gives it its sentences: what is so, what it means, what helps.
    #[must_use]
    pub fn says(self, what: impl Into<String>, meaning: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { what: what.into(), meaning: meaning.into(), remedy: remedy.into(), ..self }
    }

    /// All its sentences in a row.
    #[must_use]
    pub fn text(&self) -> String {
        let parts = [self.what.as_str(), &self.meaning, &self.remedy];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    }
}
