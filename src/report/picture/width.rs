//! How wide a text is in the program's own typeface, so that what is laid out is what is drawn.

use super::png::tree;
use super::svg::{Svg, escaped, weight};
use std::sync::OnceLock;
use ttf_parser::Face;

/// The typeface as files: plain and strong.
pub(super) const PLAIN: &[u8] = include_bytes!("../../../assets/fonts/Inter-Medium.otf");
/// See there.
pub(super) const STRONG: &[u8] = include_bytes!("../../../assets/fonts/Inter-SemiBold.otf");

/// Width of a character that the typeface does not hold, as a multiple of its size.
const UNKNOWN: f64 = 1.0;

fn face(is_strong: bool) -> Option<&'static Face<'static>> {
    static FACES: OnceLock<[Option<Face<'static>>; 2]> = OnceLock::new();
    FACES.get_or_init(|| [PLAIN, STRONG].map(|file| Face::parse(file, 0).ok()))[usize::from(is_strong)].as_ref()
}

/// Width of a text in its own weight, by the renderer's own shaping, so that letters told to take this width lie where they lay untold;
/// `None` where there is nothing to spread, or the typeface lacks a character and its width is another's.
pub(super) fn drawn_width(text: &str, size: f64, is_strong: bool) -> Option<f64> {
    let face = face(is_strong)?;
    if text.trim().chars().nth(1).is_none() || !text.chars().all(|character| face.glyph_index(character).is_some()) {
        return None;
    }
    let mut svg = Svg::default();
    svg.words(&format!(r#"font-size="{size}" font-weight="{}""#, weight(is_strong)), &escaped(text));
    let tree = tree(&svg.finish([1.0, 1.0], 1.0, "")).ok()?;
    Some(f64::from(tree.root().bounding_box().width()))
}

/// Width of a text in the strong type of a size, which is a little more than the plain one takes.
pub(super) fn text_width(text: &str, size: f64) -> f64 {
    let face = face(true);
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

    /// Told the width that it has anyhow, a text is drawn as if it were told none, in each weight; another width would show.
    #[test]
    fn a_told_width_moves_no_letter() {
        for text in ["AVATAR To We, Yes", "1.985 m³/h · 4.62 m", "A & <b> “Office alone”"] {
            for is_strong in [false, true] {
                let drawn = |told: &str| {
                    let mut svg = Svg::default();
                    let weight = weight(is_strong);
                    let place = format!(r#"x="10" y="40" font-size="20" font-weight="{weight}"{told}"#);
                    svg.words(&place, &escaped(text));
                    super::super::png::pixels(&svg.finish([400.0, 60.0], 400.0, "")).unwrap().rgba
                };
                let width = drawn_width(text, 20.0, is_strong).unwrap();
                let told = |width: f64| drawn(&format!(r#" textLength="{width:.2}" lengthAdjust="spacing""#));
                let unlike = |rgba: &[u8]| drawn("").iter().zip(rgba).map(|(a, b)| a.abs_diff(*b)).max();
                // The renderer counts quarters of a dot: what moves by a thousandth may take one of them more.
                assert!(unlike(&told(width)) < Some(80), "{text}");
                assert!(unlike(&told(1.05 * width)) > Some(160), "{text}");
            }
        }
        for text in ["", "P", " P ", "暖房"] {
            assert_eq!(drawn_width(text, 20.0, true), None, "{text}");
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
