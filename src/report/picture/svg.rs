//! SVG as it is written: elements one after the other, figures with two decimals, every text escaped.

use super::width::drawn_width;
use std::fmt::Write;

/// The typeface of all texts.
pub(super) const FONT: &str = "Inter";

/// A picture that is being written.
#[derive(Debug, Default)]
pub struct Svg {
    body: String,
}

/// How a text stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Type<'a> {
    pub size: f64,
    pub fill: &'a str,
    /// `start`, `middle` or `end`.
    pub anchor: &'static str,
    pub is_strong: bool,
    /// Colour of a rim that keeps the text legible over lines.
    pub rim: Option<&'a str>,
}

impl<'a> Type<'a> {
    /// Plain text from its left end on.
    pub(super) fn new(size: f64, fill: &'a str) -> Self {
        Self { size, fill, anchor: "start", is_strong: false, rim: None }
    }
}

/// A text for SVG: what means something there is written otherwise, and what XML cannot hold is left out.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            '\u{fffe}' | '\u{ffff}' => {}
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// A figure with two decimals and no minus before nothing.
#[must_use]
pub fn figure(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// The weight of strong and of plain type.
pub(super) fn weight(is_strong: bool) -> u16 {
    if is_strong { 600 } else { 500 }
}

/// Points in a row as a path, closed or open.
pub fn path(points: impl IntoIterator<Item = [f64; 2]>, is_closed: bool) -> String {
    let mut text = String::new();
    for (index, [x, y]) in points.into_iter().enumerate() {
        text.push(if index == 0 { 'M' } else { 'L' });
        text += &format!("{} {}", figure(x), figure(y));
    }
    if is_closed {
        text.push('Z');
    }
    text
}

impl Svg {
    /// An element without content; `attributes` as they are to stand.
    pub fn element(&mut self, name: &str, attributes: &str) {
        // Writing to a text cannot fail.
        let _ = writeln!(self.body, "<{name} {attributes}/>");
    }

    /// The beginning of a group.
    pub fn open(&mut self, name: &str, attributes: &str) {
        let _ = writeln!(self.body, "<{name} {attributes}>");
    }

    /// Its end.
    pub fn close(&mut self, name: &str) {
        let _ = writeln!(self.body, "</{name}>");
    }

    /// What another holds, in front of all that is here.
    pub(super) fn append(&mut self, other: Self) {
        self.body += &other.body;
    }

    /// A rectangle.
    pub fn rect(&mut self, [x, y, width, height]: [f64; 4], style: &str) {
        let [x, y, width, height] = [x, y, width, height].map(figure);
        self.element("rect", &format!(r#"x="{x}" y="{y}" width="{width}" height="{height}" {style}"#));
    }

    /// A line.
    pub fn line(&mut self, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2], style: &str) {
        let [x1, y1, x2, y2] = [x1, y1, x2, y2].map(figure);
        self.element("line", &format!(r#"x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" {style}"#));
    }

    /// A path.
    pub fn path(&mut self, path: &str, style: &str) {
        self.element("path", &format!(r#"d="{path}" {style}"#));
    }

    /// A text at its base line.
    pub(super) fn text(&mut self, at: [f64; 2], text: &str, kind: Type<'_>) {
        self.turned_text(at, text, kind, "");
    }

    /// The same, read from below.
    pub(super) fn upright_text(&mut self, [x, y]: [f64; 2], text: &str, kind: Type<'_>) {
        let turn = format!(r#" transform="rotate(-90 {} {})""#, figure(x), figure(y));
        self.turned_text([x, y], text, kind, &turn);
    }

    /// A text with attributes as they are to stand; the words are escaped already.
    pub fn words(&mut self, attributes: &str, escaped: &str) {
        let _ = writeln!(self.body, "<text {attributes}>{escaped}</text>");
    }

    fn turned_text(&mut self, [x, y]: [f64; 2], text: &str, kind: Type<'_>, turn: &str) {
        let weight = weight(kind.is_strong);
        // Where the typeface is not at hand another takes as much room, and nothing runs out of its box.
        let length = drawn_width(text, kind.size, kind.is_strong)
            .map_or_else(String::new, |width| format!(r#" textLength="{}" lengthAdjust="spacing""#, figure(width)));
        let rim = kind.rim.map_or_else(String::new, |rim| {
            format!(r#" stroke="{rim}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke""#)
        });
        let _ = writeln!(
            self.body,
            r#"<text x="{}" y="{}" font-size="{}" font-weight="{weight}" fill="{}" text-anchor="{}"{length}{rim}{turn}>{}</text>"#,
            figure(x),
            figure(y),
            figure(kind.size),
            kind.fill,
            kind.anchor,
            escaped(text)
        );
    }

    /// The whole picture: its size in its own units, the width that it is to be shown with, and a title for readers of screens.
    #[must_use]
    pub fn finish(self, [width, height]: [f64; 2], shown: f64, title: &str) -> String {
        let [w, h, shown_w, shown_h] = [width, height, shown, (shown * height / width).round()].map(figure);
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{shown_w}\" height=\"{shown_h}\" viewBox=\"0 0 {w} {h}\" \
             font-family=\"{FONT}, sans-serif\" role=\"img\">\n<title>{}</title>\n{}</svg>\n",
            escaped(title),
            self.body
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_means_something_in_xml_is_escaped() {
        assert_eq!(escaped("A & <b> \"c\" 'd'\u{1b}"), "A &amp; &lt;b&gt; &quot;c&quot; &apos;d&apos; ");
    }

    #[test]
    fn figures_are_short() {
        for (value, text) in [(1.0, "1"), (1.254, "1.25"), (-0.001, "0"), (120.0, "120"), (0.5, "0.5")] {
            assert_eq!(figure(value), text);
        }
    }
}
