//! Where things stand in the text: lines of the parts of a project and of each item in its lists.
//!
//! It reads marks, words and quoted text only, keeps no stack and never fails, so that it can speak of a text that does
//! not read as a project. Lessons, which are written alike, are outlined by it too.

use std::collections::BTreeMap;
use std::ops::Range;

/// The parts of a project's text, such as `components`, and the items in each.
#[derive(Debug, Default)]
pub(crate) struct Outline<'a> {
    text: &'a str,
    parts: BTreeMap<&'a str, Part<'a>>,
}

/// One part of the text: its line, the first word behind its name, and its items.
#[derive(Debug)]
struct Part<'a> {
    line: usize,
    word: Option<&'a str>,
    items: Vec<Item>,
}

/// One item of a list: its line and its bytes.
#[derive(Debug)]
struct Item {
    line: usize,
    bytes: Range<usize>,
}

impl<'a> Outline<'a> {
    /// Finds the parts of a text.
    pub fn of(text: &'a str) -> Self {
        let mut outline = Self { text, ..Self::default() };
        let mut depth = 0_usize;
        let mut part = "";
        let mut last_word = None;
        let mut item_start = (0, 1);
        let (mut counted, mut line) = (0, 1);
        for (at, token) in (Tokens { text, at: 0 }) {
            let word_before = last_word.take();
            line += line_breaks(&text[counted..at]);
            counted = at;
            match token {
                Token::Open => {
                    depth += 1;
                    if depth == 3 {
                        item_start = (at, line);
                    }
                }
                Token::Close => {
                    if depth == 3
                        && let Some(part) = outline.parts.get_mut(part)
                    {
                        part.items.push(Item { line: item_start.1, bytes: item_start.0..at + 1 });
                    }
                    depth = depth.saturating_sub(1);
                }
                Token::Word(word) if depth == 1 => {
                    if let Some(part) = outline.parts.get_mut(part) {
                        part.word.get_or_insert(word);
                    }
                    last_word = Some((line, word));
                }
                Token::Colon if depth == 1 => {
                    if let Some((line, word)) = word_before {
                        part = word;
                        outline.parts.entry(word).or_insert(Part { line, word: None, items: Vec::new() });
                    }
                }
                Token::Colon | Token::Word(_) | Token::Quoted(_) => {}
            }
        }
        outline
    }

    /// The first word after the name of a part such as `format`, if there is one.
    pub fn word(&self, part: &str) -> Option<&'a str> {
        self.parts.get(part)?.word
    }

    /// Line of a part such as `design`, from 1.
    pub fn part(&self, part: &str) -> Option<usize> {
        self.parts.get(part).map(|part| part.line)
    }

    /// Line of an item of a part by its place in the list, from 0.
    pub fn item(&self, part: &str, index: usize) -> Option<usize> {
        self.find(part, index).map(|item| item.line)
    }

    /// Line within an item on which a name is quoted, or else the item's own.
    pub fn quoted(&self, part: &str, index: usize, name: &str) -> Option<usize> {
        let item = self.find(part, index)?;
        let text = self.text.get(item.bytes.clone())?;
        let quoted = Tokens { text, at: 0 }.find(|(_, token)| *token == Token::Quoted(name));
        Some(item.line + quoted.map_or(0, |(at, _)| line_breaks(&text[..at])))
    }

    /// Line within an item on which the last of several pieces of text begins, each looked for behind the one before; the item's
    /// own if none is there.
    pub fn holding(&self, part: &str, index: usize, pieces: &[String]) -> Option<usize> {
        let item = self.find(part, index)?;
        let text = self.text.get(item.bytes.clone())?;
        let behind =
            |at: usize, piece: &String| text.get(at..).and_then(|rest| rest.find(piece.as_str())).map(|to| at + to);
        let at = pieces.iter().fold(0, |at, piece| behind(at, piece).unwrap_or(at));
        Some(item.line + line_breaks(&text[..at]))
    }

    fn find(&self, part: &str, index: usize) -> Option<&Item> {
        self.parts.get(part)?.items.get(index)
    }
}

fn line_breaks(text: &str) -> usize {
    text.bytes().filter(|byte| *byte == b'\n').count()
}

/// What the outline is made from.
#[derive(Debug, PartialEq)]
enum Token<'a> {
    /// `(`, `[` or `{`.
    Open,
    /// `)`, `]` or `}`.
    Close,
    Colon,
    /// A name or a number.
    Word(&'a str),
    /// Text between quotation marks, escapes as they stand.
    Quoted(&'a str),
}

/// Walks over the tokens of a text; comments and other marks are passed over.
struct Tokens<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Iterator for Tokens<'a> {
    type Item = (usize, Token<'a>);

    fn next(&mut self) -> Option<Self::Item> {
        loop {
            let rest = self.text.get(self.at..)?;
            let first = rest.chars().next()?;
            let (length, token) = match first {
                '(' | '[' | '{' => (1, Some(Token::Open)),
                ')' | ']' | '}' => (1, Some(Token::Close)),
                ':' => (1, Some(Token::Colon)),
                '"' => quoted(rest),
                'r' if is_raw(rest) => raw_quoted(rest),
                '/' => (comment_length(rest), None),
                first if is_word(first) => {
                    let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
                    (length, Some(Token::Word(&rest[..length])))
                }
                other => (other.len_utf8(), None),
            };
            let start = self.at;
            self.at += length;
            if let Some(token) = token {
                return Some((start, token));
            }
        }
    }
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-')
}

/// Length and token of quoted text; text that never ends goes to the end.
fn quoted(rest: &str) -> (usize, Option<Token<'_>>) {
    let mut escaped = false;
    for (at, c) in rest.char_indices().skip(1) {
        match c {
            '"' if !escaped => return (at + 1, Some(Token::Quoted(&rest[1..at]))),
            _ => escaped = c == '\\' && !escaped,
        }
    }
    (rest.len(), None)
}

/// Whether quoted text without escapes begins: `r"…"` or `r#"…"#`.
fn is_raw(rest: &str) -> bool {
    rest[1..].trim_start_matches('#').starts_with('"')
}

fn raw_quoted(rest: &str) -> (usize, Option<Token<'_>>) {
    let hashes = rest[1..].len() - rest[1..].trim_start_matches('#').len();
    let start = 2 + hashes;
    let end_mark = format!("\"{}", "#".repeat(hashes));
    match rest[start..].find(&end_mark) {
        Some(length) => (start + length + end_mark.len(), Some(Token::Quoted(&rest[start..start + length]))),
        None => (rest.len(), None),
    }
}

/// Length of a comment to the end of its line or to its end mark (comments nest), or of a lone stroke.
fn comment_length(rest: &str) -> usize {
    if rest.starts_with("//") {
        return rest.find('\n').unwrap_or(rest.len());
    }
    if !rest.starts_with("/*") {
        return 1;
    }
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(found) = rest[at..].find(['/', '*']) {
        at += found;
        let opens = rest[at..].starts_with("/*");
        let closes = rest[at..].starts_with("*/");
        at += if opens || closes { 2 } else { 1 };
        depth = if opens { depth + 1 } else { depth - usize::from(closes) };
        if depth == 0 {
            return at;
        }
    }
    rest.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "// a (comment\n(\n  format: 3, /* [ /* nested */ ( */\n  title: \"a ) \\\" [\",\n  \
                        notes: r#\"b \" (\"#,\n  pipes: [\n    (name: \"x\",\n      to: \"y\"),\n    (name: r\"z\"),\n  ],\n)";

    #[test]
    fn lines_of_parts_items_and_names() {
        let outline = Outline::of(TEXT);
        assert_eq!(outline.word("format"), Some("3"));
        let pieces = |pieces: &[&str]| pieces.iter().map(|piece| (*piece).to_owned()).collect::<Vec<String>>();
        assert_eq!(outline.holding("pipes", 0, &pieces(&["name", "to:"])), Some(8));
        assert_eq!(outline.holding("pipes", 0, &pieces(&["to:", "name"])), Some(8));
        assert_eq!(outline.holding("pipes", 1, &pieces(&["none"])), Some(9));
        assert_eq!(outline.part("title"), Some(4));
        assert_eq!(outline.part("pipes"), Some(6));
        assert_eq!(outline.item("pipes", 0), Some(7));
        assert_eq!(outline.quoted("pipes", 0, "y"), Some(8));
        assert_eq!(outline.quoted("pipes", 1, "z"), Some(9));
        assert_eq!(outline.item("pipes", 2), None);
        assert_eq!(outline.part("zones"), None);
    }

    #[test]
    fn a_text_cut_anywhere_is_walked_to_its_end() {
        for (at, _) in TEXT.char_indices() {
            let _ = Outline::of(&TEXT[..at]);
        }
    }
}
