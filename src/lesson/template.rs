//! Texts with gaps: `{flow}`, `{share of Office radiators}` or `{4 m}` are filled in from the present study, in the reader's units.

use super::names::Names;
use super::value::Value;
use crate::document::{ComponentId, Project};
use crate::engine::units::Units;
use crate::study::Study;

/// A text with gaps.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Template {
    parts: Vec<Part>,
}

#[derive(Clone, Debug, PartialEq)]
enum Part {
    Words(String),
    /// A value, now or before the last change that a step made.
    Value(Value, bool),
}

/// A gap that nothing is known of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct GapFlaw {
    /// As it stands in the text.
    pub gap: String,
    /// What is wrong and what to do.
    pub flaw: String,
}

/// A system and its study: what gaps are filled from.
#[derive(Clone, Copy, Debug)]
pub struct Sight<'a> {
    /// The document.
    pub project: &'a Project,
    /// Its study.
    pub study: &'a Study,
    /// The circulator that is spoken of where none is named.
    pub pump: ComponentId,
}

impl Template {
    /// Reads a text; names are those of the project.
    pub(super) fn read(text: &str, names: &Names) -> Result<Self, GapFlaw> {
        let text = flowed(text);
        let mut parts = Vec::new();
        let mut rest = text.as_str();
        while let Some(open) = rest.find('{') {
            if open > 0 {
                parts.push(Part::Words(rest[..open].to_owned()));
            }
            let inside = &rest[open + 1..];
            // A second bracket before the first is closed: the first was forgotten.
            let Some(close) = inside.find(['{', '}']).filter(|at| inside[*at..].starts_with('}')) else {
                let flaw = "a curly bracket is not closed: put in “}” behind what is to be filled in".to_owned();
                let gap = inside.split([' ', ',', '.', '{']).next().unwrap_or_default();
                return Err(GapFlaw { gap: format!("{{{gap}"), flaw });
            };
            let gap = &inside[..close];
            let (what, before) = match gap.strip_suffix(" before") {
                Some(what) => (what, true),
                None => (gap, false),
            };
            let value = Value::read(what.trim(), names).map_err(|flaw| GapFlaw { gap: format!("{{{gap}}}"), flaw })?;
            parts.push(Part::Value(value, before));
            rest = &inside[close + 1..];
        }
        if !rest.is_empty() {
            parts.push(Part::Words(rest.to_owned()));
        }
        Ok(Self { parts })
    }

    /// Whether there is nothing to read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// The text with its gaps filled; `before` is the system before the last change that a step made.
    #[must_use]
    pub fn fill(&self, now: Sight, before: Option<Sight>, units: &Units) -> String {
        let part = |part: &Part| match part {
            Part::Words(words) => words.clone(),
            Part::Value(value, false) => value.text(now, units),
            Part::Value(value, true) => value.text(before.unwrap_or(now), units),
        };
        self.parts.iter().map(part).collect()
    }
}

/// A text that was wrapped over lines, as one; an empty line parts paragraphs.
fn flowed(text: &str) -> String {
    let mut paragraphs: Vec<Vec<&str>> = vec![Vec::new()];
    for line in text.lines().map(str::trim) {
        match paragraphs.last_mut() {
            Some(paragraph) if !line.is_empty() => paragraph.push(line),
            Some(paragraph) if !paragraph.is_empty() => paragraphs.push(Vec::new()),
            _ => {}
        }
    }
    let whole: Vec<String> = paragraphs.into_iter().map(|lines| lines.join(" ")).filter(|p| !p.is_empty()).collect();
    whole.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapped_lines_flow_together_and_an_empty_line_parts() {
        assert_eq!(flowed("  one\n   two \n\n\n three\n"), "one two\nthree");
        assert_eq!(flowed(" \n "), "");
    }
}
