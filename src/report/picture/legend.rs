//! The legend: beside the plane, what each hatching, line and mark stands for, in whole words.

use super::colours::Colours;
use super::labels::wrapped;
use super::marks::{self, Mark};
use super::svg::{Svg, Type};

/// Left edge, and the lowest line.
const LEFT: f64 = 690.0;
const LOWEST: f64 = 640.0;
/// Where texts begin, and how many characters a line holds.
const TEXT: f64 = LEFT + 38.0;
const MOST: usize = 33;
/// Size of texts and distance of lines.
const SIZE: f64 = 13.0;
const LINE: f64 = 17.0;

/// What stands before a text.
pub(super) enum Sign<'a> {
    /// A piece of an area: its fill and its stroke.
    Swatch(String, &'a str),
    /// A line.
    Line,
    /// A mark.
    Mark(Mark),
    /// What the picture does not show.
    Nothing,
}

/// A legend that is being written.
pub(super) struct Legend {
    y: f64,
    left_out: usize,
}

impl Legend {
    pub(super) fn new(top: f64) -> Self {
        Self { y: top, left_out: 0 }
    }

    /// A heading.
    pub(super) fn heading(&mut self, svg: &mut Svg, text: &str, colours: &Colours) {
        if self.y + 2.0 * LINE > LOWEST {
            return;
        }
        svg.text([LEFT, self.y + 0.8 * SIZE], text, Type { is_strong: true, ..Type::new(SIZE, colours.quiet) });
        self.y += LINE + 5.0;
    }

    /// A row; where there is no room left it is counted only.
    pub(super) fn row(&mut self, svg: &mut Svg, sign: &Sign<'_>, text: &str, colours: &Colours) {
        let lines = wrapped(text, MOST);
        if self.y + (lines.len() + 1) as f64 * LINE > LOWEST {
            self.left_out += 1;
            return;
        }
        let middle = self.y + 0.5 * LINE - 1.0;
        match sign {
            Sign::Swatch(fill, stroke) => {
                let place = [LEFT, self.y - 1.0, 28.0, 16.0];
                svg.rect(place, &format!(r#"fill="{}""#, colours.sheet));
                svg.rect(place, &format!(r#"fill="{fill}" stroke="{stroke}""#));
            }
            Sign::Line => {
                let style = format!(r#"stroke="{}" stroke-width="1.4""#, colours.ink);
                svg.line([LEFT, middle], [LEFT + 28.0, middle], &style);
            }
            Sign::Nothing => {}
            Sign::Mark(mark) => marks::shape(svg, *mark, [LEFT + 14.0, middle], colours),
        }
        for line in &lines {
            svg.text([TEXT, self.y + 0.86 * SIZE], line, Type::new(SIZE, colours.ink));
            self.y += LINE;
        }
        self.y += 6.0;
    }

    /// Space between groups.
    pub(super) fn gap(&mut self) {
        self.y += 8.0;
    }

    /// Says how many rows found no room.
    pub(super) fn finish(&self, svg: &mut Svg, colours: &Colours) {
        if self.left_out > 0 {
            let text = format!("and {} more", self.left_out);
            svg.text([TEXT, self.y + 0.86 * SIZE], &text, Type::new(SIZE, colours.quiet));
        }
    }
}
