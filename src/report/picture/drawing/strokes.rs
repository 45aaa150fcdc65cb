//! Writes the symbols' strokes.

use super::super::room::Room;
use super::super::svg::{Svg, Type, figure, path};
use super::super::symbols::{self, Fill, Part, Pen};
use super::Sheet;
use crate::document::{Component, ComponentKind};

/// Draws all symbols; names keep off them.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room) {
    let project = sheet.view.project;
    let width = (sheet.scale.step * 0.1).clamp(0.8, 2.2);
    svg.open(
        "g",
        &format!(r#"fill="none" stroke="{}" stroke-width="{width:.2}" stroke-linejoin="round""#, sheet.colours.ink),
    );
    for component in project.components.values() {
        symbol(svg, sheet, component, width);
        if component.kind != ComponentKind::Junction {
            let ([x, y], [w, h]) = (component.at, symbols::half_size(component));
            room.take(sheet.scale.stretch([x - w, y - h, x + w, y + h]));
        }
    }
    svg.close("g");
    let several = project.pumps().count() > 1;
    if let Some(component) = sheet.view.pump.and_then(|id| project.components.get(&id)).filter(|_| several) {
        let [x, y] = sheet.scale.at(component.at).map(figure);
        let radius = figure(1.2 * sheet.scale.step);
        let style = format!(r#"fill="none" stroke="{}" stroke-width="2.5""#, sheet.colours.present);
        svg.element("circle", &format!(r#"cx="{x}" cy="{y}" r="{radius}" {style}"#));
    }
}

/// Draws one symbol.
pub(super) fn symbol(svg: &mut Svg, sheet: &Sheet<'_>, component: &Component, width: f64) {
    let colours = &sheet.colours;
    let at = |[x, y]: [f64; 2]| sheet.scale.at([component.at[0] + x, component.at[1] + y]);
    let all = |points: &[[f64; 2]]| points.iter().map(|point| at(*point)).collect::<Vec<_>>();
    let fill = |fill: Fill| match fill {
        Fill::Sheet => colours.sheet,
        Fill::Ink => colours.ink,
        Fill::Standing => colours.off,
    };
    for part in symbols::symbol(component, sheet.view.project.design.duty) {
        match part {
            Part::Line(points, pen) => {
                let strong = figure(symbols::STRONGER * width);
                let style = match pen {
                    Pen::Ink => String::new(),
                    Pen::Warm => format!(r#"stroke="{}" stroke-width="{strong}""#, colours.warm),
                    Pen::Cold => format!(r#"stroke="{}" stroke-width="{strong}""#, colours.cold),
                };
                svg.path(&path(all(&points), false), &style);
            }
            Part::Shape(points, filled) => {
                svg.path(&path(all(&points), true), &format!(r#"fill="{}""#, fill(filled)));
            }
            Part::Circle(centre, radius, filled) => {
                let ([x, y], radius) = (at(centre).map(figure), figure(radius * sheet.scale.step));
                svg.element("circle", &format!(r#"cx="{x}" cy="{y}" r="{radius}" fill="{}""#, fill(filled)));
            }
            Part::Letter(centre, letter) => {
                let size = symbols::LETTER * sheet.scale.step;
                let [x, y] = at(centre);
                let kind = Type { anchor: "middle", is_strong: true, ..Type::new(size, colours.ink) };
                svg.open("g", r#"stroke="none""#);
                svg.text([x, y + 0.36 * size], letter, kind);
                svg.close("g");
            }
            Part::Point => {
                let [x, y] = at([0.0, 0.0]).map(figure);
                let radius = figure((symbols::POINT * sheet.scale.step).max(1.2));
                svg.element(
                    "circle",
                    &format!(r#"cx="{x}" cy="{y}" r="{radius}" fill="{}" stroke="none""#, colours.ink),
                );
            }
        }
    }
}
