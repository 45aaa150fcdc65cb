//! How wide a text is in the program's own typeface, so that what is laid out is what is drawn.

use std::sync::OnceLock;
use ttf_parser::Face;

/// The typeface as files: plain and strong.
pub(super) const PLAIN: &[u8] = include_bytes!("../../../assets/fonts/Inter-Medium.otf");
/// See there.
pub(super) const STRONG: &[u8] = include_bytes!("../../../assets/fonts/Inter-SemiBold.otf");

/// Width of a character that the typeface does not hold, as a multiple of its size.
const UNKNOWN: f64 = 1.0;

/// Width of a text in the strong type of a size, which is a little more than the plain one takes.
pub(super) fn text_width(text: &str, size: f64) -> f64 {
    static FACE: OnceLock<Option<Face<'static>>> = OnceLock::new();
    let face = FACE.get_or_init(|| Face::parse(STRONG, 0).ok()).as_ref();
    let advance = |character: char| {
        let face = face?;
        let glyph = face.glyph_index(character)?;
        Some(f64::from(face.glyph_hor_advance(glyph)?) / f64::from(face.units_per_em()))
    };
    size * text.chars().map(|character| advance(character).unwrap_or(UNKNOWN)).sum::<f64>()
}

/// A text of at most that width: shortened, with an ellipsis, where it is wider.
pub(super) fn fitted(text: &str, size: f64, most: f64) -> String {
    if text_width(text, size) <= most {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while kept.pop().is_some() {
        let shorter: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if text_width(&shorter, size) <= most {
            return shorter;
        }
    }
    String::new()
}

/// A text in lines of at most that width, broken between words; a longer word stands alone.
pub(super) fn broken(text: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let longer = lines.last().map(|line| format!("{line} {word}")).filter(|line| text_width(line, size) <= most);
        match (lines.last_mut(), longer) {
            (Some(last), Some(longer)) => *last = longer,
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the renderer, which shapes texts with a library of its own.
    #[test]
    fn texts_are_as_wide_as_they_are_drawn() {
        for text in ["Reading-room floor", "1.985 m³/h · 4.62 m", "WWW iii, 0123456789 %", "▼ All zones open → 38 °C"]
        {
            let mut svg = super::super::svg::Svg::default();
            let kind = super::super::svg::Type { is_strong: true, ..super::super::svg::Type::new(20.0, "#000") };
            svg.text([0.0, 40.0], text, kind);
            let tree = super::super::png::tree(&svg.finish([800.0, 80.0], 800.0, "")).unwrap();
            let drawn = f64::from(tree.root().bounding_box().width());
            let found = text_width(text, 20.0);
            assert!((found - drawn).abs() < 0.03 * found + 3.0, "{text}: {found} for {drawn}");
        }
    }

    #[test]
    fn what_is_too_wide_is_shortened_or_broken() {
        assert_eq!(fitted("Office", 14.0, 100.0), "Office");
        let short = fitted("Office radiators of the east wing", 14.0, 100.0);
        assert!(short.ends_with('…') && text_width(&short, 14.0) <= 100.0, "{short}");
        let lines = broken("Office radiators of the east wing", 14.0, 120.0);
        assert!(lines.len() > 1 && lines.iter().all(|line| text_width(line, 14.0) <= 120.0), "{lines:?}");
        assert_eq!(lines.join(" "), "Office radiators of the east wing");
    }
}
