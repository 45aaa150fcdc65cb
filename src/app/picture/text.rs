//! Texts of the toolkit as SVG: every run of letters of one colour and one type stands where the toolkit laid it, as text that can be
//! selected and read aloud.

use super::shapes::{Written, paint, turned};
use crate::report::picture::{escaped, figure};
use egui::epaint::{TextShape, text::Glyph, text::PlacedRow};
use egui::text::LayoutSection;
use egui::{Color32, FontFamily, Pos2, vec2};

/// Letters of one colour and type in a row.
struct Run {
    letters: String,
    from: Pos2,
    /// Where its last letter that is no blank ends.
    to: f32,
    color: Color32,
    size: f32,
    is_strong: bool,
}

/// Writes a text.
pub(super) fn write(written: &mut Written, shape: &TextShape) {
    let turn = turned(shape.angle, shape.pos);
    let galley = &shape.galley;
    // The sections count bytes of the whole text; rows hold its letters one after the other, line breaks left out.
    let mut places = galley.job.text.char_indices();
    for row in &galley.rows {
        grounds(written, shape, row, &turn);
        let mut runs: Vec<Run> = Vec::new();
        for glyph in &row.row.glyphs {
            let place = places.next().map_or(galley.job.text.len(), |(place, _)| place);
            let sections = &galley.job.sections;
            let section = sections.iter().find(|section| place < section.byte_range.end.into()).or(sections.last());
            let Some(section) = section else { continue };
            add(&mut runs, glyph, section, color_of(shape, row, glyph, section), shape.pos + row.pos.to_vec2());
        }
        if row.ends_with_newline {
            places.next();
        }
        for run in runs.iter().filter(|run| !run.letters.trim().is_empty()) {
            write_run(written, run, &turn);
        }
    }
}

fn add(runs: &mut Vec<Run>, glyph: &Glyph, section: &LayoutSection, color: Color32, origin: Pos2) {
    let from = origin + vec2(glyph.pos.x, glyph.pos.y);
    let size = section.format.font_id.size;
    let is_strong = matches!(section.format.font_id.family, FontFamily::Name(_));
    let is_blank = glyph.chr.is_whitespace();
    let same = |run: &&mut Run| {
        (is_blank || run.color == color) && run.size == size && run.is_strong == is_strong && run.from.y == from.y
    };
    match runs.last_mut().filter(same) {
        Some(run) => {
            run.letters.push(glyph.chr);
            if !is_blank {
                run.to = from.x + glyph.advance_width;
            }
        }
        None => {
            let (letters, to) = (glyph.chr.to_string(), from.x + glyph.advance_width);
            runs.push(Run { letters, from, to, color, size, is_strong });
        }
    }
}

/// The colour that a letter is painted in.
fn color_of(shape: &TextShape, row: &PlacedRow, glyph: &Glyph, section: &LayoutSection) -> Color32 {
    let visuals = &row.row.visuals;
    let own = visuals.mesh.vertices.get(glyph.first_vertex as usize).map(|vertex| vertex.color);
    let color = shape.override_text_color.or(own).unwrap_or(section.format.color);
    replaced(shape, color)
}

fn replaced(shape: &TextShape, color: Color32) -> Color32 {
    let color = if color == Color32::PLACEHOLDER { shape.fallback_color } else { color };
    if shape.opacity_factor < 1.0 { color.gamma_multiply(shape.opacity_factor) } else { color }
}

/// What lies behind letters or strikes them through.
fn grounds(written: &mut Written, shape: &TextShape, row: &PlacedRow, turn: &str) {
    let visuals = &row.row.visuals;
    let is_other = |vertex: usize| !visuals.glyph_vertex_range.contains(&vertex);
    written.triangles(&visuals.mesh, is_other, shape.pos + row.pos.to_vec2(), turn);
}

fn write_run(written: &mut Written, run: &Run, turn: &str) {
    let [x, y, size] = [run.from.x, run.from.y, run.size].map(|value| figure(f64::from(value)));
    let weight = if run.is_strong { 600 } else { 500 };
    let letters = run.letters.trim_end();
    // The width that the toolkit gave it holds in every reader, whatever typeface that has.
    let length = if letters.chars().count() > 1 {
        format!(r#" textLength="{}""#, figure(f64::from(run.to - run.from.x)))
    } else {
        String::new()
    };
    let attributes = format!(
        r#"x="{x}" y="{y}" font-size="{size}" font-weight="{weight}" {}{length}{turn}"#,
        paint("fill", run.color)
    );
    written.svg.words(&attributes, &escaped(letters));
}
