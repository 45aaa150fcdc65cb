//! The map of settings as a picture: the served region, what is missed elsewhere, lines of equal energy, the present and the best settings.

use super::super::energy;
use super::super::map::{MapView, axis_names, held, held_name, looked_at, reason_words};
use super::Look;
use super::areas::{Area, COLUMNS, Kind, ROWS, areas};
use super::axes::{self, FRAME, place};
use super::colours::Colours;
use super::heading::{self, Heading, Words};
use super::labels::{Taken, within, wrapped};
use super::legend::{Legend, Sign};
use super::marks::{self, Mark, spot};
use super::svg::{Svg, Type, figure, path};
use super::width::text_width;
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};

/// Width and height in the picture's own units.
const SIZE: [f64; 2] = [1000.0, 680.0];
/// Size of labels in areas and on lines.
const LABEL: f64 = 13.0;
const CONTOUR: f64 = 12.0;
/// Shares of a contour line at which its label is tried.
const ALONG: [f64; 11] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.05, 0.95];

/// Draws a map; without a heading of its own no day stands above it.
#[must_use]
pub fn map_svg(view: &MapView<'_>, units: &Units, look: Look, heading: Option<&Heading<'_>>) -> String {
    let colours = Colours::new(look.dark);
    let mut svg = Svg::default();
    let plane = &view.map.plane;
    let areas = areas(view);
    let mut taken = Taken::default();
    svg.rect([0.0, 0.0, SIZE[0], SIZE[1]], &format!(r#"fill="{}""#, colours.ground));
    let title = above(&mut svg, view, units, heading, &colours);
    hatchings(&mut svg, &areas, &colours);
    let [left, top, right, bottom] = FRAME;
    let plot = [left, top, right - left, bottom - top];
    svg.rect(plot, &format!(r#"fill="{}""#, colours.sheet));
    svg.open("g", r##"clip-path="url(#plane)""##);
    for area in &areas {
        let d: String = area.edges.iter().map(|edge| path(edge.iter().map(|at| of_cells(*at)), true)).collect();
        let edge = stroke(area.kind, &colours);
        let fill = fill(area);
        svg.path(&d, &format!(r#"fill="{edge}" fill-opacity="0.10" fill-rule="evenodd""#));
        svg.path(&d, &format!(r#"fill="{fill}" fill-rule="evenodd" stroke="{edge}" stroke-width="1.5""#));
    }
    for outline in &view.map.region {
        let d = path(outline.iter().map(|at| place(plane, *at)), true);
        svg.path(&d, &format!(r#"fill="{}" stroke="none""#, colours.sheet));
        let style = format!(r#"fill="{0}" fill-opacity="0.45" stroke="{0}" stroke-width="2.5""#, colours.served);
        svg.path(&d, &style);
    }
    for contour in &view.map.contours {
        for line in &contour.lines {
            let d = path(line.iter().map(|at| place(plane, *at)), false);
            svg.path(&d, &format!(r#"fill="none" stroke="{}" stroke-width="1.4" stroke-opacity="0.75""#, colours.ink));
        }
    }
    svg.close("g");
    axes::draw(&mut svg, plane, units, &colours);
    let present = spot(plane, &view.present);
    // Seen from above it would lie among areas that hold for another plane.
    let elsewhere = is_elsewhere(view);
    let best = view.best.filter(|_| !elsewhere).and_then(|best| spot(plane, &best.settings));
    let spots: Vec<[f64; 2]> = present.into_iter().chain(best).collect();
    marks::reserve(&mut taken, &spots);
    if let Some(at) = present {
        marks::shape(&mut svg, Mark::Present, at, &colours);
    }
    if let Some(at) = best {
        marks::shape(&mut svg, Mark::Best, at, &colours);
    }
    let best_name = if view.is_best_served() { "Best" } else { "Starves none" };
    if let Some(at) = best {
        marks::name(&mut svg, best_name, at, &mut taken, &colours);
    }
    if let Some(at) = present {
        marks::name(&mut svg, "Present", at, &mut taken, &colours);
    }
    let numbers = name_areas(&mut svg, view, &areas, units, &mut taken, &colours);
    name_contours(&mut svg, view, units, &mut taken, &colours);
    legend(&mut svg, view, (&areas, &numbers), elsewhere, units, &colours);
    svg.finish(SIZE, f64::from(look.width), &title)
}

/// Whether the best settings hold something else than the plane does.
fn is_elsewhere(view: &MapView<'_>) -> bool {
    let plane = &view.map.plane;
    let on_plane = |settings: Regulation| plane.place(&settings).map(|at| plane.settings(at));
    view.best.is_some_and(|best| on_plane(best.settings) != Some(best.settings))
}

/// Project, circulator and what is held; gives back the title in one line.
fn above(svg: &mut Svg, view: &MapView<'_>, units: &Units, heading: Option<&Heading<'_>>, colours: &Colours) -> String {
    let plane = &view.map.plane;
    let [along, up] = axis_names(plane.axes);
    let words = Words {
        project: &view.project.title,
        what: &format!("{}: {up} over {along}, at {}", view.pump(), held(plane, units)),
        units: &format!("head in {}", units.symbol(Quantity::Head)),
        // A map is read off tables of many states and has no verdict of its own.
        stands: true,
    };
    let undated = Heading { title: "", date: "" };
    heading::draw(svg, Some(heading.unwrap_or(&undated)), &words, colours).1
}

/// From cells of the raster to the picture.
fn of_cells([column, row]: [f64; 2]) -> [f64; 2] {
    let [left, top, right, bottom] = FRAME;
    [left + column / COLUMNS as f64 * (right - left), bottom - row / ROWS as f64 * (bottom - top)]
}

fn stroke(kind: Kind, colours: &Colours) -> &'static str {
    match kind {
        Kind::Starves => colours.starved,
        Kind::Overflows => colours.overflowed,
        Kind::TooLoud => colours.loud,
    }
}

fn fill(area: &Area) -> String {
    format!("url(#{})", pattern_name(area))
}

fn pattern_name(area: &Area) -> String {
    let kind = match area.kind {
        Kind::Starves => "starves",
        Kind::Overflows => "overflows",
        Kind::TooLoud => "loud",
    };
    format!("{kind}-{}", area.order)
}

/// The hatchings: rising lines where a zone starves, falling ones where it overflows, points where something is too loud; each area of
/// a kind with another distance.
fn hatchings(svg: &mut Svg, areas: &[Area], colours: &Colours) {
    /// Distances of lines.
    const APART: [f64; 4] = [8.0, 14.0, 5.0, 20.0];
    svg.open("defs", "");
    let [left, top, ..] = FRAME.map(figure);
    let [width, height] = [FRAME[2] - FRAME[0], FRAME[3] - FRAME[1]].map(figure);
    svg.open("clipPath", r#"id="plane""#);
    svg.element("rect", &format!(r#"x="{left}" y="{top}" width="{width}" height="{height}""#));
    svg.close("clipPath");
    for area in areas {
        let apart = APART[area.order % APART.len()];
        let color = stroke(area.kind, colours);
        let turn = match area.kind {
            Kind::Starves => 45,
            Kind::Overflows => -45,
            Kind::TooLoud => 0,
        };
        let name = pattern_name(area);
        svg.open(
            "pattern",
            &format!(
                r#"id="{name}" width="{apart}" height="{apart}" patternUnits="userSpaceOnUse" patternTransform="rotate({turn})""#
            ),
        );
        if area.kind == Kind::TooLoud {
            let middle = 0.5 * apart;
            svg.element("circle", &format!(r#"cx="{middle}" cy="{middle}" r="1.5" fill="{color}""#));
        } else {
            svg.rect([0.0, 0.0, 1.2, apart], &format!(r#"fill="{color}" fill-opacity="0.6""#));
        }
        svg.close("pattern");
    }
    svg.close("defs");
}

/// Writes its words into each area, where they fit; else a number, which the legend explains. Gives the numbers back.
fn name_areas(
    svg: &mut Svg,
    view: &MapView<'_>,
    areas: &[Area],
    units: &Units,
    taken: &mut Taken,
    colours: &Colours,
) -> Vec<Option<usize>> {
    let cell = [(FRAME[2] - FRAME[0]) / COLUMNS as f64, (FRAME[3] - FRAME[1]) / ROWS as f64];
    let mut next = 1;
    let mut numbers = Vec::new();
    for area in areas {
        let words = reason_words(view, &area.reason, units);
        let number = next.to_string();
        let most = words.chars().count();
        let forms = [most, most.div_ceil(2) + 3, 14].map(|most| wrapped(&words, most));
        let forms = forms.into_iter().chain([vec![number.clone()]]);
        let kind =
            Type { anchor: "middle", is_strong: true, rim: Some(colours.sheet), ..Type::new(LABEL, colours.ink) };
        let found = forms.into_iter().find_map(|lines| {
            let width = lines.iter().map(|line| text_width(line, LABEL)).fold(0.0, f64::max) + 8.0;
            let height = 16.0 * lines.len() as f64 + 6.0;
            let space = |at: [f64; 2]| {
                let [x, y] = of_cells(at);
                [x - 0.5 * width, y - 0.5 * height, x + 0.5 * width, y + 0.5 * height]
            };
            let at = within(&area.cells, [width / cell[0], height / cell[1]], |at| taken.is_free(space(at)))?;
            Some((lines, space(at)))
        });
        // What finds no room at all stands in the legend alone.
        let is_number = found.as_ref().is_some_and(|(lines, _)| *lines == [number.clone()]);
        numbers.push(is_number.then_some(next));
        if is_number {
            next += 1;
        }
        let Some((lines, space)) = found else { continue };
        taken.take(space);
        for (index, line) in lines.iter().enumerate() {
            let at = [0.5 * (space[0] + space[2]), space[1] + 15.0 + 16.0 * index as f64];
            svg.text(at, line, kind);
        }
    }
    numbers
}

/// Writes its energy on each contour line.
fn name_contours(svg: &mut Svg, view: &MapView<'_>, units: &Units, taken: &mut Taken, colours: &Colours) {
    for contour in &view.map.contours {
        let text = match contour.energy_j {
            Some(joules) => energy::energy(units, joules),
            None => units.format(Quantity::Power, contour.mean_w),
        };
        let width = text_width(&text, CONTOUR) + 6.0;
        let space = |[x, y]: [f64; 2]| [x - 0.5 * width, y - 0.75 * CONTOUR, x + 0.5 * width, y + 0.75 * CONTOUR];
        let Some(line) = contour.lines.iter().max_by_key(|line| line.len()) else { continue };
        let spots = ALONG.iter().filter_map(|share| line.get((share * (line.len() - 1) as f64).round() as usize));
        let mut spots = spots.map(|at| place(&view.map.plane, *at));
        let fits = |at: &[f64; 2]| {
            let [a, b, c, d] = space(*at);
            a >= FRAME[0] + 2.0 && b >= FRAME[1] && c <= FRAME[2] - 2.0 && d <= FRAME[3] && taken.is_free([a, b, c, d])
        };
        let Some(at) = spots.find(fits) else { continue };
        let [a, b, c, d] = space(at);
        taken.take([a, b, c, d]);
        svg.rect([a, b, c - a, d - b], &format!(r#"rx="3" fill="{}" fill-opacity="0.8""#, colours.sheet));
        let kind = Type { anchor: "middle", ..Type::new(CONTOUR, colours.ink) };
        svg.text([at[0], at[1] + 0.36 * CONTOUR], &text, kind);
    }
}

fn legend(
    svg: &mut Svg,
    view: &MapView<'_>,
    (areas, numbers): (&[Area], &[Option<usize>]),
    elsewhere: bool,
    units: &Units,
    colours: &Colours,
) {
    let mut legend = Legend::new(FRAME[1]);
    legend.heading(svg, "Settings", colours);
    let short = |settings: &Regulation| super::super::beside::settings_words(settings, units);
    let present = format!("Present: {}", short(&view.present));
    legend.row(svg, &Sign::Mark(Mark::Present), &present, colours);
    if let Some(best) = &view.best {
        let what = if view.is_best_served() { "Best" } else { "Starves none, with least energy" };
        let (sign, drawn) = match elsewhere {
            true => {
                let held = held_name(view.map.plane.axes);
                (Sign::Nothing, format!("; not drawn, for it is not at the {held} of this plane"))
            }
            false => (Sign::Mark(Mark::Best), String::new()),
        };
        let text = format!("{what}: {}; {}{drawn}", short(&best.settings), view.energy(best.mean_w, units));
        legend.row(svg, &sign, &text, colours);
    }
    legend.gap();
    legend.heading(svg, "What happens first", colours);
    if view.map.region.is_empty() {
        let none = if view.is_best_served() {
            "No setting of this plane serves every zone"
        } else {
            "No setting serves every zone"
        };
        legend.row(svg, &Sign::Swatch("none".to_owned(), colours.rule), none, colours);
    } else {
        let sign = Sign::Swatch(format!(r#"{}" fill-opacity="0.45"#, colours.served), colours.served);
        legend.row(svg, &sign, &format!("Every zone keeps its band in {}", looked_at(view)), colours);
    }
    for (area, number) in areas.iter().zip(numbers) {
        let words = reason_words(view, &area.reason, units);
        let words = number.map_or(words.clone(), |number| format!("{number}: {words}"));
        legend.row(svg, &Sign::Swatch(fill(area), stroke(area.kind, colours)), &words, colours);
    }
    legend.gap();
    let lines = match view.part_load.has_hours() {
        true => "Equal electric energy in the scenarios’ hours of a year, all circulators",
        false => "Equal electric power on the mean of the scenarios, all circulators",
    };
    legend.row(svg, &Sign::Line, lines, colours);
    legend.finish(svg, colours);
}
