//! The reader's complaints in plain sentences: what was expected, what stands there, what to do.
//!
//! The reader is the `ron` crate; its positions are before or after the word that it stumbled over, so the wording also
//! decides which of the two is shown.

use super::error::FileError;
use ron::error::{Error, Position, SpannedError};

/// A failed reading as an error of this room.
pub(crate) fn syntax(file: &str, text: &str, failure: &SpannedError) -> FileError {
    let end = byte_of(text, failure.span.end);
    let mut at = if names_a_word(&failure.code) { byte_of(text, failure.span.start) } else { end };
    if let Error::InvalidValueForType { found, .. } = &failure.code
        && text[..at].ends_with(found.as_str())
    {
        at -= found.len();
    }
    let mut message = sentence(&failure.code);
    if text.trim_end().len() <= end {
        message.push_str(" The text ends here: perhaps the file was cut off.");
    }
    let line = 1 + text[..at].matches('\n').count();
    let column = 1 + text[..at].chars().rev().take_while(|c| *c != '\n').count();
    FileError::Syntax { file: file.to_owned(), line, column, message }
}

/// Whether the complaint is about a word that the reader has already passed.
fn names_a_word(code: &Error) -> bool {
    matches!(
        code,
        Error::NoSuchStructField { .. }
            | Error::NoSuchEnumVariant { .. }
            | Error::DuplicateStructField { .. }
            | Error::InvalidValueForType { .. }
            | Error::IntegerOutOfBounds
            | Error::ExpectedDifferentStructName { .. }
    )
}

/// Byte of a position in the text; its end for one beyond it.
fn byte_of(text: &str, position: Position) -> usize {
    let start: usize = text.split_inclusive('\n').take(position.line.saturating_sub(1)).map(str::len).sum();
    let rest = text.get(start..).unwrap_or_default();
    let column = rest.char_indices().nth(position.col.saturating_sub(1));
    start + column.map_or(rest.len(), |(at, _)| at)
}

fn sentence(code: &Error) -> String {
    match code {
        Error::Eof => "more was expected: put in what is missing.".to_owned(),
        Error::ExpectedComma => {
            "a comma or a closing bracket is expected here: put in the one that is missing.".to_owned()
        }
        Error::ExpectedArray => "a list is expected: begin it with “[”.".to_owned(),
        Error::ExpectedArrayEnd => "a list is not closed: put in “]”, or a comma before the next item.".to_owned(),
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) => {
            "fields in round brackets are expected: begin with “(”.".to_owned()
        }
        Error::ExpectedStructLikeEnd => {
            "a round bracket is not closed here: put in “)”, or take out what is too much.".to_owned()
        }
        Error::ExpectedMapColon => "a colon is expected after the name of a field: put in “:”.".to_owned(),
        Error::ExpectedBoolean => "expected true or false: write one of them, without quotation marks.".to_owned(),
        Error::ExpectedString => "a text in quotation marks is expected: write it as \"…\".".to_owned(),
        Error::ExpectedStringEnd => "a text begins here that has no end: close it with a quotation mark.".to_owned(),
        Error::ExpectedOption => "expected None or Some(…): write one of them.".to_owned(),
        Error::ExpectedOptionEnd => "“Some(” is not closed: put in “)”.".to_owned(),
        Error::ExpectedIdentifier => "the name of a field or a kind is expected here: write it without quotation \
                                      marks."
            .to_owned(),
        Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } | Error::IntegerOutOfBounds => {
            "a plain number is expected here: write figures, with a point before decimals.".to_owned()
        }
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => {
            "this is not a number: write figures, with a point before decimals.".to_owned()
        }
        Error::UnexpectedChar(c) => format!("“{}” cannot stand here: take it out.", c.escape_debug()),
        Error::TrailingCharacters => "its last bracket is closed, yet more follows: take out what follows.".to_owned(),
        Error::UnclosedBlockComment => "a comment that began with “/*” has no end: close it with “*/”.".to_owned(),
        Error::InvalidEscape(_) => "a backslash in a text must be followed by \\, \", n or another escape: write \\\\ \
                                    for a backslash."
            .to_owned(),
        Error::ExceededRecursionLimit => "brackets stand in each other far too deep: take them out.".to_owned(),
        Error::InvalidValueForType { expected, found } => wrong_value(expected, found),
        Error::ExpectedDifferentLength { .. } => {
            "another count of values is expected here: write a position as (x, y), a pipe's end as (\"name\", port)."
                .to_owned()
        }
        Error::NoSuchEnumVariant { expected, found, .. } => {
            format!(
                "“{found}” is not known here: write {}; if a newer version of this program wrote the file, open it with that \
                 one.",
                one_of(expected)
            )
        }
        Error::NoSuchStructField { expected, found, .. } => {
            format!(
                "there is no field “{found}” here: correct its name ({}), or take it out; if a newer version of this program \
                 wrote the file, open it with that one.",
                one_of(expected)
            )
        }
        Error::MissingStructField { field, .. } => format!("the field “{field}” is missing before here: add it."),
        Error::DuplicateStructField { field, .. } => format!("the field “{field}” stands here twice: take out one."),
        other => format!("this cannot be read ({other}): correct it."),
    }
}

fn wrong_value(expected: &str, found: &str) -> String {
    let shown: String = found.chars().take(40).collect();
    if expected == "a number" {
        return format!("{shown} is no number that can be used: write figures, with a point before decimals.");
    }
    format!("{shown} cannot stand here, {expected} is expected: write that.")
}

/// Names in a row: `a, b or c`.
fn one_of(names: &[&str]) -> String {
    match names {
        [] => "nothing".to_owned(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
